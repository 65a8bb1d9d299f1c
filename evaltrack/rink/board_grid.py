"""Where the tiles of a board lie, and what a finger on one of them says. Pure arithmetic, no window.

A tile has three parts that never change places: a tab for who or what it is, centred on the split at the top,
and under and beside it the halves, missed on the left and done on the right. A finger on the number says
no outcome, so the tab belongs to neither half: it stands for ``unseen``, which is no try.
"""

from math import ceil
from typing import NamedTuple

from evaltrack.rink.tally import Outcome

TAB_WIDTH, TAB_HEIGHT = 0.46, 0.26  # of a tile; a half of 26 mm height keeps 19 mm clear under the tab
_ROOM = 20  # players for whom a board of ten inches keeps 19 mm a side
AIM = 0.44  # height of a half's mark above the tile's lower edge: where a glove strays least to a wrong part


class Rect(NamedTuple):
    """A rectangle from its lower left corner, in pixels."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Return where it ends on the right."""
        return self.x + self.width

    @property
    def top(self) -> float:
        """Return where it ends at the top."""
        return self.y + self.height

    def inset(self, by: float) -> "Rect":
        """Return the rectangle without a margin of ``by`` on every side."""
        return Rect(self.x + by, self.y + by, self.width - 2 * by, self.height - 2 * by)

    def on_pixels(self) -> "Rect":
        """Return the rectangle with its edges on whole pixels, where fills and outlines meet."""
        x, y = round(self.x), round(self.y)
        return Rect(x, y, round(self.right) - x, round(self.top) - y)

    def holds(self, x: float, y: float) -> bool:
        """Say whether a point is in it; of its edges, the left and the lower one are its own."""
        return self.x <= x < self.right and self.y <= y < self.top


def tab_of(tile: Rect) -> Rect:
    """Return the tab of a tile, which says who or what it is and counts as unseen."""
    width, height = tile.width * TAB_WIDTH, tile.height * TAB_HEIGHT
    return Rect(tile.x + (tile.width - width) / 2, tile.top - height, width, height)


def half_of(tile: Rect, outcome: Outcome) -> Rect:
    """Return the half for done or missed, the tab's corner included; the tab for unseen."""
    if outcome is Outcome.UNSEEN:
        return tab_of(tile)
    width = tile.width / 2
    return Rect(tile.x + (width if outcome is Outcome.DONE else 0), tile.y, width, tile.height)


def aim_of(tile: Rect, outcome: Outcome) -> tuple[float, float]:
    """Return the point at which a finger aims: the mark of a half, the middle of the tab."""
    part = half_of(tile, outcome)
    up = 0.5 * part.height if outcome is Outcome.UNSEEN else AIM * part.height
    return part.x + part.width / 2, part.y + up


def outcome_at(tile: Rect, x: float, y: float) -> Outcome:
    """Return what a finger at a point of the tile says."""
    if tab_of(tile).holds(x, y):
        return Outcome.UNSEEN
    return Outcome.DONE if x >= tile.x + tile.width / 2 else Outcome.MISSED


class BoardLayout(NamedTuple):
    """A grid of ``columns`` by ``rows`` tiles over ``area``, filled row by row from the upper left."""

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
        return Rect(self.area.x + column * width, self.area.top - (row + 1) * height, width, height)


def places_for(known: int, roster: int) -> int:
    """Return for how many places a practice lays its board out, so that late ones move nobody.

    Parameters
    ----------
    known : players who have a place already, those who have left included.
    roster : everyone who may come, ``away`` or not. Of a team of more than 20 only so many are waited for,
        or the tiles would be too small for a glove on every ordinary day.
    """
    return max(known, min(roster, _ROOM))


def lay_out(tiles: int, area: Rect) -> BoardLayout:
    """Return the grid for a number of tiles whose halves and heights are as large as the area allows."""
    tiles = max(tiles, 1)

    def smaller_side(columns: int) -> float:
        return min(area.width / columns / 2, area.height / ceil(tiles / columns))

    columns = max(range(1, tiles + 1), key=smaller_side)
    return BoardLayout(area, columns, ceil(tiles / columns))
