"""Dots for the digits of a code that is being typed."""

from kivy.graphics import Color, Ellipse, InstructionGroup, Line
from kivy.metrics import dp
from kivy.properties import NumericProperty

from evaltrack.device.passcode import FEWEST, MOST
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme

_STEP, _RADIUS = 34, 9  # dp


class TypedDigits(Drawn):
    """A dot for each digit that is ``typed``, a ring for each that must follow, a small one where it may."""

    shows = ("typed",)
    typed = NumericProperty(0)

    def draw(self, group: InstructionGroup) -> None:
        """Draw dots and rings from left to right."""
        left, y, radius = self.center_x - dp(_STEP) * (MOST - 1) / 2, self.center_y, dp(_RADIUS)
        for place in range(MOST):
            x = left + place * dp(_STEP)
            group.add(Color(*(theme.palette.fill if place < self.typed else theme.palette.soft)))
            if place < self.typed:
                group.add(Ellipse(pos=(x - radius, y - radius), size=(2 * radius, 2 * radius)))
            else:
                reach = radius if place < FEWEST else radius * 0.45
                group.add(Line(circle=(x, y, reach), width=dp(1.3)))
