"""The rows of a page's drawing, read from their short form; no Kivy here.

A row is ``kind: item | item``. In an item a leading ``*`` says that the key is chosen, a leading ``=`` that
it is only words and no key, and a number in round brackets at its end is the one of the point that speaks of
it: ``bar: =Roster | Add a player (2)``. An empty item is a gap.
"""

import re
from typing import NamedTuple

_MANY, _FEW_LETTERS = 4, 8  # parts in a row, from which long words get more of it than short ones
_ITEM = re.compile(r"(?P<lead>[*=]?)(?P<words>.*?)(?:\s*\((?P<number>[1-9])\))?")


class SketchItem(NamedTuple):
    """One part of a row. ``number`` is that of a point, 0 for none."""

    words: str
    number: int = 0
    chosen: bool = False
    bare: bool = False


class SketchRow(NamedTuple):
    """A row of a drawing, its parts from left to right."""

    kind: str
    items: tuple[SketchItem, ...]

    @property
    def height(self) -> int:
        """Return how high the row is, in dp."""
        return HEIGHTS[self.kind]

    @property
    def shares(self) -> list[float]:
        """Return the share of the width that each part has: all the same, unless there are many."""
        many = len(self.items) >= _MANY
        letters = [max(len(item.words) + 2, _FEW_LETTERS) if many else 1 for item in self.items]
        return [count / sum(letters) for count in letters]


# a dark bar with keys, keys, tiles of a board, soft words, fields to type in, shares in a table, a chart
HEIGHTS = {"bar": 44, "keys": 48, "tiles": 92, "words": 26, "fields": 44, "shares": 44, "chart": 84}


def read_row(text: str) -> SketchRow:
    """Return a row; KeyError for a kind that nobody draws."""
    kind, _, items = text.partition(":")
    row = SketchRow(kind.strip(), tuple(map(_read_item, items.split("|"))))
    HEIGHTS[row.kind]
    return row


def _read_item(text: str) -> SketchItem:
    found = _ITEM.fullmatch(text.strip())
    lead, number = found["lead"], int(found["number"] or 0)
    return SketchItem(found["words"].strip(), number, lead == "*", lead == "=")
