"""What groups must be: plain values of who and where, and every rule checked without a solver."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from evaltrack.rink.plan import Grouping, Wish, WishKind
from evaltrack.rink.player import Position

TIERS = 3  # parts of the team by level: each is spread over all groups when they are to be mixed
SPREAD = (Position.DEFENCE, Position.GOALIE)  # so are these; forwards fill what is left
UNFIT, UNEVEN, UNMIXED, LEAST = 3.0, 10.0, 1.0, 0.5  # costs; the last is that of all gains or levels together


@dataclass(frozen=True, slots=True)
class Member:
    """Somebody to be put into a group.

    ``gain`` is what each station is worth to the player, in any unit; ``level`` how well they do, on any
    scale. A player who is ``limited`` takes no contact. Who is ``held`` stays at that station. Who plays
    in a second position ``also`` is spread with the first one, and has a part where either has one.
    """

    number: str
    position: Position
    gain: tuple[float, ...]
    level: float = 0.0
    limited: bool = False
    held: int | None = None
    also: Position | None = None

    def has_part(self, place: "Place") -> bool:
        """Say whether a station has a part for one of the player's positions."""
        return self.position in place.takes or self.also in place.takes


@dataclass(frozen=True, slots=True)
class Place:
    """A station: whether there is contact, and players of which positions have a part in its step."""

    contact: bool = False
    takes: frozenset[Position] = frozenset(Position)


@dataclass(frozen=True, slots=True)
class Grouped:
    """Which station each member has, in their order.

    ``gap`` is by how much the cost could still be lower; ``proven`` whether it cannot.
    """

    station: tuple[int, ...]
    cost: float
    gap: float
    proven: bool


def sizes(count: int, places: int) -> tuple[int, int]:
    """Return the fewest and the most of so many who may be in one of so many places: they differ by one."""
    return count // places, -(-count // places)


def bounds(members: Sequence[Member], places: int) -> list[tuple[int, int]]:
    """Return the fewest and most of each station: they differ by one, but where more are held there.

    The others are then spread evenly over the other stations.
    """
    held = Counter(one.held for one in members if one.held is not None)
    over: dict[int, int] = {}
    while True:
        left = places - len(over)
        fewest, most = sizes(len(members) - sum(over.values()), left) if left else (0, 0)
        more = {s: held[s] for s in range(places) if s not in over and held[s] > most}
        if not more:
            return [(over[s], over[s]) if s in over else (fewest, most) for s in range(places)]
        over |= more


def in_force(wish: Wish, before: Sequence[frozenset[str]]) -> Wish | None:
    """Return a wish as it must be met now: together or apart; None where there is nothing to meet."""
    if wish.kind is not WishKind.NOT_AGAIN:
        return wish
    were_together = any(wish.player in group and wish.other in group for group in before)
    return Wish(WishKind.APART, wish.player, wish.other) if were_together else None


def open_to(position: Position, places: Sequence[Place]) -> list[int]:
    """Return the stations over which a position is spread: those that have a part for it, else all."""
    return [at for at, place in enumerate(places) if position in place.takes] or list(range(len(places)))


def tiers(members: Sequence[Member]) -> list[list[int]]:
    """Return the skaters in equal parts by level, lowest first; equal levels by their order."""
    skaters = [at for at, one in enumerate(members) if one.position is not Position.GOALIE]
    ranked = sorted(skaters, key=lambda at: members[at].level)
    return [part for n in range(TIERS) if (part := ranked[_cut(ranked, n) : _cut(ranked, n + 1)])]


def _cut(ranked: Sequence[int], part: int) -> int:
    return round(len(ranked) * part / TIERS)


def single_costs(members: Sequence[Member], places: Sequence[Place], grouping: Grouping) -> list[list[float]]:
    """Return what it costs to put each member at each station, whoever else is there.

    A station without a part for any position of the player costs ``UNFIT``. Beyond that the gains that are
    missed, and for groups of like level how far a player's place in the order of levels is from the
    station's, cost ``LEAST`` at most, all together.
    """
    fine = _like_costs(members, places) if grouping is Grouping.ALIKE else _missed(members)
    worst = sum(max(row) for row in fine)
    scale = LEAST / worst if worst > 0 else 0.0
    return [
        [scale * cost + UNFIT * (not one.has_part(place)) for cost, place in zip(row, places, strict=True)]
        for one, row in zip(members, fine, strict=True)
    ]


def _missed(members: Sequence[Member]) -> list[list[float]]:
    return [[max(one.gain) - gain for gain in one.gain] for one in members]


def _like_costs(members: Sequence[Member], places: Sequence[Place]) -> list[list[float]]:
    """Return squared distances in the order of levels, each position in its own order."""
    part = [0.0] * len(members)
    for position in Position:
        own = [at for at, one in enumerate(members) if one.position is position]
        for rank, at in enumerate(sorted(own, key=lambda at: members[at].level)):
            part[at] = (rank + 0.5) / len(own)
    middles = [(at + 0.5) / len(places) for at in range(len(places))]
    return [[(mine - middle) ** 2 for middle in middles] for mine in part]


def spread_rules(
    members: Sequence[Member], places: Sequence[Place], grouping: Grouping
) -> list[tuple[list[int], list[int], float]]:
    """Return who is to be spread evenly over which stations, and what each one out of it costs."""
    found = []
    for position in SPREAD:
        own = [at for at, one in enumerate(members) if one.position is position]
        found.append((own, open_to(position, places), UNEVEN))
    if grouping is Grouping.MIXED:
        found += [(part, list(range(len(places))), UNMIXED) for part in tiers(members)]
    return [rule for rule in found if rule[0]]


def cost_of(
    station: Sequence[int], members: Sequence[Member], places: Sequence[Place], grouping: Grouping
) -> float:
    """Return the cost of groups, counted in plain Python."""
    alone = single_costs(members, places, grouping)
    cost = sum(alone[at][where] for at, where in enumerate(station))
    for who, over, each in spread_rules(members, places, grouping):
        fewest, most = sizes(len(who), len(over))
        held = Counter(station[at] for at in who)
        cost += each * sum(max(fewest - held[s], held[s] - most, 0) for s in over)
    return cost


def broken_rules(
    station: Sequence[int], members: Sequence[Member], places: Sequence[Place], wishes: Sequence[Wish]
) -> list[str]:
    """Say which rules groups break that must be kept: sizes, no contact for limited players, wishes."""
    held = Counter(station)
    ends = enumerate(bounds(members, len(places)))
    found = [f"station {s} has {held[s]}" for s, (fewest, most) in ends if not fewest <= held[s] <= most]
    found += [
        f"{one.number} is not held"
        for one, where in zip(members, station, strict=True)
        if one.held not in (None, where)
    ]
    found += [f"no station {s}" for s in held if not 0 <= s < len(places)]
    found += [
        f"{one.number} has contact"
        for one, where in zip(members, station, strict=True)
        if one.limited and places[where].contact
    ]
    where = {one.number: at for one, at in zip(members, station, strict=True)}
    for wish in wishes:
        same = where[wish.player] == where[wish.other]
        if same != (wish.kind is WishKind.TOGETHER):
            found.append(f"{wish.player} and {wish.other} are not {wish.kind}")
    return found
