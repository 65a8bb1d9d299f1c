"""Which of the practices that tablets began without knowing of each other are one and the same ice time."""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from itertools import combinations, count
from typing import NamedTuple

APART = 90 * 60 * 1000  # ms; nobody comes later to an ice time, and clocks may be an hour off
_KEY = re.compile(r"(\d{4}-\d\d-\d\d)(?:\.([1-9]\d{0,3}))?")


class Begun(NamedTuple):
    """A practice that one tablet began, by its own clock; ``prefers`` is the key that it had there.

    ``clock`` and ``tablet`` tell it from all others. Without a clock it is one that was loaded, or begun when
    a file was not shared yet: it belongs to no tablet, and ``at`` is None where its start is not known.
    """

    clock: int
    tablet: str
    prefers: str
    at: int | None

    @property
    def day(self) -> str:
        """Return the part of the key that names a day."""
        return _parts(self.prefers)[0]

    @property
    def number(self) -> int:
        """Return 1 for the first practice of a day."""
        return _parts(self.prefers)[1]


def keys_of(begun: Iterable[Begun]) -> dict[Begun, str]:
    """Return the key under which each of these is held: one key for those that are the same ice time.

    Two of one day are the same when they were begun within an hour and a half, the nearest ones first, but
    never two that one tablet began one after the other. What was loaded is the same as one that a tablet
    began under its key. It depends on nothing but what is given, so all tablets come to the same.
    """
    days = defaultdict(list)
    for one in set(begun):
        days[one.day].append(one)
    return {one: key for day, found in days.items() for one, key in _keys_of_day(day, found).items()}


def _keys_of_day(day: str, begun: list[Begun]) -> dict[Begun, str]:
    groups = {one: frozenset([one]) for one in begun}
    for _, one, other in sorted(_near(begun), key=lambda pair: (pair[0], *map(_by_clock, pair[1:]))):
        joined = groups[one] | groups[other]
        if not any(_differ(*pair) for pair in combinations(joined, 2)):
            groups |= dict.fromkeys(joined, joined)
    keys, taken = {}, set()
    for group in sorted(set(groups.values()), key=_order):
        number = next(n for n in count(min(one.number for one in group)) if n not in taken)
        taken.add(number)
        keys |= dict.fromkeys(group, day if number == 1 else f"{day}.{number}")
    return keys


def _near(begun: list[Begun]) -> Iterable[tuple[int, Begun, Begun]]:
    for one, other in combinations(sorted(begun, key=_by_clock), 2):
        apart = APART if None in (one.at, other.at) else abs(one.at - other.at)
        if apart <= APART and (one.prefers == other.prefers or 0 not in (one.clock, other.clock)):
            yield apart, one, other


def _differ(one: Begun, other: Begun) -> bool:
    """Say whether somebody knew of both when they began the later one."""
    if 0 in (one.clock, other.clock):
        return one.prefers != other.prefers
    return one.tablet == other.tablet


def _order(group: frozenset[Begun]) -> tuple:
    first = min(group, key=_by_clock)
    return (
        min(one.number for one in group),
        first.clock > 0,
        min(one.at or 0 for one in group),
        _by_clock(first),
    )


def _by_clock(one: Begun) -> tuple:
    return one.clock, one.tablet, one.prefers


def _parts(key: str) -> tuple[str, int]:
    found = _KEY.fullmatch(key)
    return (found[1], int(found[2] or 1)) if found else (key, 1)


def of_one_start(*held: Mapping[Begun, str]) -> list[dict[Begun, str]]:
    """Return what is held with one start for each practice: the earliest that anybody knows.

    A practice that was loaded has no start until somebody goes on with it, on one tablet only.
    """
    starts: dict[tuple, int] = {}
    for one in (one for found in held for one in found if one.at is not None):
        starts[one[:3]] = min(one.at, starts.get(one[:3], one.at))
    return [{one._replace(at=starts.get(one[:3])): key for one, key in found.items()} for found in held]


class NewKeys:
    """What becomes of the keys under which practices were ``held`` until more of them were known.

    What a tablet noted goes with the practice that it began, and all else with the one that was begun first.
    """

    def __init__(self, keys: Mapping[Begun, str], held: Mapping[Begun, str]):
        self.first: dict[str, str] = {}
        self.apart: dict[tuple[str, str], str] = {}
        for one in sorted(held, key=_by_clock):
            first = self.first.setdefault(held[one], keys[one])
            if keys[one] != first:
                self.apart[held[one], one.tablet] = keys[one]

    def of(self, key: str, tablet: str = "") -> str:
        """Return the key under which what a tablet noted is held now."""
        return self.apart.get((key, tablet)) or self.first.get(key, key)

    @property
    def same(self) -> bool:
        """Say whether no key changes."""
        return not self.apart and all(old == new for old, new in self.first.items())
