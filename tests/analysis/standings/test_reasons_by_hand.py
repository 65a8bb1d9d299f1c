"""What is told beside a move equals what is counted and written out by hand from the fit's coefficients.

How sure a move is; what a kind of try costs the team and how sure that is; which kind is named, how many of
the player's tries were of it, how many of the team's, and the month that holds most of them.
"""

from collections import Counter
from datetime import date

import numpy as np
import pytest
from by_hand import LEVEL, OWN_LEVEL, OWN_SLOPE, SLOPE, SeasonByHand, Tried
from scipy.stats import t as student
from season_by_hand import World, Z

from evaltrack.analysis.standings.standing import LEAST_MOVE, Cause, Reason, Standing
from evaltrack.analysis.standings.standings import standings_of

WALKED = (Cause.OBSERVER, Cause.DAYS, Cause.PRESSURE, Cause.STEP, Cause.OPPONENT, Cause.CHANGE)
WITH_KINDS = (Cause.OBSERVER, Cause.PRESSURE, Cause.STEP, Cause.OPPONENT)


def every(standing: Standing) -> list[Reason]:
    """Return each cause of a standing by itself, those in the rest too."""
    return [one for reason in standing.reasons for one in (reason.gathered or (reason,))]


def wide(world: World, cause: Cause) -> float:
    """Return the quantile of an interval: of a t with as many degrees as there are effects of the cause."""
    by_hand = world.by_hand
    effects = {Cause.OBSERVER: by_hand.observers, Cause.DAYS: by_hand.days, Cause.STEP: by_hand.steps}
    effects[Cause.OPPONENT] = by_hand.opponents
    return float(student.ppf(0.95, len(effects[cause]))) if cause in effects else Z


def told(world: World) -> list[tuple[Standing, bytes]]:
    """Return the standings that have reasons, each with its player's id."""
    number = {p.number: p.id.bytes for p in world.roster}
    found = standings_of(world.cells, world.roster, world.skills, shared=world.shared)
    return [(one, number[one.player]) for one in found if one.reasons]


@pytest.mark.parametrize(("seed", "shared", "met"), [(11, True, False), (12, False, False), (11, True, True)])
def test_how_far_and_how_surely_each_cause_moved(seed, shared, met):
    """A move is a stage of the way; its interval has the SD that small steps along each coefficient give.

    Luck is as sure as the share at the start of the way, and the rest as the sum of what it gathers.
    """
    world = World(seed, shared, met)
    by_hand, (_, cov) = world.by_hand, world.by_hand.moments()
    for one, who in told(world)[::4]:
        where = one.skill, who, by_hand.now(one.skill, who)
        walked = by_hand.stages(*where)
        along = by_hand.slopes(lambda beta, where=where: by_hand.stages(*where, beta))
        slopes = dict(zip((Cause.LUCK, *WALKED), [along[:, 0], *np.diff(along).T], strict=True))
        moves = dict(zip(WALKED, np.diff(walked), strict=True))
        moves[Cause.LUCK] = one.share - one.done / one.tries - sum(moves.values())
        for reason in (*every(one), *(r for r in one.reasons if r.gathered)):
            parts = [part.cause for part in reason.gathered] or [reason.cause]
            slope, quantile = sum(slopes[part] for part in parts), max(wide(world, part) for part in parts)
            doubt = quantile * np.sqrt(slope @ cov @ slope)
            assert reason.moved == pytest.approx(sum(moves[part] for part in parts), abs=1e-9)
            assert reason.moved - reason.low == pytest.approx(doubt, rel=1e-4, abs=1e-7)
            assert reason.high - reason.moved == pytest.approx(doubt, rel=1e-4, abs=1e-7)


def test_what_moved_less_than_two_points_is_the_rest():
    """The others come first, by how far they moved it; what cannot have moved it is left out altogether."""
    for one, _ in told(World(11, True)):
        rest = [reason for reason in one.reasons if reason.cause is Cause.REST]
        named = [reason for reason in one.reasons if reason.cause is not Cause.REST]
        assert [*named, *rest] == list(one.reasons)
        assert [r.moved for r in named] == sorted((r.moved for r in named), key=abs, reverse=True)
        assert all(abs(r.moved) >= LEAST_MOVE and not r.gathered for r in named)
        assert all(abs(r.moved) < LEAST_MOVE for r in every(one) if r not in named)
        assert all(r.low < r.high for r in every(one))
        assert len({r.cause for r in every(one)}) == len(every(one))


class Kinds:
    """The kinds of try of one cause in a skill: how far a try is of each, and what each costs the team."""

    def __init__(self, by_hand: SeasonByHand, skill: str, who: bytes, cause: Cause):
        self._by_hand, self._skill, self._who, self._cause = by_hand, skill, who, cause
        values = {
            Cause.OBSERVER: by_hand.observers,
            Cause.STEP: by_hand.steps,
            Cause.PRESSURE: [(skill, "no"), (skill, "yes")],
            Cause.OPPONENT: by_hand.opponents,
        }[cause]  # fmt: skip
        self.names = [value for key, value in values if key == skill]

    def part(self, tried: Tried, name: str) -> float:
        """Return how far a try is of a kind: wholly or not at all, but for pressure that was not noted."""
        if self._cause is Cause.PRESSURE:
            pressed = self._by_hand.pressed(tried)
            return pressed if name == "yes" else 1 - pressed
        if self._cause is Cause.OPPONENT:
            return name == tried.opponent
        return name == (tried.observer if self._cause is Cause.OBSERVER else tried.step)

    def usual(self, name: str) -> float:
        """Return how often the kind comes: of all tries an observer's, in the player's group any other."""
        if self._cause is Cause.OBSERVER:
            return self._by_hand.seen_by(self._skill)[name]
        if self._cause is Cause.OPPONENT:
            return self._by_hand.met(self._skill, self._who).get(name, 0.0)
        mix = self._by_hand.mix(self._skill, self._who)
        if self._cause is Cause.STEP:
            return sum(part for (step, _), part in mix.items() if step == name)
        pressed = sum(part * under for (_, under), part in mix.items())
        return pressed if name == "yes" else 1 - pressed

    def cost(self, name: str, beta=None) -> float:
        """Return how many points lower the team's share is in tries of this kind than in others."""
        mix = self._by_hand.mix(self._skill, self._who)
        if self._cause in (Cause.OBSERVER, Cause.OPPONENT):
            whose = "seen_by" if self._cause is Cause.OBSERVER else "met"
            seen_by, met = self._by_hand.seen_by(self._skill), self._by_hand.met(self._skill, self._who)
            others = {
                who: part for who, part in {"seen_by": seen_by, "met": met}[whose].items() if who != name
            }
            if not others:
                return 0.0
            others = {who: part / sum(others.values()) for who, part in others.items()}
            usual, alone = (self._team(mix, beta, **{whose: part}) for part in (others, {name: 1.0}))
            return usual - alone
        if self._cause is Cause.PRESSURE:
            free, under = Counter(), Counter()
            for (step, _), part in mix.items():
                free[step, 0.0] += part
                under[step, 1.0] += part
            cost = self._team(free, beta) - self._team(under, beta)
            return cost if name == "yes" else -cost
        here = {kind: part for kind, part in mix.items() if kind[0] == name}
        elsewhere = {kind: part for kind, part in mix.items() if kind[0] != name}
        return self._team(elsewhere, beta) - self._team(here, beta) if here and elsewhere else 0.0

    def _team(self, kinds, beta, seen_by=None, met=None) -> float:
        met = met or self._by_hand.met(self._skill, self._who)
        return self._by_hand.team(self._skill, kinds, met, seen_by, beta)


def _month(tries: Counter, all_tries: Counter) -> int:
    """Return the month with more than half of these tries, unless it has more than half of all."""
    for month, count in tries.items():
        if 2 * count > tries.total() and 2 * all_tries[month] <= all_tries.total():
            return month
    return 0


def _expected(by_hand: SeasonByHand, skill: str, player: bytes, reason: Reason) -> tuple:
    """Return name, tries, usual, cost and month of the kind to name; nothing where none fits."""
    kinds = Kinds(by_hand, skill, player, reason.cause)
    own = [t for t in by_hand.tried if t.skill == skill and t.player == player]

    def count(name):
        return sum(t.tries * kinds.part(t, name) for t in own)

    oftener = {n: count(n) / sum(t.tries for t in own) - kinds.usual(n) for n in kinds.names}
    met = [name for name, part in oftener.items() if part > 1e-12]
    moves = {name: oftener[name] * kinds.cost(name) * np.sign(reason.moved) for name in met}
    if max(moves.values(), default=0) <= 1e-12:
        return "", 0, 0, 0, 0
    name = max(moves, key=moves.get)
    months, all_months = Counter(), Counter()
    for t in own:
        months[date.fromisoformat(t.day).month] += t.tries * kinds.part(t, name)
        all_months[date.fromisoformat(t.day).month] += t.tries
    return name, count(name), kinds.usual(name), kinds.cost(name), _month(months, all_months)


@pytest.mark.parametrize(("shared", "met"), [(True, False), (False, False), (True, True)])
@pytest.mark.parametrize("seed", range(4))
def test_which_kind_is_named_and_what_it_costs(seed, shared, met):
    """Of the kinds he met oftener than usual the one that moved most, if it moved as the whole did.

    An opponent is named by number.
    """
    world = World(seed, shared, met)
    numbers = {p.id.bytes: p.number for p in world.roster}
    for one, who in told(world):
        for reason in every(one):
            if reason.cause not in WITH_KINDS:
                assert (reason.named, reason.tries, reason.month, reason.cost) == ("", 0, 0, 0)
                continue
            name, tries, usual, cost, month = _expected(world.by_hand, one.skill, who, reason)
            assert (reason.named, reason.month) == (numbers.get(name, name), month)
            assert abs(reason.tries - tries) <= 0.5
            assert (reason.usual, reason.cost) == pytest.approx((usual, cost), abs=1e-9)


@pytest.mark.parametrize(("shared", "met"), [(True, False), (False, False), (True, True)])
def test_how_sure_a_cost_is(shared, met):
    """Its 90 % interval has the SD that it has by small steps along what all players have in common."""
    world = World(12, shared, met)
    ids = {p.number: p.id.bytes for p in world.roster}
    by_hand, (_, cov) = world.by_hand, world.by_hand.moments()
    sizes = [len(by_hand.fit.fixed), *map(len, by_hand.fit.effects)]
    common = np.ones(sum(sizes))
    common[: len(by_hand.means)] = 0
    for term in (LEVEL, SLOPE, OWN_LEVEL, OWN_SLOPE) if shared else (LEVEL, SLOPE):
        common[sum(sizes[: term + 1]) : sum(sizes[: term + 2])] = 0
    seen = set()
    for one, who in told(world):
        for reason in every(one):
            kind = one.skill, one.position, reason.cause, reason.named
            if not reason.named or kind in seen:
                continue
            seen.add(kind)
            kinds = Kinds(by_hand, one.skill, who, reason.cause)
            name = ids[reason.named] if reason.cause is Cause.OPPONENT else reason.named
            slope = common * by_hand.slopes(lambda beta, k=kinds, n=name: k.cost(n, beta))
            doubt = wide(world, reason.cause) * np.sqrt(slope @ cov @ slope)
            assert reason.cost - reason.cost_low == pytest.approx(doubt, rel=1e-4, abs=1e-7)
            assert reason.cost_high - reason.cost == pytest.approx(doubt, rel=1e-4, abs=1e-7)
    assert len(seen) > 4


def test_opponents_are_named():
    """In seasons in which some are known there is somebody to name, by number, and not only in the rest."""
    told_of = [r for seed in range(4) for one, _ in told(World(seed, True, True)) for r in every(one)]
    named = [r.named for r in told_of if r.cause is Cause.OPPONENT and r.named]
    assert len(named) > 10
    assert all(number.isdigit() for number in named)
