"""The first column of the team board: numbers, and names that are all of one size."""

from collections.abc import Iterable

from kivy.graphics import Color, InstructionGroup, Line
from kivy.metrics import dp, sp

from evaltrack.rink.board_grid import Rect
from evaltrack.rink.player import Player, Status
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import draw, texture
from evaltrack.touch.widgets.theme import theme

_SIZES = (17, 16, 15)  # sp; in the last one a name that is still too long is cut
_NUMBER, _NAME, _MARGIN = 54, 64, 10  # sp from the left: where numbers end and names begin; right of a name
_LIMITED = 16  # sp from the left: the mark of a limited player
_TWO_LINES = 42  # sp, the height of a row from which a long name has two lines


def wide(text: str, size: float, font: str = fonts.PLAIN) -> float:
    """Return the width of a line of text in pixels."""
    return texture(text, round(size), font).width


def two_lines(text: str, size: float, width: float, font: str = fonts.SEMIBOLD) -> list[str]:
    """Return a text in one line, or broken between words into two when it is wider than ``width``."""
    words = text.split(" ")
    for first in range(len(words), 0, -1):
        line = " ".join(words[:first])
        if wide(line, size, font) <= width or first == 1:
            rest = " ".join(words[first:])
            return [line, rest] if rest else [line]
    return [text]


def name_size(names: Iterable[str], place: Rect) -> float:
    """Return the largest size in which every name fits into such a place, and at worst the smallest one."""
    names = list(names)
    for size in map(sp, _SIZES):
        if all(wide(line, size) <= _room(place) for name in names for line in _lines(name, size, place)):
            return size
    return sp(_SIZES[-1])


def draw_person(group: InstructionGroup, player: Player, x: float, place: Rect, size: float) -> None:
    """Add a player's number and name, in this size, to a group of instructions; a limited one is marked."""
    palette, y = theme.palette, place.y + place.height / 2
    if player.status is Status.LIMITED:
        draw_limited(group, x + sp(_LIMITED), y, sp(14))
    draw(group, player.number, x + sp(_NUMBER), y, sp(18), palette.ink, fonts.BOLD, "right")
    lines = _lines(player.name, size, place)
    for row, line in enumerate(lines):
        middle = y + (len(lines) - 1 - 2 * row) * size * 0.58
        draw(group, line, x + sp(_NAME), middle, size, palette.ink, width=_room(place))


def draw_limited(group: InstructionGroup, x: float, y: float, size: float) -> None:
    """Add the mark of a limited player around a middle: an L in a ring."""
    group.add(Color(*theme.palette.ink))
    group.add(Line(circle=(x, y, size * 0.62), width=dp(1.05)))
    draw(group, "L", x, y, size * 0.85, theme.palette.ink, fonts.SEMIBOLD, "center")


def _room(place: Rect) -> float:
    return place.width - sp(_NAME + _MARGIN)


def _lines(name: str, size: float, place: Rect) -> list[str]:
    tall = place.height >= sp(_TWO_LINES)
    return two_lines(name, size, _room(place), fonts.PLAIN) if tall else [name]
