"""The page of one family, as plain data: what is drafted, what the coach changes, what the coach is told."""

from dataclasses import replace
from datetime import date

import pytest
from sample_sheets import DAYS, SAMPLES, SKILLS, counted, ground_of

from evaltrack.analysis.standings.standing import Call, Cause, Met, Reason, Trend
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.player import Player, Position, Status
from evaltrack.words.family import page_words
from evaltrack.words.family.drafting import NAME_A_STRENGTH, draft_sheet, refusals
from evaltrack.words.family.presence import Presence
from evaltrack.words.family.sheet import PARTS

_PLAYER = Player("7", "Zoë Łukasik", Position.DEFENCE)
_SOLID = counted("stop", 34, 37, call=Call.SOLID, p_below=0.02)
_WORK_ON = counted("start", 9, 37, call=Call.WORK_ON, p_below=0.98)
_BETWEEN = counted("receive_pass", 20, 33, p_below=0.5)
_FALLING = counted("gap_up", 20, 33, trend=Trend.DOWN, p_below=0.5)


def _page(*standings, edits=None, player=_PLAYER, presence=None, last=DAYS[-1]):
    return draft_sheet(ground_of(player, presence, last), player, standings, edits)


def _said(page, part):
    return [one.text for one in page.part(part).sentences]


@pytest.mark.parametrize("name", SAMPLES)
def test_a_page_has_all_its_parts_in_order(name):
    """Also where a part has nothing to say: some of those have room to write."""
    page = SAMPLES[name]()
    assert tuple(part.key for part in page.parts) == PARTS
    assert page.footers == page_words.FOOTERS


def test_each_sentence_is_known_by_its_part_and_its_skill():
    """These are the keys by which the coach's words are kept, so they must not change."""
    edits = NoteEdits(coach_words="One.\nTwo.", agreed=(Agreed("Ten passes"),))
    player = Player("7", "Zoë Łukasik", Position.DEFENCE, status=Status.AWAY)
    page = _page(_SOLID, _WORK_ON, edits=edits, player=player, presence=Presence(24, 14, DAYS[10], DAYS[12]))
    assert [one.key for part in page.parts for one in part.sentences] == [
        *("seen.first_day", "seen.away", "seen.counts"),
        *("going_well.stop", "next.start", "at_home.start.1"),
        *("coach.1", "coach.2", "agreed.1"),
    ]
    bare = _page()
    assert [one.key for one in bare.part("going_well").sentences] == ["going_well.open"]
    assert [one.key for one in bare.part("next").sentences] == ["next.open"]


def test_an_empty_edit_changes_nothing():
    """Nor does an edit that says what is there already."""
    plain = _page(_SOLID, _WORK_ON)
    same = {one.key: one.text for part in plain.parts for one in part.sentences}
    assert _page(_SOLID, _WORK_ON, edits=NoteEdits()) == plain
    assert _page(_SOLID, _WORK_ON, edits=NoteEdits(words=same)) == plain


def test_the_coachs_words_take_a_sentences_place_and_none_leave_it_out():
    """By the key of the sentence; all else stays, and own words are marked so."""
    plain = _page(_SOLID, _WORK_ON)
    words = {"going_well.stop": "A joy\x00 to *watch*.\n", "seen.counts": ""}
    page = _page(_SOLID, _WORK_ON, edits=NoteEdits(words=words))
    (own,) = page.part("going_well").sentences
    assert (own.text, own.own, own.skill, own.lead) == ("A joy to *watch*.", True, "stop", "")
    assert page.part("seen").sentences == ()
    assert (page.part("next"), page.rows, page.doubts) == (plain.part("next"), plain.rows, ())


def test_a_sentence_that_still_begins_with_its_skill_still_leads_with_it():
    """A word more at the end is no reason for another look than that of its neighbours."""
    text = _page(_SOLID).part("going_well").sentences[0].text
    page = _page(_SOLID, edits=NoteEdits(words={"going_well.stop": f"{text} Great to see."}))
    (own,) = page.part("going_well").sentences
    assert (own.own, own.lead) == (True, "Stop")


def test_a_page_that_names_no_strength_leaves_room_and_asks_the_coach():
    """The highest of a weak lot is no strength; the page says nothing and the coach is told."""
    page = _page(_BETWEEN, _WORK_ON)
    assert _said(page, "going_well") == [page_words.NO_STRENGTH]
    assert page.part("going_well").to_write
    assert page.doubts == (NAME_A_STRENGTH,)
    picked = _page(_BETWEEN, _WORK_ON, edits=NoteEdits(strengths=("receive_pass",)))
    assert _said(picked, "going_well") == [
        "Receive a pass: the coach sees this going well. It worked in 20 of 33 tries, about 6 in 10."
    ]
    assert (picked.part("going_well").to_write, picked.doubts) == (False, ())
    told = _page(_BETWEEN, _WORK_ON, edits=NoteEdits(words={"going_well.open": "Calm on the puck."}))
    assert (_said(told, "going_well"), told.doubts) == (["Calm on the puck."], ())
    assert not told.part("going_well").to_write
    emptied = _page(_BETWEEN, _WORK_ON, edits=NoteEdits(words={"going_well.open": ""}))
    assert (_said(emptied, "going_well"), emptied.part("going_well").to_write) == ([], True)


def test_what_has_come_up_is_a_strength_before_it_is_solid():
    """Better than the own past, told from its first day on; from day to day when that is long ago."""
    rising = counted("gap_up", 14, 33, trend=Trend.UP, p_below=0.6)
    count = "It worked in 14 of 33 tries, about 4 in 10."
    assert _said(_page(rising), "going_well") == [f"Gap up: going up since 2 October. {count}"]
    later = _page(rising, last=date(2026, 3, 1))
    end = f"{DAYS[21].day} {DAYS[21]:%B}"
    assert _said(later, "going_well") == [f"Gap up: it went up from 2 October to {end}. {count}"]


def test_a_pick_against_a_call_is_refused_in_a_sentence_and_left_out():
    """By what the coach sees on the screens."""
    few = counted("escape_turn", 3, 4, days=DAYS[:1], call=Call.TOO_FEW)
    own = (_SOLID, _WORK_ON, _BETWEEN, _FALLING, few)
    changed = NoteEdits(strengths=("start", "gap_up", "escape_turn"), next_skills=("stop", "no_skill"))
    told = [
        "Start is called “work on”, so the page cannot say that it goes well.",
        "Gap up is going down, so the page cannot say that it goes well.",
        "Escape turn has no call yet, so the page can say nothing of it; watch it more often first.",
        "Stop is called “solid”, so it is no next step.",
        "no_skill has no call yet, so the page can say nothing of it; watch it more often first.",
    ]
    assert refusals(ground_of(_PLAYER), _PLAYER, own, changed) == told
    page = _page(*own, edits=changed)
    assert page.doubts == (*told, NAME_A_STRENGTH)
    assert not any(one.skill for part in page.parts for one in part.sentences)


def test_a_skill_picked_twice_and_picks_beyond_the_room_are_refused():
    """Three skills that go well and two next steps, and none in both."""
    own = [counted(key, 20, 33, p_below=0.5) for key in ("stop", "start", "gap_up", "gap_at_line")]
    keys = tuple(one.skill for one in own)
    ground = ground_of(_PLAYER)
    assert refusals(ground, _PLAYER, own, NoteEdits(strengths=keys)) == [
        "The page has room for 3 skills that go well; leave out the others."
    ]
    assert refusals(ground, _PLAYER, own, NoteEdits(next_skills=keys[:3])) == [
        "The page has room for 2 next steps; leave out the others."
    ]
    both = NoteEdits(strengths=("stop",), next_skills=("stop", "start"))
    assert refusals(ground, _PLAYER, own, both) == [
        "Stop cannot both go well and be a next step; choose one of the two."
    ]
    page = _page(*own, edits=both)
    assert [one.skill for one in page.part("next").sentences] == ["start"]


def test_what_is_picked_for_one_part_is_not_drafted_for_the_other():
    """A rising skill that the coach works on next is no longer under going well."""
    rising = counted("gap_up", 14, 33, trend=Trend.UP, p_below=0.6)
    page = _page(rising, _SOLID, edits=NoteEdits(next_skills=("gap_up",)))
    assert [one.skill for one in page.part("going_well").sentences] == ["stop"]
    assert [one.skill for one in page.part("next").sentences] == ["gap_up"]
    low = counted("gap_up", 14, 33, p_below=0.75)
    assert [one.skill for one in _page(low).part("next").sentences] == ["gap_up"]
    page = _page(low, edits=NoteEdits(strengths=("gap_up",)))
    assert [one.skill for one in page.part("going_well").sentences] == ["gap_up"]
    assert _said(page, "next") == [page_words.NO_NEXT_STEP]


def test_own_words_whose_sentence_is_gone_are_told_and_not_lost():
    """A skill that is called otherwise by now takes its sentence along, and the coach learns it."""
    words = NoteEdits(words={"next.stop": "Edges first.", "next.start": ""})
    assert _page(_SOLID, edits=words).doubts == (
        "What you wrote stands on the page no more, since its sentence is gone: “Edges first.”",
    )


def test_a_count_in_own_words_is_held_against_the_count():
    """The numbers go on while words stay as they were typed."""
    words = NoteEdits(words={"going_well.stop": "Stops: 30 of the 33 so far, 34 of 37 by now."})
    assert _page(_SOLID, edits=words).doubts == (
        "Your words say 30 of 33, and the count is 34 of 37: “Stops: 30 of the 33 so far, 34 of 37 by now.”",
    )


def test_a_count_that_seems_to_quarrel_with_its_call_is_explained():
    """Both ways, and only then: 31 of 45 and to be worked on, 20 of 45 and solid."""
    below = "In our usual drills, it likely works less often than the coach asks for."
    above = "In our usual drills, it likely works more often than the coach asks for."
    high = counted("stop", 31, 45, call=Call.WORK_ON, p_below=0.9)
    low = counted("stop", 20, 45, call=Call.SOLID, p_below=0.1)
    assert below in _said(_page(high), "next")[0]
    assert below not in _said(_page(_WORK_ON), "next")[0]
    assert above in _said(_page(low), "going_well")[0]
    assert above not in _said(_page(_SOLID), "going_well")[0]


@pytest.mark.parametrize(
    ("done", "tries", "target", "explained"), [(14, 25, 0.56, True), (13, 25, 0.56, False)]
)
def test_a_count_at_the_target_is_not_below_it_for_a_rounding(done, tries, target, explained):
    """14 of 25 is a target of .56, though .56 times 25 is a hair more in binary."""
    one = replace(counted("stop", done, tries, call=Call.WORK_ON, p_below=0.9), target=target)
    assert ("In our usual drills" in _said(_page(one), "next")[0]) is explained


def test_a_high_count_that_is_not_solid_says_so():
    """20 of 22 puzzles a family that finds it nowhere, or finds it called less than another skill."""
    page = _page(counted("stop", 20, 22, p_below=0.1), _SOLID)
    assert _said(page, "going_well")[-1] == (
        "Stop: looking good so far. It worked in 20 of 22 tries, about 9 in 10. "
        "We have not seen enough of it yet to call it solid."
    )


def test_every_solid_skill_is_called_so_in_its_row():
    """Also the fourth, for which there is no room under going well."""
    own = [counted(key, 30, 33, call=Call.SOLID) for key in ("stop", "start", "gap_up", "gap_at_line")]
    page = _page(*own)
    assert len(page.part("going_well").sentences) == 3
    assert all(row.level.startswith("solid; now maybe ") for row in page.rows)


def test_a_late_joiner_is_counted_from_the_first_day():
    """Practices held before a child came are not held against them; nothing says how many were missed."""
    page = _page(_SOLID, presence=Presence(24, 14, DAYS[10], DAYS[-1]))
    assert _said(page, "seen") == [
        "Zoë first practised with us on 15 November 2025.",
        "The coaches wrote down 37 tries for Zoë, in 1 skill. Nobody can write down every try.",
    ]


def test_one_who_is_away_has_no_level_now():
    """On the page's own day, whatever the day is when it is printed."""
    player = Player("7", "Zoë Łukasik", Position.DEFENCE, status=Status.AWAY, away_until=DAYS[-1])
    presence = Presence(24, 24, DAYS[0], DAYS[12])
    page = _page(_BETWEEN, player=player, presence=presence, last=DAYS[-2])
    assert f"Zoë is away for now, so these counts end on {DAYS[12].day} November 2025." in _said(page, "seen")
    assert page.rows[0].level == ""
    assert "maybe" not in page.rows[0].chart_words
    back = _page(_BETWEEN, player=player, presence=presence, last=DAYS[-1])
    assert back.rows[0].level.startswith("now maybe ")


def test_how_to_read_explains_what_is_there_and_nothing_else():
    """A word for each of charts, ranges and solid, and for one who is away no range is told."""
    player = Player("7", "Zoë Łukasik", Position.DEFENCE, status=Status.AWAY)
    away, here = _page(_SOLID, player=player).how_to_read, _page(_SOLID).how_to_read
    assert ("Each chart" in away, "“Maybe”" in away, "Solid means" in away) == (True, False, True)
    assert ("Each chart" in here, "“Maybe”" in here, "Solid means" in here) == (True, True, True)
    plain = _page(_BETWEEN).how_to_read
    assert ("Each chart" in plain, "“Maybe”" in plain, "Solid means" in plain) == (
        True,
        True,
        False,
    )


def test_a_child_of_whom_nothing_was_written_down_has_a_page():
    """It says so, and leaves room for what the coach saw."""
    page = _page()
    assert _said(page, "seen")[-1] == "The coaches have not written down any tries for Zoë yet."
    assert (page.rows, page.how_to_read, page.thin) == ((), "", "")


def test_a_doubtful_estimate_is_counted_but_not_drawn():
    """The count is a fact; nothing is said of where it lies or goes, and the coach is told why."""
    page = _page(replace(_SOLID, call=Call.IN_BETWEEN, doubt="the fit did not settle.", path=()))
    row = page.rows[0]
    assert (row.count, row.direction, row.level, row.drawn) == ("34 of 37", "no clear reading yet", "", False)
    assert row.chart_words.endswith("about 9 in 10. There is no clear reading yet.")
    assert page.how_to_read == ""
    assert page.doubts == ("Stop: the fit did not settle.", NAME_A_STRENGTH)


def test_what_to_try_at_home_belongs_to_what_is_worked_on():
    """Its own skill, named where there are two."""
    page = _page(_SOLID, _WORK_ON)
    assert {one.skill for one in page.part("at_home").sentences} == {"start"}
    assert not any(one.lead for one in page.part("at_home").sentences)
    two = _page(_WORK_ON, counted("stop", 9, 37, call=Call.WORK_ON))
    assert {one.lead for one in two.part("at_home").sentences} == {"Start", "Stop"}


def test_of_two_next_steps_one_thing_each_is_tried_at_home():
    """Of one alone there is all that its skill has."""
    one, two = (counted(key, 9, 37, call=Call.WORK_ON) for key in ("outlet_pass", "gap_up"))
    assert len(SKILLS["outlet_pass"].at_home) > 1
    said = [line.text for line in _page(one).part("at_home").sentences]
    assert said == list(SKILLS["outlet_pass"].at_home)
    both = _page(one, two).part("at_home").sentences
    assert sorted(line.key for line in both) == ["at_home.gap_up.1", "at_home.outlet_pass.1"]


def test_what_was_agreed_is_told_in_whole_sentences():
    """With who helps and when it is looked at again, each if it is known."""
    day = date(2026, 3, 12)
    agreed = (Agreed("Ten passes"), Agreed("Ten passes.", "Dad"), Agreed("Ten passes", "", day))
    page = _page(edits=NoteEdits(agreed=(*agreed, Agreed("Ten passes", "Dad", day))))
    assert _said(page, "agreed") == [
        "Ten passes.",
        "Ten passes. Who helps: Dad.",
        "Ten passes. We look again on 12 March 2026.",
        "Ten passes. Who helps: Dad. We look again on 12 March 2026.",
    ]
    assert not page.part("agreed").to_write
    assert _page().part("agreed").to_write


def test_the_coachs_words_lose_only_what_has_no_shape():
    """Paragraphs stay, control characters go, everything else is left as it was typed."""
    page = _page(edits=NoteEdits(coach_words="One\x00 #let x = 1\r\n\n\tTwo *a* <b>\n"))
    assert _said(page, "coach") == ["One #let x = 1", "Two *a* <b>"]
    assert all(one.own for one in page.part("coach").sentences)


def test_a_status_without_contact_and_whom_a_child_met_are_nowhere_on_the_page():
    """Limited is between staff and family, and who was met is another child."""
    blamed = Reason(Cause.OPPONENT, 0.06, 0.02, 0.1, "4", 30, 0.2, cost=0.09, cost_low=0.04, cost_high=0.14)
    met = replace(_SOLID, met=(Met("4", 30, 20), Met("22", 7, 6)), reasons=(blamed,))
    limited = Player("7", "Zoë Łukasik", Position.DEFENCE, status=Status.LIMITED)
    assert _page(met, player=limited) == _page(_SOLID)
