"""How a call is drawn: in words, with a mark of its own shape, and in grey still told apart."""

from collections.abc import Callable

from kivy.graphics import Color, InstructionGroup, Line, RoundedRectangle, Triangle
from kivy.metrics import dp

from evaltrack.analysis.standings.standing import Call
from evaltrack.language import tr
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import draw, texture
from evaltrack.touch.widgets.theme import theme

_ALWAYS_IN_WORDS = (Call.WORK_ON, Call.SOLID)
_MARK = 1.05  # sizes that a mark takes before its words


def call_width(call: Call, size: float, in_words: bool = True) -> float:
    """Return how wide a call is drawn, in pixels."""
    if not _has_words(call, in_words):
        return size * 0.85
    words = texture(tr(call), round(size), _weight(call)).width
    return words + (size * 1.15 + dp(4) if call is Call.WORK_ON else size * _MARK)


def draw_call(
    group: InstructionGroup, call: Call, right: float, y: float, size: float, in_words: bool = True
) -> None:
    """Add a call that ends at ``right``, its middle at y.

    `work on` is a filled flag, `solid` a filled diamond, `in between` a hollow one, `too few` three dots. The
    last two stand without words where ``in_words`` is false: there a key below has the words.
    """
    left, palette = right - call_width(call, size, in_words), theme.palette
    if call is Call.WORK_ON:
        _draw_work_on(group, left, y, right - left, size)
        return
    tint = palette.fill if call is Call.SOLID else palette.soft
    group.add(Color(*tint))
    _SHAPES[call](group, left + size * 0.4, y, size)
    if _has_words(call, in_words):
        draw(group, tr(call), right, y, size, tint, _weight(call), "right")


def _has_words(call: Call, in_words: bool) -> bool:
    return in_words or call in _ALWAYS_IN_WORDS


def _weight(call: Call) -> str:
    return fonts.SEMIBOLD if call in _ALWAYS_IN_WORDS else fonts.PLAIN


def _draw_work_on(group: InstructionGroup, x: float, y: float, width: float, size: float) -> None:
    palette, half = theme.palette, size * 0.68
    group.add(Color(*palette.ink))
    group.add(RoundedRectangle(pos=(x, y - half), size=(width, 2 * half), radius=[dp(3)]))
    group.add(Color(*palette.tile))
    left = x + size * 0.36
    group.add(Triangle(points=(left, y - size * 0.3, left, y + size * 0.3, left + size * 0.4, y)))
    draw(group, tr(Call.WORK_ON), x + width - dp(4), y, size, palette.tile, fonts.SEMIBOLD, "right")


def _diamond(x: float, y: float, radius: float) -> tuple[float, ...]:
    return x - radius, y, x, y + radius, x + radius, y, x, y - radius


def _draw_solid(group: InstructionGroup, x: float, y: float, size: float) -> None:
    points = _diamond(x, y, size * 0.3)
    group.add(Triangle(points=points[:6]))
    group.add(Triangle(points=(*points[4:], *points[:2])))
    group.add(Line(points=points, close=True, width=1))


def _draw_in_between(group: InstructionGroup, x: float, y: float, size: float) -> None:
    group.add(Line(points=_diamond(x, y, size * 0.36), close=True, width=dp(1.1)))


def _draw_too_few(group: InstructionGroup, x: float, y: float, size: float) -> None:
    radius = size * 0.12
    for place in (-1, 0, 1):
        middle = x + place * size * 0.3
        group.add(
            RoundedRectangle(
                pos=(middle - radius, y - radius), size=(2 * radius, 2 * radius), radius=[radius]
            )
        )


_SHAPES: dict[Call, Callable] = {
    Call.SOLID: _draw_solid,
    Call.IN_BETWEEN: _draw_in_between,
    Call.TOO_FEW: _draw_too_few,
}
