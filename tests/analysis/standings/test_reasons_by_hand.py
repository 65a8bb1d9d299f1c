"""What is told beside a move equals what is counted and written out by hand from the fit's coefficients.

How sure a move is; what a kind of try costs the team and how sure that is; which kind is named, how many of
the player's tries were of it, how many of the team's, and the month that holds most of them.
"""

from collections import Counter
from datetime import date

import numpy as np
import pytest
from by_hand import LEVEL, SLOPE, SeasonByHand, Tried
from season_by_hand import World, Z

from evaltrack.analysis.standings.standing import Cause, Reason, Standing
from evaltrack.analysis.standings.standings import standings_of

WALKED = (Cause.OBSERVER, Cause.DAYS, Cause.PRESSURE, Cause.STEP, Cause.CHANGE)


def told(world: World) -> list[tuple[Standing, bytes]]:
    """Return the standings that have reasons, each with its player's id."""
    number = {p.number: p.id.bytes for p in world.roster}
    found = standings_of(world.cells, world.roster, world.skills, shared=world.shared)
    return [(one, number[one.player]) for one in found if one.reasons]


@pytest.mark.parametrize(("seed", "shared"), [(11, True), (12, False)])
def test_how_sure_a_move_is(seed, shared):
    """The 90 % interval of a move has the SD that it has by small steps along every coefficient."""
    world = World(seed, shared)
    by_hand, (_, cov) = world.by_hand, world.by_hand.moments()
    for one, who in told(world)[::4]:
        now = by_hand.now(one.skill, who)
        slopes = np.diff(by_hand.slopes(lambda beta, a=(one.skill, who, now): by_hand.stages(*a, beta)))
        for cause, slope in zip(WALKED, slopes.T, strict=True):
            reason = next(reason for reason in one.reasons if reason.cause is cause)
            sd = Z * np.sqrt(slope @ cov @ slope)
            assert reason.moved - reason.low == pytest.approx(sd, rel=1e-4, abs=1e-7)
            assert reason.high - reason.moved == pytest.approx(sd, rel=1e-4, abs=1e-7)


class Kinds:
    """The kinds of try of one cause in a skill: how far a try is of each, and what each costs the team."""

    def __init__(self, by_hand: SeasonByHand, skill: str, cause: Cause):
        self._by_hand, self._skill, self._cause = by_hand, skill, cause
        values = {
            Cause.OBSERVER: by_hand.observers, Cause.STEP: by_hand.steps, Cause.PRESSURE: [(skill, "")]
        }[cause]  # fmt: skip
        self.names = [value for key, value in values if key == skill]

    def part(self, tried: Tried, name: str) -> float:
        """Return how far a try is of a kind: wholly or not at all, but for pressure that was not noted."""
        if self._cause is Cause.PRESSURE:
            return self._by_hand.pressed(tried)
        return name == (tried.observer if self._cause is Cause.OBSERVER else tried.step)

    def cost(self, name: str, beta=None) -> float:
        """Return how many points lower the team's share is in tries of this kind than in others."""
        mix = self._by_hand.mix(self._skill)
        if self._cause is Cause.OBSERVER:
            others = {who: part for who, part in self._by_hand.seen_by(self._skill).items() if who != name}
            whole = sum(others.values())
            others = {who: part / whole for who, part in others.items()}
            return self._team(mix, beta, others) - self._team(mix, beta, {name: 1.0}) if others else 0.0
        if self._cause is Cause.PRESSURE:
            free, under = Counter(), Counter()
            for (step, _), part in mix.items():
                free[step, 0.0] += part
                under[step, 1.0] += part
            return self._team(free, beta) - self._team(under, beta)
        here = {kind: part for kind, part in mix.items() if kind[0] == name}
        elsewhere = {kind: part for kind, part in mix.items() if kind[0] != name}
        return self._team(elsewhere, beta) - self._team(here, beta) if elsewhere else 0.0

    def _team(self, kinds, beta, seen_by=None) -> float:
        return self._by_hand.team(self._skill, kinds, seen_by, beta)


def _month(tries: Counter, all_tries: Counter) -> int:
    """Return the month with more than half of these tries, unless it has more than half of all."""
    for month, count in tries.items():
        if 2 * count > tries.total() and 2 * all_tries[month] <= all_tries.total():
            return month
    return 0


def _expected(by_hand: SeasonByHand, skill: str, player: bytes, reason: Reason) -> tuple:
    kinds = Kinds(by_hand, skill, reason.cause)
    team = [t for t in by_hand.tried if t.skill == skill]
    own = [t for t in team if t.player == player]

    def count(tried, name):
        return sum(t.tries * kinds.part(t, name) for t in tried)

    def part(tried, name):
        return count(tried, name) / sum(t.tries for t in tried)

    costs = {name: kinds.cost(name) for name in kinds.names}
    moves = {n: (part(own, n) - part(team, n)) * costs[n] * np.sign(reason.moved) for n in kinds.names}
    met = [name for name in kinds.names if len(kinds.names) == 1 or count(own, name)]
    name = max(met, key=moves.get)
    months, all_months = Counter(), Counter()
    for t in own:
        months[date.fromisoformat(t.day).month] += t.tries * kinds.part(t, name)
        all_months[date.fromisoformat(t.day).month] += t.tries
    return name, count(own, name), part(team, name), costs[name], _month(months, all_months)


@pytest.mark.parametrize("shared", [True, False])
@pytest.mark.parametrize("seed", range(4))
def test_which_kind_is_named_and_what_it_costs(seed, shared):
    """Of the kinds he met, the one that he met oftener or more seldom than usual and that moved most."""
    world = World(seed, shared)
    for one, who in told(world):
        for reason in one.reasons:
            if reason.cause not in (Cause.OBSERVER, Cause.PRESSURE, Cause.STEP):
                assert (reason.named, reason.tries, reason.month, reason.cost) == ("", 0, 0, 0)
                continue
            name, tries, usual, cost, month = _expected(world.by_hand, one.skill, who, reason)
            assert (reason.named, reason.month) == (name, month)
            assert abs(reason.tries - tries) <= 0.5
            assert (reason.usual, reason.cost) == pytest.approx((usual, cost), abs=1e-9)


def test_how_sure_a_cost_is():
    """Its 90 % interval has the SD that it has by small steps along what all players have in common."""
    world = World(12, shared=False)
    by_hand, (_, cov) = world.by_hand, world.by_hand.moments()
    sizes = [len(by_hand.fit.fixed), *map(len, by_hand.fit.effects)]
    common = np.ones(sum(sizes))
    common[: len(by_hand.means)] = 0
    for term in (LEVEL, SLOPE):
        common[sum(sizes[: term + 1]) : sum(sizes[: term + 2])] = 0
    seen = set()
    for one, _ in told(world):
        for reason in one.reasons:
            kind = one.skill, reason.cause, reason.named
            if reason.cause not in (Cause.OBSERVER, Cause.PRESSURE, Cause.STEP) or kind in seen:
                continue
            seen.add(kind)
            kinds = Kinds(by_hand, one.skill, reason.cause)
            slope = common * by_hand.slopes(lambda beta, k=kinds, n=reason.named: k.cost(n, beta))
            sd = Z * np.sqrt(slope @ cov @ slope)
            assert reason.cost - reason.cost_low == pytest.approx(sd, rel=1e-4, abs=1e-7)
            assert reason.cost_high - reason.cost == pytest.approx(sd, rel=1e-4, abs=1e-7)
    assert len(seen) > 4
