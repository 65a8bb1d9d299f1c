"""How a call is drawn: in words, with a mark, and in grey still told apart."""

from kivy.graphics import Color, InstructionGroup, Line, RoundedRectangle, Triangle
from kivy.metrics import dp

from evaltrack.analysis.standings.standing import Call
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import draw, texture
from evaltrack.touch.widgets.theme import theme


def call_width(call: Call, size: float) -> float:
    """Return how wide a call is drawn, in pixels; 0 for those that are not marked."""
    if call not in (Call.WORK_ON, Call.SOLID):
        return 0
    words = texture(call, round(size), fonts.SEMIBOLD).width
    return words + (size * 1.15 + dp(4) if call is Call.WORK_ON else size * 1.05)


def draw_call(group: InstructionGroup, call: Call, right: float, y: float, size: float) -> None:
    """Add a call that ends at ``right``, its middle at y: `work on` filled, `solid` plain, others not."""
    width = call_width(call, size)
    if call is Call.WORK_ON:
        _draw_work_on(group, right - width, y, width, size)
    elif call is Call.SOLID:
        group.add(Color(*theme.palette.fill))
        _diamond(group, right - width + size * 0.38, y, size * 0.3)
        draw(group, call, right, y, size, theme.palette.fill, fonts.SEMIBOLD, "right")


def _draw_work_on(group: InstructionGroup, x: float, y: float, width: float, size: float) -> None:
    palette, half = theme.palette, size * 0.68
    group.add(Color(*palette.ink))
    group.add(RoundedRectangle(pos=(x, y - half), size=(width, 2 * half), radius=[dp(3)]))
    group.add(Color(*palette.tile))
    left = x + size * 0.36
    group.add(Triangle(points=(left, y - size * 0.3, left, y + size * 0.3, left + size * 0.4, y)))
    draw(group, Call.WORK_ON, x + width - dp(4), y, size, palette.tile, fonts.SEMIBOLD, "right")


def _diamond(group: InstructionGroup, x: float, y: float, radius: float) -> None:
    points = (x - radius, y, x, y + radius, x + radius, y, x, y - radius)
    group.add(Triangle(points=points[:6]))
    group.add(Triangle(points=(*points[4:], *points[:2])))
    group.add(Line(points=points, close=True, width=1))
