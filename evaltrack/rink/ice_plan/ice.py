"""A sheet of ice in metres, as North American rinks are painted: whole, half, or one end across.

x runs along the play, from the first goal on; y from side to side. Nothing here needs a window.
"""

from collections.abc import Iterable
from enum import Enum
from functools import cache
from math import cos, hypot, pi, sin
from typing import NamedTuple

from evaltrack.rink.practice import Surface

Point = tuple[float, float]

LENGTH, WIDTH = 60.96, 25.91  # 200 by 85 feet
CORNER = 8.53  # 28 feet, the radius of a corner
GOAL_LINE = 3.35  # 11 feet from the end
BLUE_LINE = 22.86  # 75 feet from the end
CIRCLE = 4.57  # 15 feet, the radius of a face-off circle
SPOT = (9.45, 6.71)  # 31 feet from the end and 22 from the middle
_GOAL, _DEEP, _CREASE = 1.83, 1.0, 1.83  # a goal's width, its depth, the radius of its crease
_AT_SIDE = 1.4  # a goal's distance from the boards where the play goes across
_CHORDS = 64  # of a circle


class Mark(Enum):
    """What is painted or stands on the ice."""

    BOARDS = "boards"
    BLUE_LINE = "blue line"
    CENTRE_LINE = "centre line"
    GOAL_LINE = "goal line"
    CIRCLE = "circle"
    GOAL = "goal"


class Ice(NamedTuple):
    """A surface: its size, the radius of each corner, and its marks as lines from point to point.

    The corners are those at the origin, at the far end of x, at the far end of both, at the far end of y. The
    boards come last.
    """

    length: float
    width: float
    corners: tuple[float, float, float, float]
    marks: tuple[tuple[Mark, tuple[Point, ...]], ...]

    @property
    def boards(self) -> tuple[Point, ...]:
        """Return the boards all round, from point to point."""
        return self.marks[-1][1]

    def holds(self, x: float, y: float, radius: float = 0.0) -> bool:
        """Say whether a disc lies within the boards."""
        if not (radius <= x <= self.length - radius and radius <= y <= self.width - radius):
            return False
        ends = ((0.0, 0.0), (self.length, 0.0), (self.length, self.width), (0.0, self.width))
        for (end, side), corner in zip(ends, self.corners, strict=True):
            along, across = corner - abs(x - end), corner - abs(y - side)
            if along > 0 and across > 0 and hypot(along, across) > corner - radius:
                return False
        return True


@cache
def ice(surface: Surface) -> Ice:
    """Return the ice of a surface."""
    return {Surface.FULL: _full, Surface.HALF: _half, Surface.CROSS: _cross}[surface]()


def _full() -> Ice:
    middle = WIDTH / 2
    return _painted(
        (LENGTH, WIDTH, (CORNER,) * 4),
        [
            *_end(),
            *_turned_round(_end()),
            (Mark.CENTRE_LINE, ((LENGTH / 2, 0.0), (LENGTH / 2, WIDTH))),
            (Mark.CIRCLE, arc(LENGTH / 2, middle, CIRCLE)),
        ],
    )


def _half() -> Ice:
    length = LENGTH / 2
    return _painted(
        (length, WIDTH, (CORNER, 0.0, 0.0, CORNER)),
        [
            *_end(),
            (Mark.CENTRE_LINE, ((length, 0.0), (length, WIDTH))),
            (Mark.CIRCLE, arc(length, WIDTH / 2, CIRCLE, 0.5, 1.5)),
        ],
    )


def _cross() -> Ice:
    """Return one end: the play goes from side to side, the end boards are at y = 0, opposite a blue line."""
    length, width = WIDTH, BLUE_LINE
    along, across = SPOT
    circles = [(Mark.CIRCLE, arc(length / 2 + side * across, along, CIRCLE)) for side in (-1, 1)]
    goals = [*_goal(_AT_SIDE, width / 2, 1), *_goal(length - _AT_SIDE, width / 2, -1)]
    lines = [
        (Mark.GOAL_LINE, _chord(GOAL_LINE, length, turned=True)),
        (Mark.BLUE_LINE, ((0.0, width), (length, width))),
    ]
    return _painted((length, width, (CORNER, CORNER, 0.0, 0.0)), [*circles, *lines, *goals])


def _painted(size: tuple, marks: Iterable) -> Ice:
    length, width, corners = size
    return Ice(length, width, corners, (*marks, (Mark.BOARDS, _boards(length, width, corners))))


def _end() -> list[tuple[Mark, tuple[Point, ...]]]:
    along, across = SPOT
    circles = [(Mark.CIRCLE, arc(along, WIDTH / 2 + side * across, CIRCLE)) for side in (-1, 1)]
    lines = [
        (Mark.GOAL_LINE, _chord(GOAL_LINE, WIDTH)),
        (Mark.BLUE_LINE, ((BLUE_LINE, 0.0), (BLUE_LINE, WIDTH))),
    ]
    return [*circles, *lines, *_goal(GOAL_LINE, WIDTH / 2, 1)]


def _turned_round(marks: Iterable) -> list[tuple[Mark, tuple[Point, ...]]]:
    return [(mark, tuple((LENGTH - x, y) for x, y in points)) for mark, points in marks]


def _goal(x: float, y: float, facing: int) -> list[tuple[Mark, tuple[Point, ...]]]:
    """Return a goal and its crease; ``facing`` 1 along x, -1 against it."""
    back, half = x - facing * _DEEP, _GOAL / 2
    frame = ((x, y - half), (back, y - half * 0.8), (back, y + half * 0.8), (x, y + half))
    start = -0.5 if facing > 0 else 0.5
    return [(Mark.GOAL, frame), (Mark.CIRCLE, arc(x, y, _CREASE, start, start + 1))]


def _chord(at: float, width: float, turned: bool = False) -> tuple[Point, Point]:
    """Return the goal line from board to board, which meets the corners."""
    short = CORNER - (CORNER**2 - (CORNER - at) ** 2) ** 0.5
    ends = ((at, short), (at, width - short))
    return tuple((y, x) for x, y in ends) if turned else ends


def arc(x: float, y: float, radius: float, start: float = 0.0, end: float = 2.0) -> tuple[Point, ...]:
    """Return an arc as points; the angles are in halves of a turn, from the direction of x on."""
    count = max(4, round(_CHORDS * (end - start) / 2))
    angles = [pi * (start + (end - start) * number / count) for number in range(count + 1)]
    return tuple((x + radius * cos(angle), y + radius * sin(angle)) for angle in angles)


def _boards(length: float, width: float, corners: tuple) -> tuple[Point, ...]:
    first, second, third, fourth = corners
    round_them = (
        arc(first, first, first, 1.0, 1.5),
        arc(length - second, second, second, 1.5, 2.0),
        arc(length - third, width - third, third, 0.0, 0.5),
        arc(fourth, width - fourth, fourth, 0.5, 1.0),
    )
    points = [point for corner in round_them for point in corner]
    return (*points, points[0])
