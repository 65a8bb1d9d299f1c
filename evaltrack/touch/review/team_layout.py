"""Where everything of the team board's table lies. Pure arithmetic, no window but its units."""

from collections.abc import Iterator
from dataclasses import dataclass

from kivy.metrics import dp, sp

from evaltrack.rink.player import Player
from evaltrack.touch.review.team_choice import Block, Table

LEAST_ROW, MOST_ROW, HEAD = 27, 56, 37  # sp: a row at least and at most, the headings of a block
_LEAST_COLUMN, _MOST_COLUMN = 114, 190  # sp
_GUTTER = 6  # dp between two columns
EDGE = 16  # dp left and right of the table


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the columns lie in a table of this width, in pixels."""

    width: float
    skills: int = 1

    @property
    def names(self) -> float:
        """Return the width of the first column, which has number and name."""
        return min(sp(212), self.width * 0.262)

    @property
    def most(self) -> int:
        """Return how many skills fit side by side."""
        return max(1, int((self.width - self.names - dp(EDGE)) // sp(_LEAST_COLUMN)))

    @property
    def each(self) -> float:
        """Return the width of a skill's column."""
        return min((self.width - self.names - dp(EDGE)) / max(1, self.skills), sp(_MOST_COLUMN))

    def span(self, index: int) -> tuple[float, float]:
        """Return left and right of what is drawn for a skill, from the table's left."""
        left = self.names + index * self.each
        return left, left + self.each - dp(_GUTTER)


@dataclass(frozen=True, slots=True)
class Rows:
    """Where headings and rows lie, in pixels below the table's top; ``room`` is what the view has."""

    table: Table
    room: float

    @property
    def each(self) -> float:
        """Return the height of a row: what the view allows, within bounds."""
        count = sum(len(block.players) for block in self.table.blocks)
        left = self.room - len(self.table.blocks) * sp(HEAD)
        return min(max(left / max(1, count), sp(LEAST_ROW)), sp(MOST_ROW))

    @property
    def height(self) -> float:
        """Return the height of all of it."""
        return sum(sp(HEAD) + len(block.players) * self.each for block in self.table.blocks)

    def blocks(self) -> Iterator[tuple[Block, float]]:
        """Yield each block and how far below the top its headings begin."""
        top = 0.0
        for block in self.table.blocks:
            yield block, top
            top += sp(HEAD) + len(block.players) * self.each

    def rows(self) -> Iterator[tuple[Block, Player, float]]:
        """Yield each row's block and player, and how far below the top its middle lies."""
        for block, top in self.blocks():
            for place, player in enumerate(block.players):
                yield block, player, top + sp(HEAD) + (place + 0.5) * self.each

    def player_at(self, below: float) -> Player | None:
        """Return whose row lies so far below the top; None for headings and where there is none."""
        half = self.each / 2
        return next((player for _, player, middle in self.rows() if abs(middle - below) <= half), None)
