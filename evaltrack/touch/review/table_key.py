"""The key below the team board: each call that is shown, drawn with its words, and who is limited."""

from kivy.graphics import InstructionGroup
from kivy.metrics import dp, sp
from kivy.properties import BooleanProperty, ObjectProperty

from evaltrack.language import tr
from evaltrack.touch.review.call_marks import call_width, draw_call
from evaltrack.touch.review.team_names import draw_limited
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme
from evaltrack.words.legends import LIMITED

_GAP = 22  # dp between two parts
_SIZE = 14  # sp


class TableKey(Drawn):
    """``calls`` are drawn in their order; ``limited`` says that the mark of limited players is told too."""

    shows = ("calls", "limited")
    calls = ObjectProperty(())
    limited = BooleanProperty(False)

    def draw(self, group: InstructionGroup) -> None:
        """Draw the parts one after the other."""
        x, y, size = self.x + dp(16), self.center_y, sp(_SIZE)
        for call in self.calls:
            x += call_width(call, size)
            draw_call(group, call, x, y, size)
            x += dp(_GAP)
        if self.limited:
            draw_limited(group, x + size * 0.6, y, size)
            draw(group, tr(LIMITED), x + size * 1.5, y, size, theme.palette.soft)
