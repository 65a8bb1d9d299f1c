"""A share over the season, drawn in parts: the scale, the bands, the practices, the line, the target."""

from collections.abc import Iterable, Sequence

from kivy.graphics import Color, Ellipse, InstructionGroup, Line, Mesh, Rectangle
from kivy.metrics import dp, sp

from evaltrack.analysis.standings.standing import PathPoint, Seen
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.theme import theme
from evaltrack.touch.widgets.trend_geometry import RULES, TrendGeometry


def draw_scale(group: InstructionGroup, geometry: TrendGeometry) -> None:
    """Draw the scale from 0 to 10, and where the months begin."""
    palette, plot = theme.palette, geometry.plot
    for share, label in RULES:
        y = round(geometry.y(share))
        group.add(Color(*palette.line))
        group.add(Rectangle(pos=(plot.x, y), size=(plot.width, dp(1))))
        draw(group, label, plot.x - dp(10), y, sp(13), palette.soft, anchor="right")
    for name, x in geometry.months():
        group.add(Color(*palette.line))
        group.add(Rectangle(pos=(round(x), plot.y - dp(4)), size=(dp(1), dp(4))))
        draw(group, name, x, plot.y - sp(14), sp(13), palette.soft)


def draw_bands(group: InstructionGroup, geometry: TrendGeometry, path: Sequence[PathPoint]) -> None:
    """Draw the intervals of 90 % and of 50 %."""
    for tint, low, high in (
        (theme.palette.band, "low", "high"),
        (theme.palette.band50, "low50", "high50"),
    ):
        strip = geometry.band(path, low, high)
        vertices = [v for i in range(0, len(strip), 2) for v in (strip[i], strip[i + 1], 0, 0)]
        group.add(Color(*tint))
        group.add(Mesh(vertices=vertices, indices=range(len(strip) // 2), mode="triangle_strip"))


def draw_target(group: InstructionGroup, geometry: TrendGeometry, target: float) -> None:
    """Draw the mark of the target at the right."""
    plot, y = geometry.plot, geometry.y(target)
    right = plot.x + plot.width
    group.add(Color(*theme.palette.ink))
    group.add(Line(points=(right - dp(2), y, right + dp(10), y), width=dp(1.1)))


def draw_dots(group: InstructionGroup, geometry: TrendGeometry, seen: Iterable[Seen]) -> None:
    """Draw a ring for each practice with a try."""
    palette = theme.palette
    for dot in geometry.dots(seen):
        size = (2 * dot.radius, 2 * dot.radius)
        group.add(Color(*palette.tile))
        group.add(Ellipse(pos=(dot.x - dot.radius, dot.y - dot.radius), size=size))
        group.add(Color(*palette.ink))
        group.add(Line(circle=(dot.x, dot.y, dot.radius), width=1.05))


def draw_line(
    group: InstructionGroup, geometry: TrendGeometry, path: Sequence[PathPoint], now: PathPoint
) -> None:
    """Draw the share day by day, and the share ``now`` as a dot.

    Where the path ends before that, the share now stands by itself, with its interval.
    """
    group.add(Color(*theme.palette.fill))
    group.add(Line(points=geometry.line(path), width=dp(1.5), cap="round", joint="round"))
    x, radius = geometry.x(now.on), dp(4)
    if now.on > path[-1].on:
        group.add(Line(points=(x, geometry.y(now.low), x, geometry.y(now.high)), width=dp(1.1), cap="none"))
    group.add(Ellipse(pos=(x - radius, geometry.y(now.share) - radius), size=(2 * radius, 2 * radius)))
