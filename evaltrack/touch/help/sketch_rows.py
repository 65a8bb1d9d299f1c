"""The rows of a page's drawing, read from their short form; no Kivy here.

A row is ``kind: item | item``. In an item a leading ``*`` says that the key is chosen, a leading ``=`` that
it is only words and no key, and a number in round brackets at its end is the one of the point that speaks of
it: ``bar: =Roster | Add a player (2)``. An empty item is a gap.
"""

import re
from collections.abc import Sequence
from typing import NamedTuple

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


# a dark bar with keys, keys, tiles of a board, soft words, fields to type in, shares in a table, a chart
HEIGHTS = {"bar": 44, "keys": 48, "tiles": 92, "words": 26, "fields": 44, "shares": 44, "chart": 84}


def read_row(text: str) -> SketchRow:
    """Return a row; KeyError for a kind that nobody draws."""
    kind, _, items = text.partition(":")
    row = SketchRow(kind.strip(), tuple(map(_read_item, items.split("|"))))
    HEIGHTS[row.kind]
    return row


def widths(lines: Sequence[float], words: Sequence[float], room: float) -> list[float]:
    """Return the widths of the parts of a row: alike, unless the words of one need more.

    Parameters
    ----------
    lines, words : how wide each part is with its words in one line, and with its longest word alone in one.
    room : the width of all of them.
    """
    if sum(lines) <= room:
        return _alike(lines, room)
    if (spare := room - sum(words)) <= 0:
        return [word * room / sum(words) for word in words]
    wished = [line - word for line, word in zip(lines, words, strict=True)]
    return [word + spare * wish / sum(wished) for word, wish in zip(words, wished, strict=True)]


def _alike(needs: Sequence[float], room: float) -> list[float]:
    found, left = [0.0] * len(needs), len(needs)
    for need, place in sorted(((need, place) for place, need in enumerate(needs)), reverse=True):
        found[place] = max(need, room / left)
        room, left = room - found[place], left - 1
    return found


def _read_item(text: str) -> SketchItem:
    found = _ITEM.fullmatch(text.strip())
    lead, number = found["lead"], int(found["number"] or 0)
    return SketchItem(found["words"].strip(), number, lead == "*", lead == "=")
