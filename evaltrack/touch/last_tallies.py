"""The strip of what was tallied last, the newest first."""

from kivy.graphics import Color, InstructionGroup, Line
from kivy.metrics import dp
from kivy.properties import ListProperty
from kivy.uix.widget import Widget

from evaltrack.rink.tally import Outcome
from evaltrack.touch import fonts
from evaltrack.touch.glyphs import draw
from evaltrack.touch.marks import add_check, add_ring
from evaltrack.touch.theme import theme

_STEP = 54  # dp from one tally to the next


class LastTallies(Widget):
    """``tallies`` is a list of (jersey number, outcome), the newest first; as many as fit are drawn."""

    tallies = ListProperty()

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.bind(pos=self._redraw, size=self._redraw, tallies=self._redraw)
        theme.bind(palette=self._redraw)

    def _redraw(self, *_) -> None:
        self.canvas.clear()
        group = InstructionGroup()
        self.canvas.add(group)
        for index, (number, outcome) in enumerate(self.tallies[: int(self.width // dp(_STEP))]):
            x = self.x + dp(_STEP) * (index + 0.5)
            draw(
                group,
                number,
                x,
                self.center_y + dp(13),
                dp(22),
                theme.palette.on_bar,
                fonts.SEMIBOLD,
                "center",
            )
            group.add(Color(*theme.palette.bar_soft))
            self._mark(group, x, self.center_y - dp(16), outcome)

    @staticmethod
    def _mark(group: InstructionGroup, x: float, y: float, outcome: Outcome) -> None:
        if outcome is Outcome.UNSEEN:
            group.add(Line(points=(x - dp(7), y, x + dp(7), y), width=dp(1.6)))
        else:
            (add_check if outcome is Outcome.DONE else add_ring)(group, x, y, dp(8))
