"""The strip of what was tallied last, the newest first."""

from kivy.graphics import Color, InstructionGroup
from kivy.metrics import dp, sp
from kivy.properties import ListProperty, StringProperty

from evaltrack.touch.tiles.marks import MARKS, add_pressure
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, draw, fitted
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme

_STEP = 54  # dp from one tally to the next
_HINT = 150  # dp that a hint needs at least


class LastTallies(Drawn):
    """The newest tally stands first, and as many as fit are drawn.

    ``tallies`` is a list of (jersey number, outcome, whether it was made under pressure, which may be None).
    The ``hint`` stands in the room that they leave, as long as it has enough.
    """

    shows = ("tallies", "hint")
    tallies = ListProperty()
    hint = StringProperty("")

    def draw(self, group: InstructionGroup) -> None:
        """Draw as many tallies as fit, and the hint beside them."""
        palette = theme.palette
        room = self.width - dp(_STEP) * len(self.tallies)
        if self.hint and room > dp(_HINT):
            drawn = fitted([(self.hint, sp(15), fonts.PLAIN)], int(room), self.height, True)[0]
            x, y = self.right - (room + drawn.width) / 2, self.center_y - drawn.height / 2
            add_texture(group, drawn, x, y, palette.bar_soft)
        for index, (number, outcome, pressure) in enumerate(self.tallies[: int(self.width // dp(_STEP))]):
            x, y, room = self.x + dp(_STEP) * (index + 0.5), self.center_y, dp(_STEP - 4)
            draw(group, number, x, y + dp(13), sp(22), palette.on_bar, fonts.SEMIBOLD, "center", room, True)
            group.add(Color(*palette.bar_soft))
            MARKS[outcome](group, x, y - dp(16), dp(8))
            if pressure:
                add_pressure(group, x, y - dp(16), dp(8))
