"""One skill of one player: what can be said, in words, and the share over the season as a chart."""

from kivy.graphics import Color, Ellipse, InstructionGroup, Line, Mesh, Rectangle, RoundedRectangle
from kivy.metrics import dp
from kivy.properties import BooleanProperty

from evaltrack.analysis.standings.standing import Standing
from evaltrack.rink.board_grid import Rect
from evaltrack.rink.skill import Skill
from evaltrack.touch.review.call_marks import call_width, draw_call
from evaltrack.touch.review.team_names import wide
from evaltrack.touch.review.trend_geometry import RULES, TrendGeometry
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import is_finger
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme
from evaltrack.words.curve import curve
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.legends import practice_lines
from evaltrack.words.recency import recency_words
from evaltrack.words.wording import call_words, count_words, counted, is_firm, state_words, told

_PAD = 12  # dp within the card
_WORDS = 84  # dp for title and words at the top
_FOOT = 18  # dp for the months at the foot
_LEFT = 26  # dp for the figures of the scale
_LINE = 22  # dp from one line of counts to the next


class TrendChart(EventSource, Drawn):
    """Draws a card on one canvas.

    A finger that comes down and goes up on it, without scrolling, asks for it by ``on_ask``. ``asked`` draws
    a border.
    """

    __events__ = ("on_ask",)
    shows = ("asked",)
    asked = BooleanProperty(False)

    def __init__(self, skill: Skill, standing: Standing, axis: DateAxis, **kwargs):
        super().__init__(**kwargs)
        self.skill, self.standing, self.axis = skill, standing, axis
        self.redraw()

    def show(self, standing: Standing, axis: DateAxis) -> None:
        """Draw another standing in the same skill before the next frame."""
        self.standing, self.axis = standing, axis
        self.redraw()

    def on_touch_down(self, touch):
        """Wait for the finger to go up: it may be about to scroll."""
        if not (self.collide_point(*touch.pos) and is_finger(touch)):
            return super().on_touch_down(touch)
        touch.grab(self)
        return True

    def on_touch_up(self, touch):
        """Take a finger that goes up over the chart."""
        if touch.grab_current is not self:
            return super().on_touch_up(touch)
        touch.ungrab(self)
        if self.collide_point(*touch.pos):
            self.dispatch("on_ask")
        return True

    def draw(self, group: InstructionGroup) -> None:
        """Draw the card: its ground, its words, and the chart."""
        group.add(Color(*theme.palette.tile))
        group.add(RoundedRectangle(pos=self.pos, size=self.size, radius=[dp(8)]))
        if self.asked:
            group.add(Color(*theme.palette.fill))
            edge = (self.x + dp(1), self.y + dp(1), self.width - dp(2), self.height - dp(2), dp(8))
            group.add(Line(rounded_rectangle=edge, width=dp(1.5)))
        self._draw_words(group)
        if is_firm(self.standing):
            self._draw_share(group)
        else:
            self._draw_counts(group)

    def _draw_share(self, group: InstructionGroup) -> None:
        geometry = TrendGeometry(self._plot(), self.axis, dp(1))
        _draw_scale(group, geometry)
        _draw_bands(group, geometry, self.standing)
        _draw_target(group, geometry, self.standing.target)
        _draw_dots(group, geometry, self.standing)
        _draw_line(group, geometry, self.standing)

    def _draw_counts(self, group: InstructionGroup) -> None:
        """Draw what was seen at each practice in words: no share, so no scale."""
        left, top = self.x + dp(_PAD), self.top - dp(_WORDS + _LINE / 2)
        room = top - self.y - dp(_PAD)
        for row, line in enumerate(practice_lines(self.standing.seen, int(room // dp(_LINE)))):
            draw(group, line, left, top - row * dp(_LINE), dp(16), theme.palette.soft)

    def _plot(self) -> Rect:
        left, foot = dp(_PAD + _LEFT), dp(_PAD + _FOOT)
        width, height = self.width - left - dp(_PAD + 10), self.height - foot - dp(_WORDS)
        return Rect(self.x + left, self.y + foot, max(width, 1), max(height, 1))

    def _draw_words(self, group: InstructionGroup) -> None:
        palette, one = theme.palette, self.standing
        left, right, top = self.x + dp(_PAD), self.right - dp(_PAD), self.top - dp(_PAD)
        call = _draw_call(group, one, right, top - dp(9))
        room = right - left - call - dp(8)
        draw(group, self.skill.name, left, top - dp(9), dp(18), palette.ink, fonts.SEMIBOLD, width=room)
        tint = palette.ink if is_firm(one) else palette.soft
        parts = [told(one), recency_words(one)] if is_firm(one) else [_plain_count(one)]
        count = "; ".join(filter(None, parts))
        size = dp(16) if wide(count, dp(16), fonts.PLAIN) <= right - left else dp(14)
        draw(group, count, left, top - dp(31), size, tint, width=right - left)
        state = state_words(one, self.axis.last)
        draw(group, state, left, top - dp(51), dp(14), palette.soft, width=right - left)


def _draw_call(group: InstructionGroup, standing: Standing, right: float, y: float) -> float:
    """Draw the call, or none where the estimate does not stand, and return how wide it is."""
    if not call_words(standing):
        return 0
    draw_call(group, standing.call, right, y, dp(14))
    return call_width(standing.call, dp(14))


def _plain_count(standing: Standing) -> str:
    return f"{count_words(standing.done, standing.tries)} at {counted(standing.practices, 'practice')}"


def _draw_scale(group: InstructionGroup, geometry: TrendGeometry) -> None:
    palette, plot = theme.palette, geometry.plot
    for share, label in RULES:
        y = round(geometry.y(share))
        group.add(Color(*palette.line))
        group.add(Rectangle(pos=(plot.x, y), size=(plot.width, dp(1))))
        draw(group, label, plot.x - dp(10), y, dp(13), palette.soft, anchor="right")
    for name, x in geometry.months():
        group.add(Color(*palette.line))
        group.add(Rectangle(pos=(round(x), plot.y - dp(4)), size=(dp(1), dp(4))))
        draw(group, name, x, plot.y - dp(14), dp(13), palette.soft)


def _draw_bands(group: InstructionGroup, geometry: TrendGeometry, standing: Standing) -> None:
    for tint, low, high in (
        (theme.palette.band, "low", "high"),
        (theme.palette.band50, "low50", "high50"),
    ):
        strip = geometry.band(curve(standing), low, high)
        vertices = [v for i in range(0, len(strip), 2) for v in (strip[i], strip[i + 1], 0, 0)]
        group.add(Color(*tint))
        group.add(Mesh(vertices=vertices, indices=range(len(strip) // 2), mode="triangle_strip"))


def _draw_target(group: InstructionGroup, geometry: TrendGeometry, target: float) -> None:
    plot, y = geometry.plot, geometry.y(target)
    right = plot.x + plot.width
    group.add(Color(*theme.palette.ink))
    group.add(Line(points=(right - dp(2), y, right + dp(10), y), width=dp(1.1)))


def _draw_dots(group: InstructionGroup, geometry: TrendGeometry, standing: Standing) -> None:
    palette = theme.palette
    for dot in geometry.dots(standing.seen):
        size = (2 * dot.radius, 2 * dot.radius)
        group.add(Color(*palette.tile))
        group.add(Ellipse(pos=(dot.x - dot.radius, dot.y - dot.radius), size=size))
        group.add(Color(*palette.ink))
        group.add(Line(circle=(dot.x, dot.y, dot.radius), width=1.05))


def _draw_line(group: InstructionGroup, geometry: TrendGeometry, standing: Standing) -> None:
    """Draw the share from the first day to the last on which the player was seen, and the share now.

    Where the player was there after that, and not seen in this skill, the share now stands by itself.
    """
    drawn, now = curve(standing), standing.path[-1]
    group.add(Color(*theme.palette.fill))
    group.add(Line(points=geometry.line(drawn), width=dp(1.5), cap="round", joint="round"))
    x, radius = geometry.x(now.on), dp(4)
    if now.on > drawn[-1].on:
        group.add(Line(points=(x, geometry.y(now.low), x, geometry.y(now.high)), width=dp(1.1), cap="none"))
    group.add(Ellipse(pos=(x - radius, geometry.y(now.share) - radius), size=(2 * radius, 2 * radius)))
