"""A family's page in French says what the English one says, in plain words, with no English left in it.

Cases, over random standings and edits: no sentence and no name of ours is left in English; calls, trends and
counts are those of the screens; at most two next steps; no word about rank, others or the child's person, and
none that would have to agree with a girl or a boy; every sentence is easy by the formula of Kandel and Moles;
the coach's words stay as they were typed, and what only the coach is told stays in the coach's language.
"""

import re
from contextlib import contextmanager
from dataclasses import replace

from hypothesis import given
from random_sheets import edits, pages
from sample_sheets import SAMPLES, SKILLS, counted, ground_of

from evaltrack import language
from evaltrack.analysis.standings.standing import Call, Trend
from evaltrack.founding.built_in import skill_in_words
from evaltrack.language import Language, speaking
from evaltrack.paper.note.as_text import text_of
from evaltrack.rink.family_note import NoteEdits
from evaltrack.rink.first_name import first_name
from evaltrack.rink.player import Player, Position
from evaltrack.words import wording
from evaltrack.words.family.choice import MOST_NEXT, MOST_STRENGTHS
from evaltrack.words.family.drafting import NAME_A_STRENGTH, draft_sheet
from evaltrack.words.reading_ease import HARD_EASE, reading_ease

FRENCH = Language.FRENCH_CANADA
with speaking(FRENCH):
    NAMED = {key: skill_in_words(skill) for key, skill in SKILLS.items()}
_NO_CHILDS_PAGE = re.compile(
    r"\b(il|elle|ils|elles|lui|leur|rang|moyenne|meilleur\w*|pire|mieux que|fort|forte|faible\w*|seulement|"
    r"échec|échoue\w*|derrière les|paresseu\w*|talent\w*|jamais|coéquipi\w*|autres joueurs?|corps|santé|"
    r"malade|"
    r"blessé\w*|grand|petite?|caractère|attitude|effort|raté\w*|absen\w*|manqué\w*|%|pour cent|"
    r"prêt|prête|venu|venue|arrivée?|présente?)\b"
)


def french(page, changed=None):
    """Return a page in French."""
    ground, player, standings = page
    return draft_sheet(ground, player, standings, replace(changed or NoteEdits(), language=str(FRENCH)))


def texts_of(sheet):
    """Return every text of ours on a page."""
    yield from (one.text for part in sheet.parts for one in part.sentences if not one.own)
    yield from (part.heading for part in sheet.parts)
    for row in sheet.rows:
        yield from (row.name, row.looks_like, row.count, row.share, row.direction, row.level, row.chart_words)
    yield from (sheet.how_to_read, sheet.thin, sheet.position, *sheet.footers)


class Bracketed:
    """A catalogue that puts every sentence which was looked up into brackets."""

    def gettext(self, message):
        """Return the sentence in brackets."""
        return f"⟦{message}⟧"

    def ngettext(self, one, many, number):
        """Return the form in brackets."""
        return f"⟦{one if number == 1 else many}⟧"


@contextmanager
def bracketed():
    """Have French be what was looked up, in brackets."""
    before = language.catalogues[FRENCH]
    language.catalogues[FRENCH] = Bracketed()
    try:
        yield
    finally:
        language.catalogues[FRENCH] = before


def outside(text):
    """Return what of a text stands in no bracket."""
    while "⟦" in text:
        shorter = re.sub(r"⟦[^⟦⟧]*⟧", "", text)
        if shorter == text:
            break
        text = shorter
    return text


@given(pages(), edits())
def test_nothing_on_a_page_is_left_in_english(page, changed):
    """Every word of ours was looked up, also those around the sentences."""
    _, player, _ = page
    with bracketed():
        sheet = french(page, replace(changed, words={}, agreed=()))
        left = outside(text_of(sheet))
    assert not [text for text in texts_of(sheet) if re.search(r"[^\W\d_]", outside(text))]
    for own in (player.name, first_name(player.name), sheet.team, "One.", "Two"):
        left = left.replace(own, "")
    assert re.findall(r"[^\W\d_]+", left) == []


@given(pages(), edits())
def test_nothing_is_said_against_a_call_or_a_trend(page, changed):
    """Solide, probablement, hausse and baisse stand in a sentence just where the screens have them."""
    own, sheet = {s.skill: s for s in page[2]}, french(page, changed)
    strengths, steps = ([one for one in part.sentences if one.skill] for part in sheet.parts[1:3])
    assert len(strengths) <= MOST_STRENGTHS
    assert len(steps) <= MOST_NEXT
    for one in (*strengths, *steps):
        known = own[one.skill]
        assert wording.is_firm(known)
        assert known.call is not (Call.WORK_ON if one in strengths else Call.SOLID)
        if not one.own:
            text = one.text.replace(NAMED[one.skill].looks_like, "").replace(NAMED[one.skill].name, "")
            solid = "solide" in text.replace("pour dire solide", "")
            assert solid == (known.call is Call.SOLID)
            assert ("probablement" in text) <= (known.call in (Call.SOLID, Call.WORK_ON))
            assert ("en hausse" in text) == (known.trend is Trend.UP)
            assert ("en baisse" in text) <= (known.trend is Trend.DOWN)


@given(pages(), edits())
def test_counts_and_denominators_are_those_of_the_english_page(page, changed):
    """The same sentences by key, and the same figures in each, in whatever order."""
    ground, player, standings = page
    sheet, english = french(page, changed), draft_sheet(ground, player, standings, changed)
    keys = [[one.key for one in part.sentences] for part in sheet.parts]
    assert keys == [[one.key for one in part.sentences] for part in english.parts]
    assert [row.seen for row in sheet.rows] == [row.seen for row in english.rows]
    for one, other in zip(sheet.rows, english.rows, strict=True):
        for name in ("count", "share", "level", "direction"):
            assert _figures(getattr(one, name)) == _figures(getattr(other, name))
    for part, other in zip(sheet.parts[1:3], english.parts[1:3], strict=True):
        for ours, theirs in zip(part.sentences, other.sentences, strict=True):
            if ours.skill and not ours.own:
                assert _figures(ours.text.replace("1er", "1")) == _figures(theirs.text)
    assert not re.search(r"\d+ (?:essais? )?sur \d+", sheet.thin)


def _figures(text):
    return sorted(re.findall(r"\d+", text))


@given(pages(), edits())
def test_our_own_words_name_no_rank_no_other_and_agree_with_nobody(page, changed):
    """No pronoun stands for the child, and no adjective or participle that a girl's page would need in e."""
    for part in french(page, changed).parts[:3]:
        for one in part.sentences:
            if not one.own:
                text = one.text
                for ours in (NAMED[one.skill].looks_like, NAMED[one.skill].name) if one.skill else ():
                    text = text.replace(ours, "")
                assert not _NO_CHILDS_PAGE.search(text.casefold()), text


@given(pages(), edits())
def test_every_sentence_of_ours_is_easy_french(page, changed):
    """Each alone, with the names and words of the shipped skills in it."""
    sheet = french(page, changed)
    texts = [one.text for part in sheet.parts for one in part.sentences if not one.own]
    texts += [row.chart_words for row in sheet.rows] + [sheet.how_to_read, sheet.thin, *sheet.footers]
    hard = {text: round(reading_ease(text)) for text in texts if reading_ease(text) < HARD_EASE}
    assert hard == {}


@given(pages(), edits())
def test_the_coachs_words_stay_and_what_the_coach_is_told_is_in_the_coachs_language(page, changed):
    """Only what a family reads is in the family's language."""
    ground, player, standings = page
    sheet, english = french(page, changed), draft_sheet(ground, player, standings, changed)
    for part, other in zip(sheet.parts, english.parts, strict=True):
        own = [(one.key, one.text) for one in part.sentences if one.own and part.key != "agreed"]
        assert own == [(one.key, one.text) for one in other.sentences if one.own and part.key != "agreed"]
    assert sheet.doubts == english.doubts
    assert sheet.language == "fr-CA"
    with speaking(FRENCH):
        assert draft_sheet(ground, player, standings, changed).parts == english.parts


def test_a_french_coach_is_told_in_french():
    """Of an English page, too."""
    assert SAMPLES["too_few_everywhere"]().doubts == (NAME_A_STRENGTH,)
    with speaking(FRENCH):
        (doubt,) = SAMPLES["too_few_everywhere"]().doubts
    assert doubt.startswith("La page ne nomme rien qui va bien")


def test_a_renamed_skill_stays_as_the_coach_wrote_it():
    """The shipped ones beside it are in French."""
    player = Player("7", "Zoë Łukasik", Position.DEFENCE)
    ground = ground_of(player)
    skills = dict(ground.skills) | {"stop": replace(SKILLS["stop"], name="Our stop", looks_like="a stop")}
    ground = replace(ground, skills=skills)
    sheet = french((ground, player, [counted("stop", 20, 30), counted("start", 20, 30)]))
    assert [row.name for row in sheet.rows] == ["Our stop", "Départ"]
    assert sheet.rows[0].looks_like == "a stop"
