"""Where the tiles of a board lie, and which one a finger hit. Pure arithmetic, no window."""

from dataclasses import dataclass
from math import ceil


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle from its lower left corner, in pixels."""

    x: float
    y: float
    width: float
    height: float

    def inset(self, by: float) -> "Rect":
        """Return the rectangle without a margin of ``by`` on every side."""
        return Rect(self.x + by, self.y + by, self.width - 2 * by, self.height - 2 * by)


@dataclass(frozen=True, slots=True)
class BoardLayout:
    """A grid of ``columns`` by ``rows`` tiles over ``area``, filled row by row from the upper left.

    The tiles share the area without gaps: a finger between two tiles hits one of them and is never lost.
    """

    area: Rect
    columns: int
    rows: int

    @property
    def tile_size(self) -> tuple[float, float]:
        """Return width and height of a tile."""
        return self.area.width / self.columns, self.area.height / self.rows

    def tile(self, place: int) -> Rect:
        """Return the tile at a place, 0 being the upper left."""
        width, height = self.tile_size
        row, column = divmod(place, self.columns)
        top = self.area.y + self.area.height
        return Rect(self.area.x + column * width, top - (row + 1) * height, width, height)

    def hit(self, x: float, y: float) -> tuple[int, bool] | None:
        """Return the place under a finger and whether its right half was hit; None outside the area."""
        right, up = x - self.area.x, self.area.y + self.area.height - y
        if not (0 <= right < self.area.width and 0 <= up < self.area.height):
            return None
        width, height = self.tile_size
        column, row = int(right / width), int(up / height)
        return row * self.columns + column, right - column * width >= width / 2


def lay_out(tiles: int, area: Rect) -> BoardLayout:
    """Return the grid for a number of tiles whose halves and heights are as large as the area allows."""
    tiles = max(tiles, 1)

    def smaller_side(columns: int) -> float:
        return min(area.width / columns / 2, area.height / ceil(tiles / columns))

    columns = max(range(1, tiles + 1), key=smaller_side)
    return BoardLayout(area, columns, ceil(tiles / columns))
