"""The team in one skill: what can be said, in words, and its share over the season as a chart."""

from kivy.graphics import Color, InstructionGroup, RoundedRectangle
from kivy.metrics import dp, sp

from evaltrack.analysis.team.course import TeamCourse
from evaltrack.rink.board_grid import Rect
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, draw, wrapped
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.share_plot import draw_bands, draw_dots, draw_line, draw_scale, draw_target
from evaltrack.touch.widgets.theme import theme
from evaltrack.touch.widgets.trend_geometry import TrendGeometry
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.team import team_lines

_PAD = 12  # dp within the card
_FOOT = 18  # dp for the months at the foot
_LEFT = 26  # dp for the figures of the scale


class TeamCard(Drawn):
    """Draws a card on one canvas: the name of the skill, two ``lines`` of words, the chart."""

    def __init__(self, name: str, course: TeamCourse, axis: DateAxis, target: float, **kwargs):
        super().__init__(**kwargs)
        self.name, self.course, self.axis, self.target = name, course, axis, target
        self.lines = team_lines(course)
        self.redraw()

    def draw(self, group: InstructionGroup) -> None:
        """Draw the ground, the words from the top down, and the chart in what is left."""
        group.add(Color(*theme.palette.tile))
        group.add(RoundedRectangle(pos=self.pos, size=self.size, radius=[dp(8)]))
        foot = self._draw_words(group)
        if self.course.path:
            self._draw_chart(group, foot - dp(10))

    def _draw_words(self, group: InstructionGroup) -> float:
        """Draw them and return where they end."""
        palette, left, y = theme.palette, self.x + dp(_PAD), self.top - dp(_PAD)
        width = max(int(self.width - 2 * dp(_PAD)), 1)
        draw(group, self.name, left, y - sp(9), sp(18), palette.ink, fonts.SEMIBOLD, width=width)
        y -= sp(22)
        for words, tint in zip(self.lines, (palette.ink, palette.soft), strict=True):
            drawn = wrapped(words, sp(15), fonts.PLAIN, width, "left")
            add_texture(group, drawn, left, y - drawn.height, tint)
            y -= drawn.height
        return y

    def _draw_chart(self, group: InstructionGroup, top: float) -> None:
        left, foot = self.x + dp(_PAD + _LEFT), self.y + dp(_PAD + _FOOT)
        plot = Rect(left, foot, max(self.right - dp(_PAD + 10) - left, 1), max(top - foot, 1))
        geometry = TrendGeometry(plot, self.axis, dp(1))
        draw_scale(group, geometry)
        draw_bands(group, geometry, self.course.path)
        draw_target(group, geometry, self.target)
        draw_dots(group, geometry, self.course.seen)
        draw_line(group, geometry, self.course.path, self.course.path[-1])
