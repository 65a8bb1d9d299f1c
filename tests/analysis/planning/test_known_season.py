"""What a plan is made from, read from a season file that was filled at the bench."""

from dataclasses import replace

import pytest
from lanterns_season import DRILLS, PLAYERS, PRACTICES, SKILLS, TEAM, tally

from evaltrack.analysis.planning.known_season import read_known
from evaltrack.analysis.planning.planner import read_plan
from evaltrack.rink.ident import new_id
from evaltrack.rink.plan import Asked, Basis, Part
from evaltrack.rink.player import Status
from evaltrack.rink.practice import Amendment, Correction, Rep, Surface
from evaltrack.rink.rotation.running import RunningRotation
from evaltrack.rink.tally import Outcome
from evaltrack.store.creating import create_season

HALF = PRACTICES[1]  # on half ice
START, EVERY = 1_760_000_000_000, 15_000  # ms: four reps a minute


@pytest.fixture
def season(tmp_path):
    """Give a season file with a practice on full ice, and one on half ice with twelve reps."""
    made = create_season(tmp_path / "s.db", **TEAM, players=PLAYERS, skills=SKILLS, drills=DRILLS)
    with made as season:
        season.log.add_many(PRACTICES, [tally(n) for n in range(4)])
        rep = Rep(HALF.key, "breakout_attack", "two_on_one", {}, "bench", START)
        line, fact = RunningRotation.first(DRILLS, rep, PLAYERS)
        for n in range(1, 13):
            season.reps.begin(line.rep, fact)
            line, fact = line.next_rep(START + n * EVERY)
        tries = [tally(n, id=new_id(), practice=HALF.key, at=START + n, rep=rep.id) for n in range(12)]
        season.log.add_many([], [replace(t, outcome=[*Outcome][n % 2]) for n, t in enumerate(tries)])
        yield season


def test_the_pace_is_that_of_the_reps_in_the_file(season):
    """And the block that has the step says so."""
    pace = read_known(season).paces["breakout_attack", "two_on_one"]
    assert (pace.reps, pace.basis, pace.counted) == (pytest.approx(4.0), Basis.REPS, 11)
    plan = read_plan(season, Asked(stations=1))
    assert pace in [block.pace for block in plan.blocks if block.part is Part.TOGETHER]


def test_what_was_on_which_surface(season):
    """Of sixteen tallies four were on full ice, none across it."""
    known = read_known(season)
    assert [known.part_on(surface) for surface in (Surface.FULL, Surface.HALF, Surface.CROSS)] == [
        0.25,
        0.75,
        0,
    ]
    assert (known.lately.tallies, known.lately.practices) == (16, 2)


def test_a_practice_that_was_set_aside_counts_for_nothing(season):
    """Neither its reps nor its tallies."""
    day = HALF.held_on
    season.corrections.add(Correction(HALF.key, Amendment.SET_ASIDE, day, day))
    known = read_known(season)
    assert known.paces["breakout_attack", "two_on_one"].basis is Basis.USUAL
    assert (len(known.tallies), known.lately.practices) == (4, 1)


def test_who_is_away_is_not_planned_for_unless_named(season):
    """Number 00 is away, and may come all the same."""
    (away,) = [player.number for player in PLAYERS if player.status is Status.AWAY]
    plan = read_plan(season, Asked())
    assert away not in [number for group in plan.groups for number in group.players]
    named = read_plan(season, Asked(here=(away, "7")))
    assert [group.players for group in named.groups] == [(away, "7")]
