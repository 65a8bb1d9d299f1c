"""What is said of the whole team, against simulated truth and against the players' own standings.

Cases: three simulated seasons; a team of one player; the mean of the standings; the sum of the chances of
being at the target; the order of the team; somebody who left, or joined; one practice; a hard step; one step;
no try at all.
"""

from dataclasses import astuple, replace
from datetime import timedelta
from uuid import UUID

import numpy as np
import pandas as pd
import pytest
from bench_team import COLUMNS, judged
from hypothesis import given
from hypothesis import strategies as st
from seasons import FIRST, cell, player, season, skill
from simulated_season import World, simulate

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.season.skill_tries import skill_tries
from evaltrack.analysis.standings.costs import kinds_of_causes
from evaltrack.analysis.standings.reasons import wide_of
from evaltrack.analysis.standings.standing import Cause, Trend
from evaltrack.analysis.standings.standings import positions_of, standings_of
from evaltrack.analysis.standings.targets import Below
from evaltrack.analysis.standings.targets import judged as who_can_be_judged
from evaltrack.analysis.team.course import reached_of
from evaltrack.analysis.team.courses import team_courses
from evaltrack.rink.player import Position, Status


def told(cells, roster, catalogue, *targets):
    """Return what is said of the team, fitted as standings are."""
    wanted = {one.key: targets or (one.target,) for one in catalogue}
    return team_courses(cells, fit_season(cells, positions_of(roster)), roster, wanted)


def test_intervals_hold_the_truth_of_simulated_seasons():
    """Nine in ten do, give or take what three seasons can tell; those of whole players may do oftener."""
    world = World()
    seasons = (simulate(np.random.default_rng(seed), world) for seed in range(3))
    rows = pd.DataFrame([row for one in seasons for row in judged(one, world)], dtype=float)
    held = rows[[name for name in COLUMNS if name not in ("width", "said", "wrong")]].mean()
    assert held.between(0.8, 1.0).all(), held
    assert 0.85 < held[["first", "middle", "last", "change", "steps", "pressure"]].mean() < 0.98
    assert rows["wrong"].mean() < 0.1


def test_a_team_of_one_player_goes_as_that_player():
    """Day by day, with the same intervals and the same change."""
    cells, roster, catalogue = season()
    fits = fit_season(cells, positions_of(roster))
    alone = team_courses(cells, fits, roster[3:4], {one.key: (0.6,) for one in catalogue})
    mine = [one for one in standings_of(cells, roster, catalogue) if one.player == "4"]
    for team, standing in zip(alone, mine, strict=True):
        assert (team.players, team.tries, team.done) == (1, standing.tries, standing.done)
        assert team.seen == standing.seen
        assert [point.on for point in team.path] == [point.on for point in standing.path]
        for point, own in zip(team.path, standing.path, strict=True):
            assert (point.share, point.low, point.high50) == pytest.approx((own.share, own.low, own.high50))
        figures = (team.change, team.change_low, team.change_high)
        assert figures == pytest.approx((standing.change, standing.change_low, standing.change_high))


def test_the_team_is_the_mean_of_its_players_and_surer_than_they_are():
    """Now and at the start, to half a point; and as many at the target as the sum of their chances."""
    cells, roster, catalogue = season(seed=3)
    standings = standings_of(cells, roster, catalogue)
    for team in told(cells, roster, catalogue):
        own = [one for one in standings if one.skill == team.skill]
        assert team.path[-1].share == pytest.approx(np.mean([one.share for one in own]), abs=0.005)
        assert team.path[0].share == pytest.approx(np.mean([one.start_share for one in own]), abs=0.005)
        width = team.path[-1].high - team.path[-1].low
        assert width < min(one.high - one.low for one in own)
        (reached,) = team.reached
        known = who_can_be_judged(standings, team.skill)
        assert reached.of == len(known)
        assert reached.now == pytest.approx(sum(1 - one.p_below for one in known))
        assert 0 <= reached.now_low <= reached.now <= reached.now_high <= reached.of
        assert 0 <= reached.then_low <= reached.then <= reached.then_high <= reached.of


def test_a_higher_target_is_reached_by_fewer():
    """Whatever the season: both in what is expected and in its interval."""
    cells, roster, catalogue = season(seed=5)
    for team in told(cells, roster, catalogue, 0.3, 0.6, 0.9):
        for low, high in zip(team.reached, team.reached[1:], strict=False):
            assert (low.then > high.then, low.now > high.now) == (True, True)
            assert (low.now_low >= high.now_low, low.now_high >= high.now_high) == (True, True)


def test_the_order_of_the_team_changes_nothing_and_who_left_does_not_count():
    """The tries of who left count towards the fit alone."""
    cells, roster, catalogue = season()
    for one, other in zip(told(cells, roster[::-1], catalogue), told(cells, roster, catalogue), strict=True):
        figures = [
            (t.players, t.tries, t.change, t.path[-1].share, *astuple(t.reached[0])) for t in (one, other)
        ]
        assert figures[0] == pytest.approx(figures[1], abs=1e-9)
    gone = [replace(roster[0], status=Status.LEFT), *roster[1:]]
    for team in told(cells, gone[1:], catalogue):
        assert team.players == len(roster) - 1
        assert team.tries == int(cells[cells["skill"] == team.skill]["tries"].sum()) - 8 * 3


def test_a_player_counts_whatever_the_bytes_of_their_id():
    """One id in 256 ends with a zero byte, which some comparisons of bytes leave out."""
    roster = [player(n) for n in range(1, 7)]
    ends = zip(roster, (b"\0\0", b"\0 ", b" \0", b"\1\0", b"\xff\0", b"\xff\xff"), strict=True)
    roster = [replace(one, id=UUID(bytes=one.id.bytes[:14] + end)) for one, end in ends]
    rows = [cell(who, "s", week, 4, 2) for who in roster for week in range(4)]
    (team,) = told(cells_frame(rows), roster, [skill("s")])
    assert (team.players, team.tries) == (6, 6 * 4 * 4)


def test_who_joins_late_counts_before_as_when_they_came():
    """A strong player who comes for the last two of ten practices does not make the team go up."""
    roster = [player(n) for n in range(1, 8)]
    rows = [cell(who, "s", week, 6, 3) for who in roster[:6] for week in range(10)]
    rows += [cell(roster[6], "s", week, 6, 6) for week in (8, 9)]
    (team,) = told(cells_frame(rows), roster, [skill("s")])
    assert team.players == 7
    assert abs(team.change) < 0.05
    assert team.trend is Trend.NO_CLEAR_CHANGE
    assert team.path[-1].on == FIRST + timedelta(weeks=9)


def test_one_practice_gives_the_plain_count_and_why():
    """No path, no cost, nobody at a target; what was counted stands."""
    roster = [player(n) for n in range(1, 6)]
    (team,) = told(cells_frame([cell(who, "s", 0, 4, 3) for who in roster]), roster, [skill("s")])
    assert (team.tries, team.done, team.practices, team.players) == (20, 15, 1, 5)
    assert (team.path, team.costs, team.reached, team.trend) == ((), (), (), Trend.NO_CLEAR_CHANGE)
    assert (team.change, team.change_low, team.change_high) == (0, -1, 1)
    assert "watched too little" in team.doubt


def test_a_hard_step_costs_and_a_lone_step_costs_nothing():
    """The interval of the hard one lies above zero, and what it costs the easy one gains."""
    roster = [player(n) for n in range(1, 9)]
    rows = [
        cell(who, "s", week, 6, done, step=step)
        for who in roster
        for week in range(8)
        for step, done in (("easy", 5), ("hard", 1))
    ]
    easy, hard = told(cells_frame(rows), roster, [skill("s")])[0].costs
    assert (easy.named, hard.named) == ("breakout_attack/easy", "breakout_attack/hard")
    assert {easy.cause, hard.cause} == {Cause.STEP}
    assert (easy.tries, hard.tries, hard.done, hard.others) == (8 * 8 * 6, 8 * 8 * 6, 8 * 8, 8 * 8 * 6)
    assert hard.cost == pytest.approx(-easy.cost)
    assert hard.low > 0.3
    assert easy.high < -0.3
    lone = [cell(who, "s", week, 6, 3) for who in roster for week in range(8)]
    (team,) = told(cells_frame(lone), roster, [skill("s")])
    (step,) = team.costs
    assert (step.others, step.cost, step.low, step.high) == (0, 0, 0, 0)
    assert team.compared == []


def test_pressure_costs_where_some_tries_were_under_it_and_some_were_not():
    """Counted where it was noted; the interval lies above zero; of one kind alone nothing is told."""
    roster = [player(n) for n in range(1, 9)]
    noted = [
        cell(who, "s", week, 6, done, pressure=pressure)
        for who in roster
        for week in range(8)
        for pressure, done in ((0, 5), (1, 2), (None, 4))
    ]
    step, cost = told(cells_frame(noted), roster, [skill("s")])[0].costs
    assert (step.cause, step.tries, step.others) == (Cause.STEP, 3 * 8 * 8 * 6, 0)
    assert (cost.cause, cost.named) == (Cause.PRESSURE, "yes")
    assert (cost.tries, cost.done, cost.others) == (8 * 8 * 6, 8 * 8 * 2, 8 * 8 * 6)
    assert 0.2 < cost.low < cost.cost < cost.high < 0.8
    always = [cell(who, "s", week, 6, 3, pressure=1) for who in roster for week in range(8)]
    assert [one.cause for one in told(cells_frame(always), roster, [skill("s")])[0].costs] == [Cause.STEP]


def test_nothing_is_said_without_a_try_of_the_team():
    """Neither of an empty season nor of a team whose tries are all of others."""
    cells, roster, catalogue = season(players=3, practices=3)
    assert team_courses(cells, fit_season(cells), [player(40)], {one.key: (0.6,) for one in catalogue}) == []
    assert team_courses(cells_frame([]), {}, roster, {one.key: (0.6,) for one in catalogue}) == []


def test_what_a_step_costs_is_reckoned_in_the_mix_of_all_groups():
    """Defenders meet steps in another mix than forwards: middle and width are those of neither alone."""
    groups = [Position.DEFENCE] * 4 + [Position.FORWARD] * 4
    roster = [player(n, group) for n, group in enumerate(groups, 1)]
    mixes = {
        Position.DEFENCE: {"easy": 6, "mid": 1, "hard": 1},
        Position.FORWARD: {"easy": 1, "mid": 5, "hard": 2},
    }
    rows = [
        cell(who, "s", week, tries, round(tries * share), step=step)
        for who in roster
        for week in range(8)
        for (step, tries), share in zip(mixes[who.position].items(), (0.8, 0.6, 0.3), strict=True)
    ]
    cells = cells_frame(rows)
    fit = fit_season(cells, positions_of(roster))["s"]
    (team,) = team_courses(cells, {"s": fit}, roster, {"s": (0.6,)})
    known, wide = kinds_of_causes(skill_tries(fit))[Cause.STEP], wide_of(fit, Cause.STEP)
    assert len(known.costs) > 2  # a row for each group, defenders and forwards first, and the last for all
    for cost, middle, sd, others in zip(team.costs, known.costs[-1], known.sds[-1], known.sds.T, strict=True):
        assert (cost.cost, cost.high - cost.cost) == pytest.approx((middle, wide * sd))
        assert min(abs(others[:2] - sd)) > 1e-4


@given(st.floats(0, 20), st.floats(0, 20), st.integers(20, 24))
def test_whoever_is_not_below_a_target_is_at_it(then, now, of):
    """In whole players too: nobody is told on both sides, or on none."""
    pair = [Below(0.6, of, expected, int(expected), int(expected) + 1) for expected in (then, now)]
    reached = reached_of(*pair)
    for one, expected, ends, about in zip(
        pair,
        (reached.then, reached.now),
        ((reached.then_low, reached.then_high), (reached.now_low, reached.now_high)),
        reached.about,
        strict=True,
    ):
        assert one.expected + expected == pytest.approx(of)
        assert (of - one.high, of - one.low) == ends
        assert one.about + about == of
