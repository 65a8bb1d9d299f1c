"""Dots for the digits of a code that is being typed."""

from kivy.graphics import Color, Ellipse, Line
from kivy.metrics import dp
from kivy.properties import NumericProperty
from kivy.uix.widget import Widget

from evaltrack.device.passcode import FEWEST, MOST
from evaltrack.touch.widgets.theme import theme

_STEP, _RADIUS = 34, 9  # dp


class TypedDigits(Widget):
    """A dot for each digit that is ``typed``, a ring for each that must follow, a small one where it may."""

    typed = NumericProperty(0)

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.bind(pos=self._draw, size=self._draw, typed=self._draw)
        theme.bind(palette=self._draw)

    def _draw(self, *_) -> None:
        self.canvas.clear()
        left, y, radius = self.center_x - dp(_STEP) * (MOST - 1) / 2, self.center_y, dp(_RADIUS)
        with self.canvas:
            for place in range(MOST):
                x = left + place * dp(_STEP)
                Color(*(theme.palette.fill if place < self.typed else theme.palette.soft))
                if place < self.typed:
                    Ellipse(pos=(x - radius, y - radius), size=(2 * radius, 2 * radius))
                else:
                    Line(circle=(x, y, radius if place < FEWEST else radius * 0.45), width=dp(1.3))
