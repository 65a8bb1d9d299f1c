"""What one family's page says, for the usual child and for the unusual one."""

import re
from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given
from lantern_pages import DAYS, skills, standing
from test_choice import own_standings

from evaltrack.analysis.standings.standing import Call, Cause, Met, Reason, Seen, Trend
from evaltrack.paper.note.page import Ground, make_page
from evaltrack.paper.note.presence import Presence
from evaltrack.rink.player import Player, Position, Status
from evaltrack.words.date_axis import DateAxis

_SKILLS = {skill.key: skill for skill in skills()}
_CLAIMS = re.compile(r"\b(up|down|better|worse|improv\w*|rising|falling|progress\w*)\b")


def _player(status=Status.FULL):
    return Player("7", "Zoë Łukasik", Position.DEFENCE, status=status)


def _page(standings, player=None, presence=None, words=""):
    player = player or _player()
    presence = presence or Presence(24, 24, DAYS[0], DAYS[-1])
    ground = Ground("Kettle Bay Lanterns 12U", DateAxis(DAYS[0], DAYS[-1]), _SKILLS, {player.id: presence})
    return make_page(ground, player, standings, words)


@given(own_standings())
def test_no_sentence_claims_a_direction_without_the_trend(standings):
    """Whatever the numbers, words of direction stand only where the trend says so."""
    page = _page(standings)
    trends = {_SKILLS[s.skill].name: s.trend for s in standings}
    for item in page.strengths + page.next_skills:
        claims = set(_CLAIMS.findall(item.text))
        assert claims <= ({"up"} if trends[item.lead] is Trend.UP else set())
    for row in page.rows:
        expected = {Trend.UP: {"up"}, Trend.DOWN: {"down"}, Trend.NO_CLEAR_CHANGE: set()}[trends[row.name]]
        assert set(_CLAIMS.findall(row.direction)) in (expected, set())
    assert not _CLAIMS.search(page.summary)


def test_the_usual_page_counts_what_was_seen():
    """Practices and tries in the summary are those of the log."""
    page = _page([standing("stop", [(20, 14), (17, 12)]), standing("start", [(3, 1)])])
    assert page.summary == "Watched at 2 of 24 practices. Coaches noted 40 tries in 2 skills."
    assert [row.name for row in page.rows] == ["Stop"]
    assert page.thin == "Start 1 of 3"


def test_a_late_joiner_is_counted_from_the_first_day():
    """Practices held before a child came are not held against them."""
    page = _page([standing("stop", [(9, 5), (9, 5)])], presence=Presence(24, 14, DAYS[10], DAYS[-1]))
    assert page.summary.startswith("First here on 15 November 2025; watched at 2 of 14 practices since.")


def test_one_who_is_away_has_no_level_now():
    """For a child who is away the line ends where they were last seen, and nothing is said of now."""
    player = _player(Status.AWAY)
    page = _page([standing("stop", [(9, 5), (9, 5)])], player, Presence(24, 24, DAYS[0], DAYS[1]))
    assert "Away at present, last here on 6 October 2025." in page.summary
    assert page.rows[0].level == ""
    assert "ery likely" not in page.rows[0].chart_words
    assert [point.on for point in page.rows[0].path] == list(DAYS[:2])


def test_a_status_without_contact_is_nowhere_on_the_page():
    """Limited is between the staff and the family; it is not printed, for paper gets lost."""
    rows = [standing("stop", [(9, 5), (9, 5)])]
    assert _page(rows, _player(Status.LIMITED)) == _page(rows, _player())


def test_the_line_starts_where_the_child_was_first_seen():
    """The model knows a share for every day; the page draws it only from the first try on."""
    made = standing("stop", [(9, 5), (9, 5)])
    later = tuple(Seen(day, 9, 5) for day in DAYS[5:7])
    page = _page([replace(made, seen=later)])
    assert page.rows[0].path[0].on == DAYS[5]
    assert page.rows[0].path[-1].on == DAYS[-1]


def test_a_doubtful_estimate_is_counted_but_not_drawn():
    """The count is a fact; the level is not shown, and the coach is told why."""
    page = _page([standing("stop", [(20, 14), (17, 12)], doubt="the fit did not settle")])
    row = page.rows[0]
    assert (row.count, row.direction, row.level, row.drawn) == ("26 of 37", "no clear reading yet", "", False)
    assert page.how_to_read == ""
    assert page.doubts == ("Stop: the fit did not settle",)
    assert page.strengths == page.next_skills == ()


def test_what_to_try_at_home_belongs_to_what_is_worked_on():
    """The hints for home are those of the skills to work on next, and of no other skill."""
    page = _page([standing("stop", [(15, 10), (15, 10)]), standing("gap_up", [(15, 5), (15, 5)])])
    assert [item.lead for item in page.next_skills] == ["Gap up"]
    assert page.at_home == _SKILLS["gap_up"].at_home
    assert page.next_skills[0].detail == _SKILLS["gap_up"].looks_like


def test_the_coachs_words_lose_only_what_has_no_shape():
    """Paragraphs stay, control characters go, everything else is left as it was typed."""
    page = _page([], words="One\x00 #let x = 1\r\n\n\tTwo *a* <b>\n")
    assert page.coach_words == ("One #let x = 1", "Two *a* <b>")


def test_the_axis_is_shared_and_its_months_do_not_collide():
    """First practice at the left, last day at the right, months where they begin."""
    axis = DateAxis(date(2025, 10, 2), date(2026, 1, 12))
    assert (axis.place(axis.first), axis.place(axis.last)) == (0, 1)
    assert [name for name, _ in axis.months()] == ["Oct", "Nov", "Dec", "Jan"]
    crowded = DateAxis(date(2025, 10, 29), date(2026, 11, 2)).months()
    gaps = [b - a for (_, a), (_, b) in pairwise(crowded)]
    assert min(gaps) >= 0.12
    assert DateAxis(axis.first, axis.first).place(axis.first) == 1


def test_a_level_of_long_ago_is_not_told_as_now():
    """A skill that was last watched weeks before the page's day has its own date in the place of now."""
    made = standing("stop", [(9, 5), (9, 5)], low=0.3, high=0.7)
    assert _page([made]).rows[0].level == "now 3 to 7 in 10"
    old = replace(made, path=made.path[:10])
    assert _page([old]).rows[0].level == "on 11 Nov 3 to 7 in 10"


def test_a_call_that_the_count_seems_to_contradict_is_explained():
    """31 of 45 is above a target of 6 in 10: the call stands on the level now, so the page tells it."""
    seen, bounds = [(20, 18), (25, 13)], {"low": 0.3, "high": 0.6}
    called = standing("stop", seen, share=0.45, call=Call.WORK_ON, **bounds)
    assert _page([called]).next_skills[0].text == "done in 31 of 45 tries, about 7 in 10; now 3 to 6 in 10."
    agreeing = standing("stop", [(20, 8), (25, 8)], share=0.4, call=Call.WORK_ON, **bounds)
    assert _page([agreeing]).next_skills[0].text == "done in 16 of 45 tries, about 4 in 10."


@pytest.mark.parametrize(
    ("done", "target", "explained"),
    [
        (17, 0.6, False),
        (18, 0.6, True),
        (19, 0.6, True),
        (18, 0.61, False),
        (15, 0.5, True),
        (14, 0.5, False),
    ],
)
def test_the_level_stands_beside_a_call_from_a_count_at_the_target_on(done, target, explained):
    """Of 30 tries at a target of 6 in 10, `work on` beside 18 needs the level, and beside 17 does not."""
    bounds = {"share": 0.4, "low": 0.3, "high": 0.5, "target": target}
    called = standing("stop", [(15, done - 5), (15, 5)], call=Call.WORK_ON, **bounds)
    told = _page([called]).next_skills[0].text
    assert told.startswith(f"done in {done} of 30 tries, ")
    assert told.endswith("; now 3 to 5 in 10.") is explained


def test_a_count_at_the_target_is_not_below_it_for_a_rounding():
    """14 of 25 is a target of .56, though .56 times 25 is a hair more in binary."""
    bounds = {"share": 0.4, "low": 0.3, "high": 0.5, "target": 0.56}
    called = standing("stop", [(15, 9), (10, 5)], call=Call.WORK_ON, **bounds)
    assert _page([called]).next_skills[0].text.endswith("; now 3 to 5 in 10.")


def test_whom_a_child_met_is_nowhere_on_the_page():
    """Who was met is another child: the page is the same whether the staff know it or not."""
    known = standing("stop", [(20, 14), (17, 12)])
    blamed = Reason(Cause.OPPONENT, 0.06, 0.02, 0.1, "4", 30, 0.2, cost=0.09, cost_low=0.04, cost_high=0.14)
    met = replace(known, met=(Met("4", 30, 20), Met("22", 7, 6)), reasons=(blamed,))
    assert _page([met]) == _page([known])
