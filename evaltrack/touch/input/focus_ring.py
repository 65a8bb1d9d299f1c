"""The ring round what the keyboard is on, drawn over all screens."""

from kivy.graphics import Color, InstructionGroup
from kivy.metrics import dp

from evaltrack.rink.board_grid import Rect
from evaltrack.touch.widgets.outlines import rounded
from evaltrack.touch.widgets.theme import theme

_LINE = 2.4  # dp, of each of its two lines
_ROUND = 8  # dp
RING_TINTS = ("tile", "ink")  # of the palette, the outer line first


class FocusRing:
    """Two lines side by side, one in the ink and one in the ground: one of them is seen on whatever it is."""

    def __init__(self, over):
        self._over = over
        self._group = InstructionGroup()
        self.place: Rect | None = None
        self._shown: tuple = (None, None)

    def show(self, place: Rect | None) -> None:
        """Draw it round a place in the window, or nowhere."""
        shown = place, theme.palette
        if shown == self._shown:
            return
        self.place, self._shown = place, shown
        self._group.clear()
        after = self._over.canvas.after
        if self._group in after.children:
            after.remove(self._group)
        if place is None:
            return
        after.add(self._group)
        self._draw(place)

    def _draw(self, place: Rect) -> None:
        line = dp(_LINE)
        for index, tint in enumerate(RING_TINTS):
            self._group.add(Color(*getattr(theme.palette, tint)))
            self._group.add(rounded(*place.inset(line * (index + 0.5)), dp(_ROUND), line / 2))
