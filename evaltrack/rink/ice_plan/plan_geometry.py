"""Where the slots of a step stand on a plan of the ice, and where its arrows run: arithmetic, in metres.

A slot may have its own spot. Of the others nothing is known but their group, their order from the net
outwards, and where they lead, so theirs is a sketch: goalies in their goals, the others one after the other
up the ice, forwards rather at the boards and defenders between them. Who moves on from slot to slot stays in
a lane: the arrow passes the others by.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from math import dist, hypot
from typing import NamedTuple

from evaltrack.rink.drill import Slot, Step
from evaltrack.rink.ice_plan.ice import Ice, Point, ice
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Surface

_LARGEST = 1.6  # metres, the radius of a disc
ROOM = 2.0  # metres at least between the middles of two, where one of them has a spot of its own
_APART = 0.46  # of the distance of the two discs that are closest: they never touch
_LANES = {
    Position.FORWARD: (0.0, 0.5, 1.0, 0.25, 0.75),
    Position.DEFENCE: (0.7, 0.3, 0.5, 0.9, 0.1),
    Position.GOALIE: (0.6, 0.4),
}


class _Room(NamedTuple):
    """Where on a surface who stands: the stretch up the ice, the lanes' limits, goals, ends of the lines."""

    start: float
    end: float
    low: float
    high: float
    goals: tuple[Point, ...]
    lines: dict[Position, Point]


_D, _F, _G = Position
_ROOMS = {
    Surface.FULL: _Room(
        *(8.5, 51.0, 3.4, 22.5),
        ((5.1, 12.95), (55.86, 12.95)),
        {_D: (55.4, 4.6), _F: (55.4, 21.3), _G: (5.4, 4.6)},
    ),
    Surface.HALF: _Room(
        *(7.4, 25.0, 3.4, 22.5), ((5.1, 12.95),), {_D: (28.7, 2.4), _F: (28.7, 23.5), _G: (4.6, 5.2)}
    ),
    Surface.CROSS: _Room(
        *(5.2, 20.7, 3.0, 16.2),
        ((3.2, 11.43), (22.71, 11.43)),
        {_D: (8.0, 21.0), _F: (18.0, 21.0), _G: (2.6, 21.0)},
    ),
}


@dataclass(frozen=True)
class Plan:
    """A step on the ice.

    ``places`` are those of the slots by key, ``lines`` the ends of the lines by position group, as far as
    somebody goes there; around each is a disc of ``radius``, and no two of them touch.
    """

    ice: Ice
    places: dict[str, Point]
    lines: dict[Position, Point]
    radius: float

    def arrow(self, slot: Slot) -> tuple[Point, Point]:
        """Return where the arrow of a slot begins and ends: to the next slot, or to the end of the line."""
        return self._between(slot.key, self.places.get(slot.next) or self.lines[slot.position])

    def meeting(self, slot: Slot) -> tuple[Point, Point]:
        """Return the line between a slot and the one whose player theirs meets."""
        return self._between(slot.key, self.places[slot.against])

    def _between(self, key: str, end: Point) -> tuple[Point, Point]:
        (x, y), (u, v) = self.places[key], end
        far = hypot(u - x, v - y)
        dx, dy = (u - x) / far * self.radius, (v - y) / far * self.radius
        return (x + dx, y + dy), (u - dx, v - dy)

    def nearest(self, x: float, y: float, reach: float) -> str | None:
        """Return the slot whose middle is nearest to a point, within reach."""
        found = [(dist((x, y), place), key) for key, place in self.places.items()]
        near = [pair for pair in found if pair[0] <= reach]
        return min(near)[1] if near else None


@lru_cache(maxsize=32)
def plan_of(step: Step) -> Plan:
    """Return where everything of a step stands on its surface."""
    room, area = _ROOMS[step.surface], ice(step.surface)
    places = _placed(step, _places(step.slots, room), _ends(step, room))
    lines = _lines(step.slots, places, room)
    return Plan(area, places, lines, _radius([*places.values(), *lines.values()]))


def spot_at(area: Ice, x: float, y: float) -> tuple[int, int]:
    """Return the spot of a place on the ice, such as (50, 50) for its middle."""
    return tuple(max(0, min(100, round(100 * at / size))) for at, size in ((x, area.length), (y, area.width)))


def _ends(step: Step, room: _Room) -> list[Point]:
    """Return where lines may end: defenders and forwards on either side, whichever is nearer."""
    groups = {slot.position for slot in step.slots}
    if groups - {_G}:
        groups |= {_D, _F}
    return [room.lines[group] for group in groups]


def _placed(step: Step, places: dict[str, Point], ends: list[Point]) -> dict[str, Point]:
    """Return the places with those slots at their spots that have one; the others make way for them.

    Where another one stands, a line ends or the boards are too near, it is the nearest place that is free.
    """
    if not any(slot.spot for slot in step.slots):
        return places
    area, found = ice(step.surface), {}
    for slot in sorted(step.slots, key=lambda slot: slot.spot is None):
        wanted = places[slot.key]
        if slot.spot:
            wanted = slot.spot[0] / 100 * area.length, slot.spot[1] / 100 * area.width
        found[slot.key] = _free(wanted, [*found.values(), *ends], area)
    return {key: found[key] for key in places}


def _free(wanted: Point, taken: list[Point], area: Ice) -> Point:
    """Return the place nearest to the wanted one that is far enough from others, else the farthest one."""

    def room(place: Point) -> float:
        return min((dist(place, other) for other in taken), default=ROOM)

    if area.holds(*wanted, _LARGEST) and room(wanted) >= ROOM:
        return wanted
    columns, rows = int(area.length), int(area.width)
    grid = [(x + 0.5, y + 0.5) for x in range(columns) for y in range(rows)]
    inside = [place for place in grid if area.holds(*place, _LARGEST)]
    free = [place for place in inside if room(place) >= ROOM]
    return min(free, key=lambda place: dist(place, wanted)) if free else max(inside, key=room)


def _places(slots: Sequence[Slot], room: _Room) -> dict[str, Point]:
    goalies = [slot.key for slot in slots if slot.position is Position.GOALIE]
    places = dict(zip(goalies, room.goals, strict=False))
    others = [slot for slot in slots if slot.key not in places]
    lanes = _lanes(others)
    for number, slot in enumerate(others):
        along = (number + 0.5) / len(others)
        places[slot.key] = (
            room.start + along * (room.end - room.start),
            room.low + lanes[slot.key] * (room.high - room.low),
        )
    return {slot.key: places[slot.key] for slot in slots}


def _lanes(slots: Sequence[Slot]) -> dict[str, float]:
    """Return each slot's lane: that of the slot that leads to it, else the next one of its group.

    Neighbours in the order take different lanes all the same, or no arrow would fit between them.
    """
    order = {slot.key: number for number, slot in enumerate(slots)}
    comes_from = {slot.next: slot.key for slot in slots if slot.next != slot.key}
    counts, lanes = dict.fromkeys(Position, 0), {}
    for slot in slots:
        before = comes_from.get(slot.key)
        if before in lanes and abs(order[before] - order[slot.key]) > 1:
            lanes[slot.key] = lanes[before]
            continue
        free = _LANES[slot.position]
        lanes[slot.key] = free[counts[slot.position] % len(free)]
        counts[slot.position] += 1
    return lanes


def _lines(slots: Sequence[Slot], places: dict[str, Point], room: _Room) -> dict[Position, Point]:
    """Return the ends of the lines to which somebody goes: on the side to which the ways are shorter."""
    out = [slot for slot in slots if slot.next not in places]
    swapped = room.lines | {_D: room.lines[_F], _F: room.lines[_D]}

    def length(lines: dict[Position, Point]) -> float:
        return sum(dist(places[slot.key], lines[slot.position]) for slot in out)

    nearer = min((room.lines, swapped), key=length)
    return {slot.position: nearer[slot.position] for slot in out}


def _radius(points: Iterable[Point]) -> float:
    pairs = combinations(points, 2)
    nearest = min((dist(one, other) for one, other in pairs), default=_LARGEST / _APART)
    return min(_LARGEST, _APART * nearest)
