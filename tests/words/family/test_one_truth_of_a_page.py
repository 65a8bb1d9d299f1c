"""Whatever the numbers and whatever was changed, no sentence of a page contradicts counts or screens."""

import re

from hypothesis import given, settings
from hypothesis import strategies as st
from random_sheets import edits, pages
from sample_sheets import SKILLS

from evaltrack.analysis.standings.standing import Call, Trend
from evaltrack.rink.family_note import NoteEdits
from evaltrack.rink.first_name import first_name
from evaltrack.words import wording
from evaltrack.words.family.choice import MOST_NEXT, MOST_STRENGTHS
from evaltrack.words.family.counts import day_words
from evaltrack.words.family.drafting import choices, draft_sheet, refusals
from evaltrack.words.family.skill_words import NOT_YET_SOLID
from evaltrack.words.reading_grade import HARD, reading_grade

_UP, _DOWN = (re.compile(rf"\b(going|gone|went|goes) {way}\b") for way in ("up", "down"))
_NO_CHILDS_PAGE = re.compile(
    r"\b(he|him|his|she|hers?|they|them|their|rank\w*|average|best|worst|better|worse|strong\w*|weak\w*|"
    r"poor\w*|only|fail\w*|behind|below|lazy|"
    r"talent\w*|natural|never|other players?|the others|team-?mates?|body|health|"
    r"ill|sick|hurt|fit|tall|small|character|attitude|effort|missed|absent|attend\w*|%|percent)\b"
)


def _skill_sentences(sheet):
    return [one for part in sheet.parts[1:3] for one in part.sentences if one.skill and not one.own]


def _ours(text, skill=None):
    """Return a text without what comes from the catalogue."""
    for words in (skill.looks_like, skill.name) if skill else ():
        text = text.replace(words, "")
    return text


@given(pages(), edits())
def test_nothing_is_said_against_a_call(page, changed):
    """Work on is never praised, solid is no next step, and of what has no call nothing is said at all."""
    ground, player, standings = page
    sheet, own = draft_sheet(ground, player, standings, changed), {s.skill: s for s in standings}
    strengths, steps = ([one.skill for one in part.sentences if one.skill] for part in sheet.parts[1:3])
    assert all(wording.is_firm(own[key]) for key in strengths + steps)
    assert not any(own[key].call is Call.WORK_ON for key in strengths)
    assert not any(own[key].call is Call.SOLID for key in steps)
    assert len(strengths) <= MOST_STRENGTHS
    assert len(steps) <= MOST_NEXT
    assert len(set(strengths + steps)) == len(strengths + steps)
    assert {one.skill for one in sheet.part("at_home").sentences} <= set(steps)


@given(pages(), edits())
def test_the_words_of_a_call_and_of_a_trend_stand_only_with_them(page, changed):
    """Solid, likely, up and down: in each sentence, in each row, just where the screens have them."""
    ground, player, standings = page
    sheet, own = draft_sheet(ground, player, standings, changed), {s.skill: s for s in standings}
    for one in _skill_sentences(sheet):
        known, text = own[one.skill], _ours(one.text, SKILLS[one.skill])
        assert ("solid" in text.replace(NOT_YET_SOLID, "")) == (known.call is Call.SOLID)
        assert (NOT_YET_SOLID in text) <= (known.call is Call.IN_BETWEEN)
        assert ("likely" in text) <= (known.call in (Call.SOLID, Call.WORK_ON))
        assert bool(_UP.search(text)) == (known.trend is Trend.UP)
        assert bool(_DOWN.search(text)) <= (known.trend is Trend.DOWN)
        if known.trend is Trend.DOWN and known.call is not Call.WORK_ON:
            assert _DOWN.search(text)
    rows = [s for s in standings if s.call is not Call.TOO_FEW]
    for row, known in zip(sheet.rows, rows, strict=True):
        assert (row.name, row.count) == (SKILLS[known.skill].name, f"{known.done} of {known.tries}")
        on_screens = wording.direction_words(known)
        assert row.direction == on_screens.replace("no clear change yet", "direction not clear yet")
        assert row.level.startswith("solid") == (known.call is Call.SOLID)
        assert bool(_UP.search(row.chart_words)) == (known.trend is Trend.UP)
        assert bool(_DOWN.search(row.chart_words)) == (known.trend is Trend.DOWN)
        assert row.drawn <= wording.is_firm(known)
    assert ("Solid means" in sheet.how_to_read) == any(s.call is Call.SOLID for s in standings)
    assert ("“Maybe”" in sheet.how_to_read) == any("maybe" in row.level for row in sheet.rows)


@given(pages(), edits())
def test_every_number_is_the_standings(page, changed):
    """Counts, tenths and days in a sentence are those of its own skill, whole and in their order."""
    ground, player, standings = page
    sheet, own = draft_sheet(ground, player, standings, changed), {s.skill: s for s in standings}
    for one in _skill_sentences(sheet):
        known, text = own[one.skill], _ours(one.text, SKILLS[one.skill])
        days = {day_words(point.on) for point in known.path}
        for day in re.findall(r"\d+ [A-Z]\w+", text):
            assert day in days
            text = text.replace(day, "")
        for tenths in re.findall(r"(\d+) in 10\b", text):
            assert abs(int(tenths) / 10 - known.done / known.tries) <= 0.05 + 1e-9 or "than" in text
            text = text.replace(f"{tenths} in 10", "")
        told = {
            "count": f"{known.done} of {known.tries} tries",
            "none": f"not worked yet in {known.tries} tries",
        }
        assert told["none" if known.done == 0 else "count"] in text
        text = text.replace(told["count"], "").replace(told["none"], "")
        assert not re.search(r"\d", text)


@given(pages())
def test_what_was_written_down_is_all_that_was(page):
    """Tries and skills of the first sentence are the sums of the standings."""
    ground, player, standings = page
    text = draft_sheet(ground, player, standings).part("seen").sentences[-1].text
    tries = wording.counted(sum(s.tries for s in standings), "try", "tries")
    skills = wording.counted(len(standings), "skill")
    name = first_name(player.name)
    if standings:
        assert text.startswith(f"The coaches wrote down {tries} for {name}, in {skills}.")
    else:
        assert text == f"The coaches have not written down any tries for {name} yet."


@given(pages())
def test_of_too_few_tries_it_is_said_how_many_and_never_how_many_came_off(page):
    """Two of three reads like a share; so only what was watched is told, and what is waited for."""
    ground, player, standings = page
    sheet = draft_sheet(ground, player, standings)
    few = [s for s in standings if s.call is Call.TOO_FEW]
    assert bool(sheet.thin) == bool(few)
    for known in few:
        tries = wording.counted(known.tries, "try", "tries")
        practices = wording.counted(known.practices, "practice")
        assert f"{SKILLS[known.skill].name}, {tries} seen at {practices}." in sheet.thin
    assert not re.search(r"\d+ of \d+|in 10", sheet.thin)


@given(pages(), edits())
def test_our_own_words_name_no_rank_no_other_and_nothing_of_the_child_itself(page, changed):
    """Nor do they use a pronoun, blame an absence, or say what a count must not be taken for."""
    ground, player, standings = page
    sheet = draft_sheet(ground, player, standings, changed)
    for part in sheet.parts[:3]:
        for one in part.sentences:
            if not one.own:
                text = _ours(one.text, SKILLS.get(one.skill))
                assert not _NO_CHILDS_PAGE.search(text.casefold()), text
    for row in sheet.rows:
        assert not _NO_CHILDS_PAGE.search(
            _ours(row.chart_words.casefold(), None).replace(row.name.casefold(), "")
        )


@settings(deadline=None)  # the first grade loads a dictionary
@given(pages(), edits())
def test_every_sentence_of_ours_reads_in_grade_8_or_lower(page, changed):
    """Each alone, with the names of the skills and the words of the shipped catalogue in it."""
    ground, player, standings = page
    sheet = draft_sheet(ground, player, standings, changed)
    texts = [one.text for part in sheet.parts for one in part.sentences if not one.own]
    texts += [row.chart_words for row in sheet.rows] + [sheet.how_to_read, sheet.thin, *sheet.footers]
    assert [text for text in texts if reading_grade(text) > HARD] == []


@given(pages(), edits())
def test_every_sentence_has_a_key_of_its_own_and_something_to_say(page, changed):
    """The key is what the coach's words are kept by."""
    ground, player, standings = page
    sheet = draft_sheet(ground, player, standings, changed)
    keys = [one.key for part in sheet.parts for one in part.sentences]
    assert len(set(keys)) == len(keys)
    assert all(one.text.strip() and one.text.startswith(one.lead) for p in sheet.parts for one in p.sentences)
    assert all(
        key.startswith(f"{part.key}.") for part in sheet.parts for key in (s.key for s in part.sentences)
    )
    assert sheet == draft_sheet(ground, player, standings, changed)


@given(pages(), edits())
def test_a_pick_is_on_the_page_or_refused_with_a_sentence(page, changed):
    """Nothing that the coach picked goes in silence, and what may be kept is just what the page shows."""
    ground, player, standings = page
    sheet, told = (
        draft_sheet(ground, player, standings, changed),
        refusals(ground, player, standings, changed),
    )
    strengths, steps = (
        [one.key.split(".", 1)[1] for one in _drafted(ground, player, standings, changed, part) if one.skill]
        for part in ("going_well", "next")
    )
    if not told:
        assert changed.strengths is None or strengths == list(dict.fromkeys(changed.strengths))
        assert changed.next_skills is None or steps == list(dict.fromkeys(changed.next_skills))
    for picks, shown in ((changed.strengths, strengths), (changed.next_skills, steps)):
        for key in set(picks or ()) - set(shown):
            name = SKILLS[key].name if key in SKILLS else key
            assert any(name in sentence or "room for" in sentence for sentence in told)
    assert set(told) <= set(sheet.doubts)


def _drafted(ground, player, standings, changed, part):
    """Return the sentences of a part where no own words take their place."""
    plain = NoteEdits(strengths=changed.strengths, next_skills=changed.next_skills)
    return draft_sheet(ground, player, standings, plain).part(part).sentences


@given(pages(), st.data())
def test_what_is_offered_is_what_may_be_picked(page, data):
    """Each skill offered is accepted and reads on the page as in the list; every other one is refused."""
    ground, player, standings = page
    offered = choices(ground, player, standings)
    for skills, part, field in (
        (offered.strengths, "going_well", "strengths"),
        (offered.next_skills, "next", "next_skills"),
    ):
        keys = {one.skill: one for one in skills}
        for standing in standings:
            pick = NoteEdits(**{field: (standing.skill,)})
            assert bool(refusals(ground, player, standings, pick)) == (standing.skill not in keys)
            if standing.skill in keys:
                (said,) = draft_sheet(ground, player, standings, pick).part(part).sentences
                assert (said.text, said.lead) == (keys[standing.skill].text, keys[standing.skill].name)
        drafted = [
            one.skill for one in draft_sheet(ground, player, standings).part(part).sentences if one.skill
        ]
        assert sorted(drafted) == sorted(one.skill for one in skills if one.drafted)
