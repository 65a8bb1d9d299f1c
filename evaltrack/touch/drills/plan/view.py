"""How a plan of the ice is seen: metres as pixels, and what would hide what. Nothing here needs a window."""

from math import dist
from typing import NamedTuple

from evaltrack.rink.board_grid import Rect
from evaltrack.rink.ice_plan.ice import Ice, Point


class View(NamedTuple):
    """How metres on the ice become pixels. ``turned`` has the play go up, not from left to right."""

    scale: float
    x: float
    y: float
    turned: bool

    @classmethod
    def fitted(cls, area: Ice, into: Rect) -> "View":
        """Return the view that shows the ice as large as a rectangle allows, in its middle."""
        level = min(into.width / area.length, into.height / area.width)
        upright = min(into.width / area.width, into.height / area.length)
        turned = upright > level
        wide, high = (area.width, area.length) if turned else (area.length, area.width)
        scale = max(level, upright)
        x = into.x + (into.width - wide * scale) / 2
        return cls(scale, x, into.y + (into.height - high * scale) / 2, turned)

    def point(self, at: Point) -> Point:
        """Return where a place on the ice is seen."""
        along, across = (at[1], at[0]) if self.turned else at
        return self.x + along * self.scale, self.y + across * self.scale

    def place(self, at: Point) -> Point:
        """Return which place on the ice is seen at a point."""
        along, across = (at[0] - self.x) / self.scale, (at[1] - self.y) / self.scale
        return (across, along) if self.turned else (along, across)


def crosses(box: Rect, start: Point, end: Point) -> bool:
    """Say whether a straight line has a part of itself in a rectangle."""
    enters, leaves = 0.0, 1.0
    for at, to, low, size in zip(start, end, box[:2], box[2:], strict=True):
        way = to - at
        if way == 0:
            if not low <= at <= low + size:
                return False
            continue
        near, far = sorted(((low - at) / way, (low + size - at) / way))
        enters, leaves = max(enters, near), min(leaves, far)
    return enters <= leaves


def reaches(box: Rect, middle: Point, radius: float) -> bool:
    """Say whether a disc reaches into a rectangle."""
    near = [max(low, min(at, low + size)) for at, low, size in zip(middle, box[:2], box[2:], strict=True)]
    return dist(near, middle) < radius


def overlap(one: Rect, other: Rect) -> bool:
    """Say whether two rectangles have a part in common."""
    return one.x < other.right and other.x < one.right and one.y < other.top and other.y < one.top


def initials(name: str) -> str:
    """Return the first letters of a name's words, three at most, for a disc."""
    letters = [word[0].upper() for word in name.split() if word[0].isalnum()]
    return "".join(letters[:3]) or "?"
