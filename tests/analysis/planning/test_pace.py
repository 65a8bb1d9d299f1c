"""How many reps a minute a step makes."""

from datetime import datetime
from uuid import UUID

import pytest
from planned_seasons import drills, tallied, team

from evaltrack.analysis.planning.pace import USUAL, paces
from evaltrack.rink.plan import Basis
from evaltrack.rink.practice import Rep

START = round(datetime(2026, 9, 14, 18).timestamp() * 1000)


def reps(seconds: list[float], tablet: str = "t") -> list[Rep]:
    """Return reps of one step that begin at these seconds."""
    return [
        Rep("2026-09-14", "rush", "two", {}, tablet, START + round(1000 * at), UUID(int=n))
        for n, at in enumerate(seconds)
    ]


def test_reps_are_counted_between_pauses():
    """A rep every 20 s, a pause of five minutes, and again: three a minute."""
    made = [20 * n for n in range(10)] + [500 + 20 * n for n in range(10)]
    pace = paces(reps(made), [], drills())["rush", "two"]
    assert (pace.reps, pace.basis, pace.counted) == (pytest.approx(3.0), Basis.REPS, 18)


def test_two_tablets_do_not_make_the_reps_twice_as_quick():
    """Each tablet's reps are counted by themselves."""
    made = [20 * n for n in range(10)]
    pace = paces([*reps(made), *reps(made, "u")], [], drills())["rush", "two"]
    assert pace.reps == pytest.approx(3.0)


def test_without_reps_the_tallies_tell_the_least():
    """A tally every 10 s in a skill that one slot shows: six reps a minute or more."""
    found = paces([], tallied(team("FFFFFFFF"), {"shot": 0.5}, weeks=2), drills())
    pace = found["rush", "two"]
    assert (pace.reps, pace.basis) == (pytest.approx(6.0), Basis.TALLIES)
    assert found["corner", "calm"] == USUAL


def test_too_few_reps_tell_nothing():
    """The default stands in, and says that it is one."""
    assert paces(reps([0, 20, 40, 60, 80]), [], drills())["rush", "two"].basis is Basis.USUAL
