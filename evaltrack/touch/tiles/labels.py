"""A number with a name, side by side or one above the other, as large as a box allows; no word is cut."""

from typing import NamedTuple

from kivy.graphics import InstructionGroup
from kivy.metrics import dp

from evaltrack.rink.board_grid import Rect
from evaltrack.rink.short_names import name_within
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, fitting, texture, whole

_SIZES = (26, 22, 19, 17, 15, 13)
_TITLES = (*_SIZES, 12, 11)  # of words that no number stands for
_SMALL = (16, 14, 13, 12, 11)
_LINE = 1.3  # of a type size: the height of its line
# of a box: two lines or three that fill it with their letters, and are blank above and below these
_WITH_BLANK, _WITH_LESS = 1.12, 1.04
_BETWEEN = 7  # dp from the number to the name


class Label(NamedTuple):
    """A jersey number or none, a name with its shorter form, and a small line.

    A name that has no room beside its number leaves the number alone.
    """

    number: str
    name: str
    brief: str = ""
    small: str = ""


def draw_label(group: InstructionGroup, box: Rect, label: Label, tint) -> None:
    """Draw a number and a name side by side in the middle of a box; a name alone may have more lines."""
    parts, room = [], box.width
    if label.number:
        size = round(min(box.height * 1.02, box.width * 0.32))
        parts.append(texture(label.number, size, fonts.BOLD))
        room -= parts[0].width + dp(_BETWEEN)
    parts += _name(label, room, box.height)
    left = box.x + (box.width - sum(part.width for part in parts) - dp(_BETWEEN) * (len(parts) - 1)) / 2
    for part in parts:
        add_texture(group, part, left, box.y + (box.height - part.height) / 2, tint)
        left += part.width + dp(_BETWEEN)


def draw_flat(group, box: Rect, label: Label, tint, soft) -> None:
    """Draw a number and a name side by side, and the small line under both if there is one."""
    low = box.height * 0.36 if label.small else 0
    draw_label(group, Rect(box.x, box.y + low, box.width, box.height - low), label, tint)
    if label.small:
        drawn = fitting(label.small, fonts.PLAIN, box.width, low, _SMALL)
        add_texture(group, drawn, box.x + (box.width - drawn.width) / 2, box.y, soft)


def draw_upright(group, box: Rect, label: Label, tint, soft) -> None:
    """Draw a number, a name under it and the small line under both, those that there are."""
    three = bool(label.number and label.small)
    lines = [(drawn, tint) for drawn in _name(label, box.width, box.height * (0.32 if three else 0.4))]
    if label.small:
        low = box.height * (0.24 if three else 0.3)
        lines.append((fitting(label.small, fonts.PLAIN, box.width, low, _SMALL, wraps=True), soft))
    if label.number:
        filled = box.height * (_WITH_LESS if three else _WITH_BLANK)
        left = filled - sum(drawn.height for drawn, _ in lines)
        share = 0.42 if label.small else 0.5
        size = round(min(box.height * share, box.width * 0.62, left / _LINE))
        lines.insert(0, (texture(label.number, size, fonts.BOLD), tint))
    y = box.y + (box.height + sum(drawn.height for drawn, _ in lines)) / 2
    for drawn, colour in lines:
        y -= drawn.height
        add_texture(group, drawn, box.x + (box.width - drawn.width) / 2, y, colour)


def _name(label: Label, width: float, height: float) -> list:
    """Return the texture of a name in a list; none where a number stands for a name that has no room."""
    if not label.number:
        return [fitting(label.name, fonts.SEMIBOLD, width, height, _TITLES, wraps=True)]

    def drawn(form: str):
        return whole(form, fonts.SEMIBOLD, width, height, _SIZES)

    form = name_within((label.name, label.brief), drawn)
    return [drawn(form)] if form else []
