"""Every share that is told equals the one written out by hand from the fit's own coefficients.

Random seasons: skills that share strength or not, goalies beside skaters, pressure noted, not noted or
noted in part, several steps and observers, few practices or many, players who were never seen in a skill,
skills in which no goalie was.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import expit, logit
from scipy.stats import norm
from season_by_hand import World, Z
from seasons import cell, player, skill

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.standings.coverage import coverage_of
from evaltrack.analysis.standings.standing import Cause
from evaltrack.analysis.standings.standings import standings_of

SEEDS = st.integers(0, 2**32 - 1)


@settings(max_examples=8, deadline=None)
@given(SEEDS, st.booleans(), st.booleans())
def test_a_share_is_the_mean_over_the_mix_of_rows_written_out_by_hand(seed, shared, met):
    """At any moment, for every player and skill, the outlook has that mean and the SD of that mean."""
    world = World(seed, shared, met)
    for key, fit in world.fits.items():
        times = np.array([-1.0, 0.3, 0.9])
        middle, sd = fit.outlook.path(times)
        own = np.linspace(-0.5, 1, len(fit.players))
        joint, _ = fit.outlook.joint(own, np.full(len(own), times[0]))
        for row, who in enumerate(fit.players):
            expected = [world.by_hand.share(key, who, time) for time in times]
            assert expit(middle[row]) == pytest.approx(expected, abs=1e-9)
            assert sd[row, 2] == pytest.approx(world.by_hand.sd(key, who, times[2]), rel=1e-5)
            at_own = world.by_hand.share(key, who, own[row])
            assert expit(joint[row]) == pytest.approx([at_own, expected[0]], abs=1e-9)


@settings(max_examples=8, deadline=None)
@given(SEEDS, st.booleans(), st.booleans())
def test_a_standing_is_the_one_by_hand(seed, shared, met):
    """Its interval is that of the share by hand at the end of their time, its share the mean of that."""
    world = World(seed, shared, met)
    number = {p.number: p.id.bytes for p in world.roster}
    for one in standings_of(world.cells, world.roster, world.skills, shared=shared):
        if one.doubt:
            continue
        who = number[one.player]
        now, start = world.by_hand.now(one.skill, who), world.by_hand.start(one.skill, who)
        middle, sd = logit(world.by_hand.share(one.skill, who, now)), world.by_hand.sd(one.skill, who, now)
        ends = expit(middle + np.array([-Z, Z]) * sd)
        assert (one.low, one.high) == pytest.approx(tuple(ends), abs=1e-6)
        assert one.share == pytest.approx(_mean(middle, sd), abs=1e-6)
        first = logit(world.by_hand.share(one.skill, who, start)), world.by_hand.sd(one.skill, who, start)
        assert one.start_share == pytest.approx(_mean(*first), abs=1e-6)
        assert [world.by_hand.time(str(one.path[at].on)) for at in (0, -1)] == [start, now]
        assert one.p_below == pytest.approx(norm.cdf(logit(one.target), middle, sd), abs=1e-6)


def _mean(middle: float, sd: float) -> float:
    """Return the mean of a share whose logit is normal, by adaptive integration."""
    span = middle - 9 * sd, middle + 9 * sd
    return quad(lambda at: expit(at) * norm.pdf(at, middle, sd), *span, epsabs=1e-10)[0]


def test_the_share_is_the_mean_and_not_the_median():
    """Where little is known and nearly all came off the two part, and both shares told are the mean."""
    who, rest = player(7), [player(n) for n in range(20, 24)]
    rows = [cell(one, "stop", week, 3, 3) for one in (who, *rest) for week in range(4)]
    one, *_ = standings_of(cells_frame(rows), [who, *rest], [skill("stop")])
    for share, point in ((one.share, one.path[-1]), (one.start_share, one.path[0])):
        middle = (logit(point.low) + logit(point.high)) / 2
        sd = (logit(point.high) - middle) / Z
        assert share == point.share == pytest.approx(_mean(middle, sd), abs=1e-6)
        assert share < expit(middle) - 0.01


@settings(max_examples=8, deadline=None)
@given(SEEDS, st.booleans(), st.booleans())
def test_reasons_are_the_way_by_hand(seed, shared, met):
    """Each move is the difference of two shares by hand, between which only that one thing became usual."""
    world = World(seed, shared, met)
    number = {p.number: p.id.bytes for p in world.roster}
    for one in standings_of(world.cells, world.roster, world.skills, shared=shared):
        if one.doubt:
            continue
        who = number[one.player]
        stages = world.by_hand.stages(one.skill, who, world.by_hand.now(one.skill, who))
        every = [part for reason in one.reasons for part in (reason.gathered or (reason,))]
        moved = {reason.cause: reason.moved for reason in every}
        order = (Cause.OBSERVER, Cause.DAYS, Cause.PRESSURE, Cause.STEP, Cause.OPPONENT, Cause.CHANGE)
        # what could not have moved it is left out
        assert [moved.get(cause, 0) for cause in order] == pytest.approx(list(np.diff(stages)), abs=1e-9)
        assert sum(moved.values()) == pytest.approx(one.share - one.done / one.tries, abs=1e-9)


@settings(max_examples=8, deadline=None)
@given(SEEDS)
def test_coverage_is_the_one_by_hand(seed):
    """Whoever was never seen in a skill, or never at all, has what the coefficients say and their spread."""
    world = World(seed, shared=True)
    number = {p.number: p.id.bytes for p in world.roster}
    for one in coverage_of(world.cells, world.roster, world.skills):
        who = number[one.player]
        if not one.known:
            continue
        now = world.by_hand.now(one.skill, who)
        middle = logit(world.by_hand.share(one.skill, who, now))
        sd = np.hypot(world.by_hand.sd(one.skill, who, now), world.by_hand.spread(one.skill, who, now))
        ends = expit(middle + np.array([-Z, Z]) * sd)
        assert (one.low, one.high) == pytest.approx(tuple(ends), abs=1e-6)
