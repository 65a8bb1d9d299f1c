"""Where everything of a trend chart lies. Pure arithmetic, no window."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from math import sqrt

from evaltrack.analysis.standings.standing import PathPoint, Seen
from evaltrack.rink.board_grid import Rect
from evaltrack.words.date_axis import DateAxis

RULES = ((0.0, "0"), (0.5, "5"), (1.0, "10"))


@dataclass(frozen=True, slots=True)
class Dot:
    """One practice: where, and how large its ring is drawn."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True, slots=True)
class TrendGeometry:
    """A chart over ``plot``: days from left to right, shares from 0 at its foot to 1 at its top.

    ``unit`` is the length in pixels of one density-independent pixel.
    """

    plot: Rect
    axis: DateAxis
    unit: float = 1.0

    def x(self, day: date) -> float:
        """Return where a day lies."""
        return self.plot.x + self.axis.place(day) * self.plot.width

    def y(self, share: float) -> float:
        """Return where a share lies, 0 to 1."""
        return self.plot.y + share * self.plot.height

    def line(self, path: Sequence[PathPoint]) -> list[float]:
        """Return the share day by day as x, y, x, y ...; a path of one day is drawn as a short line."""
        return [value for x, point in self._places(path) for value in (x, self.y(point.share))]

    def band(self, path: Sequence[PathPoint], low: str, high: str) -> list[float]:
        """Return a band as a strip of triangles: x, y of its foot, x, y of its top, day by day.

        ``low`` and ``high`` are the names of its bounds in a PathPoint.
        """
        strip: list[float] = []
        for x, point in self._places(path):
            strip += [x, self.y(getattr(point, low)), x, self.y(getattr(point, high))]
        return strip

    def dots(self, seen: Iterable[Seen]) -> list[Dot]:
        """Return a dot for each practice with a try."""
        return [
            Dot(self.x(one.on), self.y(one.done / one.tries), self.radius(one.tries))
            for one in seen
            if one.tries
        ]

    def radius(self, tries: int) -> float:
        """Return the radius of a dot: its area grows with the tries, up to 12 of them."""
        return self.unit * 2 * sqrt(min(max(tries, 1), 12))

    def months(self) -> list[tuple[str, float]]:
        """Return the names of the months and where they begin."""
        return [(name, self.plot.x + place * self.plot.width) for name, place in self.axis.months()]

    def _places(self, path: Sequence[PathPoint]) -> list[tuple[float, PathPoint]]:
        places = [(self.x(point.on), point) for point in path]
        if len(places) == 1:
            (x, point) = places[0]
            return [(x - 4 * self.unit, point), (x + 4 * self.unit, point)]
        return places


def grid(count: int, columns: int, room: float, least: float, most: float) -> tuple[int, float]:
    """Return rows and their height for a number of charts: as high as the room allows, within bounds."""
    rows = max(1, -(-count // columns))
    return rows, min(max(room / rows, least), most)
