"""One skill of one player: what can be said, in words, and the share over the season as a chart."""

from kivy.graphics import Color, InstructionGroup, Line, RoundedRectangle
from kivy.metrics import dp, sp
from kivy.properties import BooleanProperty

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import tr_many
from evaltrack.rink.board_grid import Rect
from evaltrack.rink.skill import Skill
from evaltrack.touch.review.call_marks import call_width, draw_call
from evaltrack.touch.review.team_names import wide
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import is_finger
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.reachable import Reachable
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.share_plot import draw_bands, draw_dots, draw_line, draw_scale, draw_target
from evaltrack.touch.widgets.theme import theme
from evaltrack.touch.widgets.trend_geometry import TrendGeometry
from evaltrack.words.curve import curve
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.legends import practice_lines
from evaltrack.words.recency import recency_words
from evaltrack.words.wording import call_words, count_words, is_firm, state_words, told

_PAD = 12  # dp within the card
_WORDS = 84  # sp for title and words at the top
_FOOT = 18  # sp for the months at the foot
_LEFT = 26  # sp for the figures of the scale
_LINE = 22  # sp from one line of counts to the next


class TrendChart(Reachable, EventSource, Drawn):
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

    def spot_name(self, index: int) -> str:
        """Return the key of the skill."""
        return self.skill.key

    def press_spot(self, index: int) -> None:
        """Ask for it."""
        self.dispatch("on_ask")

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
        draw_scale(group, geometry)
        drawn = curve(self.standing)
        draw_bands(group, geometry, drawn)
        draw_target(group, geometry, self.standing.target)
        draw_dots(group, geometry, self.standing.seen)
        draw_line(group, geometry, drawn, self.standing.path[-1])

    def _draw_counts(self, group: InstructionGroup) -> None:
        """Draw what was seen at each practice in words: no share, so no scale."""
        left, top = self.x + dp(_PAD), self.top - sp(_WORDS + _LINE / 2)
        room = top - self.y - dp(_PAD)
        for row, line in enumerate(practice_lines(self.standing.seen, int(room // sp(_LINE)))):
            draw(group, line, left, top - row * sp(_LINE), sp(16), theme.palette.soft)

    def _plot(self) -> Rect:
        left, foot = dp(_PAD) + sp(_LEFT), dp(_PAD) + sp(_FOOT)
        width, height = self.width - left - dp(_PAD + 10), self.height - foot - sp(_WORDS)
        return Rect(self.x + left, self.y + foot, max(width, 1), max(height, 1))

    def _draw_words(self, group: InstructionGroup) -> None:
        palette, one = theme.palette, self.standing
        left, right, top = self.x + dp(_PAD), self.right - dp(_PAD), self.top - dp(_PAD)
        call = _draw_call(group, one, right, top - sp(9))
        within = {"width": right - left - call - dp(8), "shrinks": True}
        draw(group, self.skill.name, left, top - sp(9), sp(18), palette.ink, fonts.SEMIBOLD, **within)
        within["width"] = right - left
        tint = palette.ink if is_firm(one) else palette.soft
        parts = [told(one), recency_words(one)] if is_firm(one) else [_plain_count(one)]
        count = "; ".join(filter(None, parts))
        size = sp(16) if wide(count, sp(16), fonts.PLAIN) <= right - left else sp(14)
        draw(group, count, left, top - sp(31), size, tint, **within)
        state = state_words(one, self.axis.last)
        draw(group, state, left, top - sp(51), sp(14), palette.soft, **within)


def _draw_call(group: InstructionGroup, standing: Standing, right: float, y: float) -> float:
    """Draw the call, or none where the estimate does not stand, and return how wide it is."""
    if not call_words(standing):
        return 0
    draw_call(group, standing.call, right, y, sp(14))
    return call_width(standing.call, sp(14))


def _plain_count(standing: Standing) -> str:
    count = count_words(standing.done, standing.tries)
    return tr_many(
        "{count} at {number} practice", "{count} at {number} practices", standing.practices, count=count
    )
