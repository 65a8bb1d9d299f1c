"""The season in words: a direction only where the trend names one, a difference where its interval does."""

from dataclasses import replace
from datetime import date, timedelta
from uuid import UUID

import pytest

from evaltrack.analysis.standings.standing import Cause, PathPoint, Trend
from evaltrack.analysis.team.course import Cost, Reached, TeamCourse
from evaltrack.analysis.team.season_view import SeasonView, Turned
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Practice
from evaltrack.rink.skill import Definition, Skill
from evaltrack.rink.targets import Goal
from evaltrack.words.practice_columns import month_columns
from evaltrack.words.season import attended_words, panel_title, target_words
from evaltrack.words.team import (
    cost_lines,
    cost_words,
    definition_lines,
    reached_words,
    team_lines,
    whom_words,
)

FIRST, LAST = date(2025, 9, 9), date(2026, 1, 13)


def course(trend: Trend, change: float, low: float, high: float, **other) -> TeamCourse:
    """Return the course of a team that changed so."""
    path = tuple(PathPoint(day, 0.62, 0.52, 0.71, 0.6, 0.65) for day in (FIRST, LAST))
    figures = {"path": path, "change": change, "change_low": low, "change_high": high, "trend": trend}
    return TeamCourse("stop", 7, 233, 106, 6, **{**figures, **other})


@pytest.mark.parametrize(("one", "words"), [
    (course(Trend.UP, 0.11, 0.004, 0.21), "up by 11 points since 9 Sep (at most 21)"),
    (course(Trend.DOWN, -0.082, -0.15, -0.01), "down by 8 points since 9 Sep (1 to 15)"),
    (course(Trend.DOWN, -0.01, -0.02, -0.004), "down by 1 point since 9 Sep (at most 2)"),
    (course(Trend.UP, 0.08, -0.008, 0.17), "up by 8 points since 9 Sep (at most 17)"),
    (course(Trend.UP, 0.003, 0.001, 0.004), "up by less than 1 point since 9 Sep (at most 1)"),
    (course(Trend.NO_CLEAR_CHANGE, 0.1, 0.03, 0.2), "too few practices to tell a change since 9 Sep"),
    (course(Trend.NO_CLEAR_CHANGE, -0.1, -0.2, -0.03), "too few practices to tell a change since 9 Sep"),
    (course(Trend.NO_CLEAR_CHANGE, 0.1, 0.0, 0.2), "no clear change since 9 Sep (0 to +20 points)"),
    (course(Trend.NO_CLEAR_CHANGE, -0.02, -0.05, 0.01), "no clear change since 9 Sep (−5 to +1 points)"),
    (course(Trend.NO_CLEAR_CHANGE, 0.058, -0.05, 0.17), "no clear change since 9 Sep (−5 to +17 points)"),
])  # fmt: skip
def test_a_direction_is_said_only_where_there_is_one(one, words):
    """Otherwise from where to where the change may lie, with its signs."""
    assert team_lines(one) == [
        "106 of 233 by 7 players at 6 practices",
        f"about 6 in 10 (5 to 8) on 13 Jan; {words}",
    ]


def test_what_may_not_be_shown_says_why():
    """In place of a share."""
    _, state = team_lines(course(Trend.UP, 0.1, 0, 0.2, path=(), doubt="Too little."))
    assert state == "Too little."


@pytest.mark.parametrize(("cost", "low", "high", "words"), [
    (0.15, 0.05, 0.25, "15 points lower than in the others (5 to 25)"),
    (-0.17, -0.27, -0.06, "17 points higher than in the others (6 to 27)"),
    (0.01, 0.004, 0.016, "1 point lower than in the others (at most 2)"),
    (-0.06, -0.16, 0.03, "no clear difference from the others (−3 to +16 points)"),
    (0.0, -0.1, 0.0, "no clear difference from the others (0 to +10 points)"),
])  # fmt: skip
def test_a_step_differs_only_where_its_interval_says_so(cost, low, high, words):
    """A cost is a lower share; a lone step is compared with nothing, pressure with tries without it."""
    step = Cost(Cause.STEP, "wall_work/free", 40, 24, 10, cost, low, high)
    assert cost_words(step) == words
    assert cost_words(replace(step, others=0)) == "the only step in which it was watched"
    pressed = words.replace("in the others", "without").replace("the others", "tries without")
    assert cost_words(replace(step, cause=Cause.PRESSURE, named="yes")) == pressed


def test_each_cost_is_told_with_its_count():
    """Steps by the name of their drill and their own, as the season has them; pressure last."""
    step = Cost(Cause.STEP, "wall_work/free", 40, 24, 10, 0.15, 0.05, 0.25)
    costs = (step, replace(step, cause=Cause.PRESSURE, named="yes", tries=9, done=4))
    one = course(Trend.UP, 0.1, 0, 0.2, costs=costs)
    assert cost_lines(one, {"wall_work/free": "Wall work, free"}) == [
        "Wall work, free: 24 of 40; 15 points lower than in the others (5 to 25)",
        "Under pressure: 4 of 9; 15 points lower than without (5 to 25)",
    ]


def test_targets_are_told_with_the_days_of_their_changes():
    """And how many are at one, then and now, each as an estimate."""
    assert target_words(Goal("stop", 0.65)) == "Target 65 %, the same all season"
    changed = Goal("stop", 0.6, ((date(2025, 11, 12), 0.7), (date(2026, 1, 8), 0.65)))
    assert target_words(changed) == "Target 60 % at first, 70 % since 12 Nov, 65 % since 8 Jan"
    reached = reached_words(Reached(0.6, 7, 1.6, 0, 4, 4.2, 4, 4), FIRST, LAST)
    assert reached == (
        "At 60 % or above, of those who can be judged: around 9 Sep about 2 of 7 (very likely 0 to 4);"
        " around 13 Jan about 4 of 7 (very likely 4)"
    )
    nobody = reached_words(Reached(0.6, 0, 0, 0, 0, 0, 0, 0), FIRST, LAST)
    assert nobody == "At 60 % or above: nobody can be judged in it yet"


def test_whom_a_skill_is_for_is_told_with_its_target():
    """All its groups, the last after an and."""
    one = Skill("stop", "Stop", (Position.DEFENCE,), "", Definition("", "", "", ""), "", target=0.65)
    assert whom_words(one) == "Defenders; target 65 %"
    both = replace(one, positions=(Position.DEFENCE, Position.FORWARD))
    assert whom_words(both) == "Defenders and forwards; target 65 %"
    every = replace(one, positions=tuple(Position))
    assert whom_words(every) == "Defenders, forwards and goalies; target 65 %"


def test_a_definition_is_told_in_four_parts():
    """As the season has them, in the order in which a try goes."""
    words = Definition("the whistle goes", "he stops", "he glides on", "he was bumped")
    assert definition_lines(Skill("stop", "Stop", (), "", words, "")) == [
        "Starts: the whistle goes", "Done: he stops", "Missed: he glides on", "Not counted: he was bumped",
    ]  # fmt: skip


def test_attendance_counts_from_the_day_on_which_a_player_came():
    """And also what they were at before that day, so that nobody was at more than there were."""
    player = Player("21", "Wren Halvorsen", Position.FORWARD, id=UUID(int=7))
    days = [FIRST + timedelta(days=7 * n) for n in range(4)]
    held = tuple(
        Turned(Practice(day.isoformat(), day), frozenset({player.id} if number else ()))
        for number, day in enumerate(days)
    )
    assert attended_words(SeasonView((player,), held), player) == "3 of 4"
    for day, words in ((days[1], "3 of 3 since 16 Sep"), (days[2], "3 of 3 since 23 Sep")):
        came = SeasonView((player,), held, joined=((player.id, day),))
        assert attended_words(came, player) == words


def test_months_stand_over_their_first_practice_and_do_not_run_into_one_another():
    """Of two that lie too close the first is named."""
    days = [FIRST + timedelta(days=3 * n) for n in range(42)]
    assert month_columns(days) == [("Sep", 0), ("Oct", 8), ("Nov", 18), ("Dec", 28), ("Jan", 38)]
    close = [FIRST, date(2025, 10, 1), *(date(2025, 11, 1 + n) for n in range(28))]
    assert month_columns(close) == [("Sep", 0), ("Nov", 2)]
    assert month_columns([FIRST]) == [("Sep", 0)]
    assert panel_title("Ines", [1]) == "Ines: 1 tally"
    assert panel_title("Ines", [2000, 832]) == "Ines: 2,832 tallies"
