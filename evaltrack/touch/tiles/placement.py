"""Rows of tiles and buttons over the area of a board, and which of them a finger hit. Pure arithmetic.

Every point of the area belongs to exactly one cell: a finger between two cells hits one of them, and no tap
is lost in a gap.
"""

from collections.abc import Sequence
from typing import NamedTuple

from evaltrack.rink.board_grid import Rect, lay_out


class Part(NamedTuple):
    """What a cell is, the tile or the button of an index or nothing, and the share of a row that it takes."""

    width: float
    tile: int | None = None
    button: int | None = None


class Cell(NamedTuple):
    """A part in its place."""

    rect: Rect
    tile: int | None = None
    button: int | None = None


class Placement:
    """The cells of a board in ``rows`` from the top; each row fills the width, and all of them the area."""

    def __init__(self, area: Rect, rows: Sequence[tuple[Cell, ...]]):
        self.area = area
        self.rows = tuple(rows)
        self._lowest = [row[0].rect.y for row in self.rows]
        cells = [cell for row in self.rows for cell in row]
        self.tiles = {cell.tile: cell.rect for cell in cells if cell.tile is not None}
        self.buttons = {cell.button: cell.rect for cell in cells if cell.button is not None}

    def tile(self, place: int) -> Rect:
        """Return the tile at a place."""
        return self.tiles[place]

    def at(self, x: float, y: float) -> Cell | None:
        """Return the one cell under a point; None outside the area."""
        if not self.rows or not self.area.holds(x, y):
            return None
        row = next((i for i, lowest in enumerate(self._lowest) if y >= lowest), -1)
        return next((cell for cell in reversed(self.rows[row]) if x >= cell.rect[0]), self.rows[row][0])

    def beside(self, cell: Cell | None, right: int, down: int) -> Cell:
        """Return the next cell in a direction, for the arrows of a keyboard; at an edge the cell itself."""
        if cell is None:
            return self.rows[0][0]
        row = next(i for i, cells in enumerate(self.rows) if cell in cells)
        if not down:
            cells, here = self.rows[row], self.rows[row].index(cell)
            return cells[max(0, min(len(cells) - 1, here + right))]
        cells = self.rows[max(0, min(len(self.rows) - 1, row + down))]
        middle = cell.rect.x + cell.rect.width / 2
        return min(cells, key=lambda other: abs(other.rect.x + other.rect.width / 2 - middle))


def stacked(area: Rect, rows: Sequence[tuple[float, Sequence[Part]]]) -> Placement:
    """Return the placement of rows of parts, each row with its share of the height, from the top."""
    total, top, placed = sum(share for share, _ in rows), area.top, []
    for share, parts in rows:
        height = area.height * share / total
        placed.append(_side_by_side(Rect(area.x, top - height, area.width, height), parts))
        top -= height
    return Placement(area, placed)


def _side_by_side(row: Rect, parts: Sequence[Part]) -> tuple[Cell, ...]:
    total, left, cells = sum(part.width for part in parts), row.x, []
    for part in parts:
        width = row.width * part.width / total
        cells.append(Cell(Rect(left, row.y, width, row.height), part.tile, part.button))
        left += width
    return tuple(cells)


def tile_rows(tiles: int, area: Rect) -> list[tuple[float, list[Part]]]:
    """Return the rows of the grid for so many tiles, the places that are free included."""
    grid = lay_out(tiles, area)
    return [
        (1 / grid.rows, [Part(1, tile=row * grid.columns + column) for column in range(grid.columns)])
        for row in range(grid.rows)
    ]
