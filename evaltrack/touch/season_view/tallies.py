"""How many tallies were made at each practice: all of them, and those of each observer below."""

from kivy.graphics import Color, InstructionGroup, Rectangle, RoundedRectangle
from kivy.metrics import dp, sp

from evaltrack.analysis.team.season_view import SeasonView
from evaltrack.language import decimal
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme
from evaltrack.words.practice_columns import month_columns
from evaltrack.words.season import panel_title, tally_panels

_PAD = 12  # dp
_TITLE, _FIGURE, _FOOT = 26, 18, 22  # sp: a panel's heading, the figures over the bars, the months below
_BARS = 84  # dp, the highest bar


class Tallies(Drawn):
    """Draws a panel of bars for all tallies and one for each observer, all on one scale."""

    def __init__(self, view: SeasonView, **kwargs):
        self.view = view
        self.panels = tally_panels(view)
        self.most = max((max(counts, default=0) for _, counts in self.panels), default=0)
        super().__init__(size_hint_y=None, height=len(self.panels) * self._panel + 2 * dp(_PAD), **kwargs)
        self.redraw()

    @property
    def _panel(self) -> float:
        return sp(_TITLE + _FIGURE + _FOOT) + dp(_BARS + 8)

    def draw(self, group: InstructionGroup) -> None:
        """Draw the panels from the top down."""
        group.add(Color(*theme.palette.tile))
        group.add(RoundedRectangle(pos=self.pos, size=self.size, radius=[dp(8)]))
        for number, (title, counts) in enumerate(self.panels):
            self._draw_panel(group, self.top - dp(_PAD) - number * self._panel, title, counts)

    def _draw_panel(self, group: InstructionGroup, top: float, title: str, counts: list[int]) -> None:
        palette, left = theme.palette, self.x + dp(_PAD)
        words = panel_title(title, counts)
        width = self.width - 2 * dp(_PAD)
        draw(group, words, left, top - sp(_TITLE / 2), sp(17), palette.ink, fonts.SEMIBOLD, width=width)
        foot, step = top - sp(_TITLE + _FIGURE) - dp(_BARS), width / max(len(counts), 1)
        every = step >= sp(28)
        for column, count in enumerate(counts):
            high = dp(_BARS) * count / max(self.most, 1)
            x, wide = left + column * step, min(0.8 * step, dp(40))
            group.add(Color(*palette.fill))
            group.add(Rectangle(pos=(x, foot), size=(wide, high)))
            if every or column in _named(counts):
                middle = x + wide / 2
                figure, low = decimal(count, 0), foot + high + sp(9)
                draw(group, figure, middle, low, sp(13), palette.soft, anchor="center")
        self._draw_axis(group, left, foot, width, step)

    def _draw_axis(
        self, group: InstructionGroup, left: float, foot: float, width: float, step: float
    ) -> None:
        palette = theme.palette
        group.add(Color(*palette.soft))
        group.add(Rectangle(pos=(left, foot - dp(1)), size=(width, dp(1))))
        for name, column in month_columns([one.practice.held_on for one in self.view.practices]):
            group.add(Color(*palette.line))
            group.add(Rectangle(pos=(round(left + column * step), foot - dp(6)), size=(dp(1), dp(5))))
            draw(group, name, left + column * step, foot - sp(_FOOT / 2) - dp(3), sp(13), palette.soft)


def _named(counts: list[int]) -> set[int]:
    """Return which bars have their figure where not all do: the highest and the last."""
    return {counts.index(max(counts)), len(counts) - 1}
