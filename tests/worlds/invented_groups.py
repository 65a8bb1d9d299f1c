"""Teams to be put into groups, drawn from a seed, and the best groups found by looking at every one."""

from itertools import pairwise, product

import numpy as np

from evaltrack.analysis.planning.group_rules import Member, Place
from evaltrack.rink.plan import Grouping, Wish, WishKind
from evaltrack.rink.player import Position

Array = np.ndarray
_OTHER = {Position.DEFENCE: Position.FORWARD, Position.FORWARD: Position.DEFENCE}


def drawn_team(rng, players: int, stations: int, wishes: int, limited: float = 0.1):
    """Return members, stations and wishes of a random team; at least one station has no contact."""
    positions = rng.choice([*Position], players, p=[0.35, 0.55, 0.1])
    members = [
        Member(
            str(number),
            Position(position),
            tuple(rng.gamma(1.0, 1.0, stations).round(3).tolist()),
            float(rng.normal()),
            bool(rng.random() < limited),
            also=_OTHER.get(position) if number % 4 == 0 else None,  # every fourth skater plays both
        )
        for number, position in enumerate(positions.tolist())
    ]
    places = [_place(rng, number) for number in range(stations)]
    return members, places, drawn_wishes(rng, players, wishes)


def _place(rng, number: int) -> Place:
    left_out = rng.choice([*Position, None, None, None])
    takes = frozenset(position for position in Position if position != left_out)
    return Place(bool(number and rng.random() < 0.4), takes)


def drawn_wishes(rng, players: int, count: int) -> list[Wish]:
    """Return wishes between random players; they may contradict each other."""
    if players < 2:
        return []
    pairs = (rng.choice(players, 2, replace=False).tolist() for _ in range(count))
    kinds = (WishKind.TOGETHER, WishKind.APART)
    return [Wish(kinds[rng.integers(2)], str(one), str(two)) for one, two in pairs]


def every_assignment(players: int, stations: int) -> Array:
    """Return which station each player has, (n, players), in all groups whose sizes differ by one at most."""
    every = np.array([*product(range(stations), repeat=players)]).reshape(-1, players)
    held = np.stack([(every == station).sum(1) for station in range(stations)], axis=1)
    return every[held.max(1) - held.min(1) <= 1]


def that_keep(every: Array, members, places, wishes, contact: bool = True) -> Array:
    """Return those groups in which no limited player has contact and every wish is met."""
    kept = np.ones(len(every), bool)
    if contact:
        rough = np.array([place.contact for place in places])
        limited = np.array([one.limited for one in members])
        kept &= ~(rough[every] & limited).any(1)
    for wish in wishes:
        same = every[:, int(wish.player)] == every[:, int(wish.other)]
        kept &= same if wish.kind is WishKind.TOGETHER else ~same
    return every[kept]


def costs_by_hand(every: Array, members, places, grouping: Grouping) -> Array:
    """Return what groups cost (n,), written out from what the rules say and by none of their code."""
    stations, who = range(len(places)), range(len(members))
    fine = np.array(_fine(members, places, grouping), float)
    worst = fine.max(1).sum()
    fine = fine * (0.5 / worst) if worst else fine
    unfit = np.array([[not place.takes & {one.position, one.also} for place in places] for one in members])
    cost = sum((fine + 3 * unfit)[at, every[:, at]] for at in who)
    for position in (Position.DEFENCE, Position.GOALIE):
        own = [at for at in who if members[at].position is position]
        over = [s for s in stations if position in places[s].takes] or [*stations]
        cost = cost + 10 * _unevenness(every, own, over)
    if grouping is Grouping.MIXED:
        skaters = [at for at in who if members[at].position is not Position.GOALIE]
        ranked = sorted(skaters, key=lambda at: (members[at].level, at))
        cuts = [round(len(ranked) * third / 3) for third in range(4)]
        for low, high in pairwise(cuts):
            cost = cost + _unevenness(every, ranked[low:high], [*stations])
    return cost


def _fine(members, places, grouping: Grouping) -> list[list[float]]:
    if grouping is not Grouping.ALIKE:
        return [[max(one.gain) - gain for gain in one.gain] for one in members]
    part = {}
    for position in Position:
        own = [at for at, one in enumerate(members) if one.position is position]
        for rank, at in enumerate(sorted(own, key=lambda at: (members[at].level, at))):
            part[at] = (2 * rank + 1) / (2 * len(own))
    middles = [(2 * s + 1) / (2 * len(places)) for s in range(len(places))]
    return [[(part[at] - middle) ** 2 for middle in middles] for at in range(len(members))]


def _unevenness(every: Array, own: list[int], over: list[int]) -> Array:
    if not own:
        return np.zeros(len(every))
    fewest, most = len(own) // len(over), -(-len(own) // len(over))
    held = np.stack([(every[:, own] == station).sum(1) for station in over], axis=1)
    return (np.maximum(fewest - held, 0) + np.maximum(held - most, 0)).sum(1)
