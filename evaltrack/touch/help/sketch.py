"""A screen in small, as a page of help shows it: drawn by us from a few rows of words."""

from kivy.graphics import InstructionGroup
from kivy.metrics import dp
from kivy.properties import ListProperty, NumericProperty

from evaltrack.rink.board_grid import Rect
from evaltrack.touch.help.sketch_pen import SketchPen
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme

_EDGE, _GAP = 12, 8  # in units of the drawing
_WIDE, _LARGEST = 420, 1.5  # units across at its own size, and how much larger it is drawn at most
_FEWEST = 120  # pixels: narrower, it is not laid out yet


class Sketch(Drawn):
    """Draws the ``rows`` one below the other in a frame; ``wanted`` is the height that they need."""

    shows = ("rows",)
    rows = ListProperty()
    wanted = NumericProperty(0)

    def on_rows(self, *_) -> None:
        """Ask for the height that the rows need at this width."""
        gaps = _GAP * max(len(self.rows) - 1, 0)
        self.wanted = self._unit * (sum(row.height for row in self.rows) + gaps + 2 * _EDGE)

    def on_width(self, *_) -> None:
        """Ask again: a wider drawing is a larger one."""
        self.on_rows()

    @property
    def _unit(self) -> float:
        """Return the pixels of a unit of the drawing, which is a dp at its own size."""
        return dp(1) * min(max(self.width / dp(_WIDE), 1), _LARGEST)

    def draw(self, group: InstructionGroup) -> None:
        """Draw the frame, and each row in it."""
        if self.width < _FEWEST:
            return
        pen, gap = SketchPen(group, self._unit), _GAP * self._unit
        frame = Rect(self.x, self.top - self.wanted, self.width, self.wanted)
        pen.box(frame, theme.palette.ground, theme.palette.soft)
        inside = frame.inset(_EDGE * self._unit)
        top = inside.top
        for row in self.rows:
            high = row.height * self._unit
            pen.row(row, Rect(inside.x, top - high, inside.width, high), gap)
            top -= high + gap
