"""What the meetings of an evening must be: each rule and the cost, in plain Python and without a solver."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from evaltrack.rink.meeting_evening import Evening, MeetingWish, MeetingWishKind
from evaltrack.rink.meeting_times import follows

# costs, whole numbers: an early end counts most, then the order of numbers, then the table that it gives
LATE, ASTRAY, OTHER_TABLE = 100, 4, 1


class Place(NamedTuple):
    """A round and a table, both from 0."""

    round: int
    table: int


@dataclass(frozen=True, slots=True)
class Rule:
    """What wishes ask of families, by index, by index.

    The sibling wishes of one family are one rule.
    """

    kind: MeetingWishKind
    families: tuple[int, ...]
    wishes: tuple[MeetingWish, ...]
    allowed: frozenset[Place] = frozenset()


@dataclass(frozen=True, slots=True)
class Grid:
    """The places of an evening. ``follows`` says of each round whether it comes straight after the last."""

    rounds: tuple
    tables: int
    follows: tuple[bool, ...]

    @property
    def places(self) -> list[Place]:
        """Return every place, in order of time."""
        return [Place(r, t) for r in range(len(self.rounds)) for t in range(self.tables)]

    def runs(self, length: int) -> list[tuple[Place, ...]]:
        """Return every run of so many places at one table, one straight after the other."""
        firsts = range(len(self.rounds) - length + 1)
        whole = [r for r in firsts if all(self.follows[r + 1 : r + length])]
        return [tuple(Place(r + n, t) for n in range(length)) for r in whole for t in range(self.tables)]


def grid_of(evening: Evening, rounds: Sequence) -> Grid:
    """Return the places of an evening."""
    on = tuple(follows(rounds, at, evening.minutes) for at in range(len(rounds)))
    return Grid(tuple(rounds), evening.tables, on)


def rules_of(evening: Evening, families: Sequence, grid: Grid) -> list[Rule]:
    """Return the rules of an evening's wishes about these families, in the order of the wishes."""
    at = {family: n for n, family in enumerate(families)}
    asked = [w for w in dict.fromkeys(evening.wishes) if w.players <= at.keys()]
    found, siblings = [], [w for w in asked if w.kind is MeetingWishKind.SIBLING]
    for wish in asked:
        if wish.kind is MeetingWishKind.SIBLING:
            if wish in siblings:
                rule = _sibling_rule(siblings, wish, at)
                siblings = [one for one in siblings if one not in rule.wishes]
                found.append(rule)
        elif wish.kind is MeetingWishKind.NOT_WITH:
            found.append(Rule(wish.kind, tuple(sorted(at[one] for one in wish.players)), (wish,)))
        elif wish.kind is not MeetingWishKind.NOT_COMING:
            allowed = frozenset(place for place in grid.places if _suits(wish, place, grid, evening))
            found.append(Rule(wish.kind, (at[wish.player],), (wish,), allowed))
    return found


def _sibling_rule(siblings: Sequence[MeetingWish], first: MeetingWish, at: dict) -> Rule:
    """Return one rule for all brothers and sisters of whom the wishes, taken together, speak."""
    family, before = first.players, frozenset()
    while family != before:
        before = family
        family = before.union(*(one.players for one in siblings if one.players & before))
    own = tuple(one for one in siblings if one.players & family)
    return Rule(first.kind, tuple(sorted(at[player] for player in family)), own)


def _suits(wish: MeetingWish, place: Place, grid: Grid, evening: Evening) -> bool:
    start = grid.rounds[place.round]
    match wish.kind:
        case MeetingWishKind.NOT_BEFORE:
            return start >= wish.at
        case MeetingWishKind.NOT_AFTER:
            return evening.end_of(start) <= wish.at
        case MeetingWishKind.AT:
            return start == wish.at
        case _:
            return place.table + 1 == wish.table


def is_kept(rule: Rule, where: Sequence[Place], grid: Grid) -> bool:
    """Say whether a rule is kept, with the place of each family."""
    places = [where[family] for family in rule.families]
    if rule.kind is MeetingWishKind.NOT_WITH:
        return places[0].round != places[1].round
    if rule.kind is MeetingWishKind.SIBLING:
        return tuple(sorted(places)) in grid.runs(len(places))
    return places[0] in rule.allowed


def cost_at(family: int, place: Place, tables: int) -> int:
    """Return what it costs to have a family, by its place in the order of numbers, at a place."""
    usual = Place(*divmod(family, tables))
    astray = (place.round - usual.round) ** 2
    return LATE * place.round + ASTRAY * astray + OTHER_TABLE * (place.table != usual.table)


def cost_of(where: Sequence[Place], tables: int) -> int:
    """Return the cost of an evening."""
    return sum(cost_at(family, place, tables) for family, place in enumerate(where))


def broken(where: Sequence[Place], rules: Sequence[Rule], held: dict[int, Place], grid: Grid) -> list[str]:
    """Say what is wrong with the places of an evening: two at one place, a rule not kept, one not held."""
    found = [f"{len(where) - len(set(where))} meetings share a place"] if len(set(where)) < len(where) else []
    found += [f"no place {place}" for place in where if place not in grid.places]
    found += [f"{rule.kind} of {rule.families}" for rule in rules if not is_kept(rule, where, grid)]
    return found + [f"{family} is not held" for family, place in held.items() if where[family] != place]
