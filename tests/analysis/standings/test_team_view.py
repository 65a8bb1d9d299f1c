"""The team in a skill: the mean of its players' shares, a change with enough doubt, what steps cost."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from seasons import cell, player, season, skill
from simulated_season import World, catalogue, cells, roster, simulate

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.standing import Call, Cause, Trend
from evaltrack.analysis.standings.standings import standings_of
from evaltrack.analysis.standings.team_view import team_of
from evaltrack.rink.player import Status


def team(frame, players, skills):
    """Return the standings of some cells, and what the team does by skill."""
    fits = {}

    def fit(*args):
        fits.update(fit_season(*args))
        return fits

    standings = standings_of(frame, players, skills, fit=fit)
    return standings, {one.skill: one for one in team_of(fits, standings, players)}


def test_the_team_is_the_mean_of_its_players():
    """Share, start and change are those of the standings that are shown; counts are those of all."""
    standings, found = team(*season(players=10, skills=2))
    for key, one in found.items():
        own = [s for s in standings if s.skill == key]
        shown = [s for s in own if s.call is not Call.TOO_FEW]
        assert one.players == len(shown)
        assert (one.tries, one.done) == (sum(s.tries for s in own), sum(s.done for s in own))
        for name in ("share", "start_share", "change"):
            assert getattr(one, name) == pytest.approx(np.mean([getattr(s, name) for s in shown]))
        assert one.change_low < one.change < one.change_high


def test_who_has_left_is_not_in_the_mean():
    """Their tries stay in the fit; the team is who is on it."""
    frame, players, skills = season(players=10, skills=1)
    gone = [replace(players[0], status=Status.LEFT), *players[1:]]
    _, whole = team(frame, players, skills)
    _, rest = team(frame, gone, skills)
    assert rest["s0"].players == whole["s0"].players - 1
    assert rest["s0"].share > whole["s0"].share  # the first player is the weakest one


def test_a_harder_step_costs_and_its_counterpart_is_easier():
    """Two steps: what one costs the other gains, each with the doubt of the difference."""
    rng, players = np.random.default_rng(3), [player(n) for n in range(1, 13)]
    rows = []
    for who, week in product(players, range(12)):
        step, share = ("hard", 0.4) if week % 2 else ("easy", 0.75)
        rows.append(cell(who, "stop", week, 4, rng.binomial(4, share), step=step))
    _, found = team(cells_frame(rows), players, [skill("stop")])
    costs = {cost.named.split("/")[1]: cost for cost in found["stop"].costs}
    assert set(costs) == {"hard", "easy"}
    assert all(cost.cause is Cause.STEP for cost in costs.values())
    assert costs["hard"].cost_low > 0.1
    assert costs["easy"].cost == pytest.approx(-costs["hard"].cost)
    assert (costs["hard"].tries, costs["hard"].others) == (6 * 4 * 12, 6 * 4 * 12)


def test_of_too_little_nothing_is_claimed():
    """One practice gives no share of anybody, so there is no mean, no change and no trend."""
    who = player(1)
    _, found = team(cells_frame([cell(who, "stop", 0, 4, 3)]), [who], [skill("stop")])
    one = found["stop"]
    assert (one.players, one.tries, one.done, one.trend, one.costs) == (0, 4, 3, Trend.NO_CLEAR_CHANGE, ())


def test_the_interval_of_the_change_holds_the_truth():
    """In simulated seasons at least 88 of 100 do; there is no promise that they are not too wide."""
    world, held = World(players=12, skills=4, practices=16), []
    for seed in range(8):
        made = simulate(np.random.default_rng(seed), world)
        players, skills = roster(world), catalogue(world)
        standings, found = team(cells(made, players), players, skills)
        for number, key in enumerate(f"s{n}" for n in range(world.skills)):
            shown = [s for s in standings if s.skill == key and s.call is not Call.TOO_FEW]
            true = np.mean([made.truth_change[int(s.player) - 1, number] for s in shown])
            held.append(found[key].change_low <= true <= found[key].change_high)
    assert np.mean(held) >= 0.88
