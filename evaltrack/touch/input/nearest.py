"""Which of several places lies next in a direction, as an eye would say. Pure arithmetic, no window."""

from collections.abc import Sequence
from typing import NamedTuple

from evaltrack.rink.board_grid import Rect

_ASIDE = 3  # how much farther a place seems that does not lie straight ahead


class _Way(NamedTuple):
    far: float
    middles: float
    aside: float


def next_in_direction(here: Rect, places: Sequence[Rect], right: int, down: int) -> int | None:
    """Return the index of the place that an arrow leads to from ``here``; None where there is none.

    Parameters
    ----------
    here, places : rectangles whose y grows upwards.
    right, down : the direction; one of them is 1 or -1, the other 0.
    """
    here = _turned(here, right, down)
    ahead = ((index, _turned(place, right, down)) for index, place in enumerate(places))
    ways = [(_way(here, place), index) for index, place in ahead if _is_ahead(here, place)]
    if right:  # along a row, however far: what lies higher or lower comes only where the row has ended
        ways = [way for way in ways if not way[0].aside] or ways
    return min(ways)[1] if ways else None


def nearest(here: Rect, places: Sequence[Rect]) -> int | None:
    """Return the index of the place whose middle is nearest to that of ``here``."""
    far = [(_between(here, place), index) for index, place in enumerate(places)]
    return min(far)[1] if far else None


def _turned(place: Rect, right: int, down: int) -> Rect:
    """Return a place as it lies when the direction is to the right."""
    x, y, width, height = place
    if right > 0:
        return place
    if right < 0:
        return Rect(-x - width, y, width, height)
    return Rect(y, x, height, width) if down < 0 else Rect(-y - height, x, height, width)


def _is_ahead(here: Rect, place: Rect) -> bool:
    reach = min(here.width, place.width) / 2
    return place.x + place.width > here.x + here.width + 1 and place.x >= here.right - reach


def _way(here: Rect, place: Rect) -> _Way:
    aside = max(0, place.y - here.top, here.y - place.top)
    middles = abs(place.y + place.height / 2 - here.y - here.height / 2)
    return _Way(max(0, place.x - here.right) + _ASIDE * aside, middles, aside)


def _between(one: Rect, other: Rect) -> float:
    across = one.x + one.width / 2 - other.x - other.width / 2
    along = one.y + one.height / 2 - other.y - other.height / 2
    return across * across + along * along
