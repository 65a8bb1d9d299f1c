"""Evenings of meetings, made up: families by invented ids, wishes of every kind, some locked."""

from dataclasses import replace
from datetime import date, time
from itertools import permutations
from uuid import UUID

from hypothesis import strategies as st

from evaltrack.analysis.meetings.rules import cost_of, grid_of, is_kept, rules_of
from evaltrack.rink.meeting_evening import (
    OF_A_TIME,
    OF_ANOTHER,
    Break,
    Evening,
    MeetingSlot,
    MeetingWish,
    MeetingWishKind,
    clock_of,
    later,
)
from evaltrack.rink.meeting_times import rounds_of

DAY, START = date(2026, 1, 20), time(18)


def family(number: int) -> UUID:
    """Return the id of an invented player."""
    return UUID(int=1000 + number)


def wish(kind: MeetingWishKind | str, player: int, value=None) -> MeetingWish:
    """Return a wish; the value is a player, a time or a table, as the kind has it."""
    kind = MeetingWishKind(kind)
    if kind in OF_ANOTHER:
        return MeetingWish(kind, family(player), other=family(value))
    if kind in OF_A_TIME:
        return MeetingWish(kind, family(player), at=value)
    return MeetingWish(kind, family(player), table=value if kind is MeetingWishKind.TABLE else None)


@st.composite
def small_evenings(draw, most: int = 5):
    """Return an evening that can be gone through by hand, and how many families there are."""
    families = draw(st.integers(2, most))
    tables = draw(st.integers(1, 2))
    pauses = draw(
        st.sampled_from([(), (Break(time(18, 12), time(18, 20)),), (Break(time(18, 30), time(18, 40)),)])
    )
    wishes = draw(st.lists(wishes_of(families, tables), max_size=5, unique=True))
    evening = Evening("e", DAY, START, 12, tables, pauses, None, "", tuple(wishes))
    rounds = rounds_of(evening, families)
    locked = draw(st.lists(st.integers(0, families - 1), max_size=2, unique=True))
    slots = {family(n): MeetingSlot(rounds[n % len(rounds)], 1, True, f"u{n}") for n in locked}
    return Evening("e", DAY, START, 12, tables, pauses, None, "", tuple(wishes), slots), families


@st.composite
def wishes_of(draw, families: int, tables: int):
    """Return a wish of any kind but that of not coming."""
    kind = draw(st.sampled_from([one for one in MeetingWishKind if one is not MeetingWishKind.NOT_COMING]))
    player = draw(st.integers(0, families - 1))
    if kind in OF_ANOTHER:
        other = draw(st.integers(0, families - 1).filter(lambda n: n != player))
        return wish(kind, player, other)
    if kind in OF_A_TIME:
        return wish(kind, player, later(START, 12 * draw(st.integers(0, families))))
    return wish(kind, player, draw(st.integers(1, tables)))


def evening_for(players) -> Evening:
    """Return an evening of meetings of these players at two tables, in their order, with a break."""
    wishes = (MeetingWish(MeetingWishKind.SIBLING, players[0].id, other=players[1].id),)
    one = Evening("0" * 32, DAY, START, 12, 2, (Break(time(19), time(19, 10)),), None, "Rink, room 2", wishes)
    rounds = rounds_of(one, len(players))
    slots = {
        player.id: MeetingSlot(rounds[n // 2], n % 2 + 1, n == 3, f"uid-{n}")
        for n, player in enumerate(players)
    }
    return replace(one, slots=slots)


class ByHand:
    """Goes through every way to place the families of a small evening."""

    def __init__(self, evening: Evening, families: int):
        self.who = [family(n) for n in range(families)]
        self.grid = grid_of(evening, rounds_of(evening, families))
        self.rules = rules_of(evening, self.who, self.grid)
        held = {}
        for n, slot in ((self.who.index(one), slot) for one, slot in evening.slots.items() if slot.locked):
            held[n] = (self.grid.rounds.index(slot.start), slot.table - 1)
        ways = permutations(self.grid.places, families)
        self.ways = [way for way in ways if all(way[n] == place for n, place in held.items())]
        self.all_ways = list(permutations(self.grid.places, families)) if held else self.ways
        self.kept = [
            frozenset(n for n, r in enumerate(self.rules) if is_kept(r, w, self.grid)) for w in self.ways
        ]

    def best(self) -> tuple[int, int]:
        """Return how many rules are given up at least, and how many can be kept."""
        most = max(map(len, self.kept))
        return len(self.rules) - most, most

    def cost(self, kept: frozenset[int]) -> int:
        """Return the least cost of the ways that keep these rules at least."""
        return min(
            cost_of(w, self.grid.tables) for w, k in zip(self.ways, self.kept, strict=True) if kept <= k
        )

    def goes(self, rules, held: bool = True) -> bool:
        """Say whether these rules go together."""
        ways = self.ways if held else self.all_ways
        return any(all(is_kept(rule, way, self.grid) for rule in rules) for way in ways)


def large_evening(tables: int = 2) -> tuple[Evening, list[UUID]]:
    """Return 19 families at two tables, two pairs of brothers and sisters, ten wishes more, and a break."""
    asked = (
        wish("sibling", 3, 12),
        wish("sibling", 7, 8),
        wish("not before", 0, time(18, 36)),
        wish("not after", 18, time(18, 36)),
        wish("at", 10, time(18, 24)),
        wish("table", 5, 2),
        wish("table", 6, 2),
        wish("not with", 1, 2),
        wish("not with", 14, 15),
        wish("not before", 4, time(19)),
        wish("not after", 17, time(19)),
        wish("not before", 12, clock_of(18 * 60 + 48)),
    )
    pauses = (Break(time(19), time(19, 10)),)
    return Evening("e", DAY, START, 12, tables, pauses, None, "", asked), [family(n) for n in range(19)]
