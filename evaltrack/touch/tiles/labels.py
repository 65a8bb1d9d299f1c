"""A number with a name, side by side or one above the other, as large as a box allows."""

from functools import lru_cache

from kivy.graphics import InstructionGroup
from kivy.metrics import dp

from evaltrack.rink.board_grid import Rect
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, fits, fitting, texture

_SIZES = (26, 22, 19, 17, 15, 13)
_SMALL = (16, 14, 13)
_LINE = 1.3  # of a type size: the height of its line
_WITH_BLANK = 1.12  # of a box: lines that fill it with their letters, and are blank above and below these
_BETWEEN = 7  # dp from the number to the name


def draw_label(group: InstructionGroup, box: Rect, number: str, name: str, tint) -> None:
    """Draw a number and a name side by side in the middle of a box; a name alone may have two lines."""
    parts, room = [], box.width
    if number:
        size = round(min(box.height * 1.02, box.width * 0.32))
        parts.append(texture(number, size, fonts.BOLD))
        room -= parts[0].width + dp(_BETWEEN)
    parts.append(_name(name, room, box.height, not number))
    left = box.x + (box.width - sum(part.width for part in parts) - dp(_BETWEEN) * (len(parts) - 1)) / 2
    for part in parts:
        add_texture(group, part, left, box.y + (box.height - part.height) / 2, tint)
        left += part.width + dp(_BETWEEN)


def draw_flat(group, box: Rect, number: str, name: str, small: str, tint, soft) -> None:
    """Draw a number and a name side by side, and a small line under both if there is one."""
    low = box.height * 0.36 if small else 0
    draw_label(group, Rect(box.x, box.y + low, box.width, box.height - low), number, name, tint)
    if small:
        drawn = fitting(small, fonts.PLAIN, box.width, low, _SMALL)
        add_texture(group, drawn, box.x + (box.width - drawn.width) / 2, box.y, soft)


def draw_upright(group, box: Rect, number: str, name: str, small: str, tint, soft) -> None:
    """Draw a number, a name under it and a small line under both, those that there are."""
    lines = [(_name(name, box.width, box.height * 0.4, not number), tint)]
    if small:
        lines.append((fitting(small, fonts.PLAIN, box.width, box.height * 0.3, _SMALL, wraps=True), soft))
    if number:
        left = box.height * _WITH_BLANK - sum(drawn.height for drawn, _ in lines)
        size = round(min(box.height * (0.42 if small else 0.5), box.width * 0.62, left / _LINE))
        lines.insert(0, (texture(number, size, fonts.BOLD), tint))
    y = box.y + (box.height + sum(drawn.height for drawn, _ in lines)) / 2
    for drawn, colour in lines:
        y -= drawn.height
        add_texture(group, drawn, box.x + (box.width - drawn.width) / 2, y, colour)


def _name(name: str, width: float, height: float, wraps: bool):
    return fitting(name if wraps else _short(name, width), fonts.SEMIBOLD, width, height, _SIZES, wraps)


@lru_cache(maxsize=256)
def _short(name: str, width: float) -> str:
    """Return a name that fits in the smallest size and keeps the initial that tells it from others."""
    first, blank, initial = name.rpartition(" ")
    if not (blank and initial.endswith(".")):
        return name
    while len(first) > 1 and not fits(name, fonts.SEMIBOLD, width, _SIZES[-1]):
        first = first[:-1].rstrip("-' ")
        name = f"{first}… {initial}"
    return name
