"""A row of a list that is pressed as a button is: a title, and under it as many lines as the words need."""

from kivy.clock import Clock
from kivy.graphics import Color, InstructionGroup, RoundedRectangle
from kivy.metrics import dp
from kivy.properties import BooleanProperty

from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.glyphs import add_texture, wrapped
from evaltrack.touch.widgets.theme import theme

_PAD, _EDGE = 18, 8  # dp: beside the words, the stripe that marks a row


class ListRow(TapButton):
    """A row as high as its words, which stand on the left.

    ``marked`` says that there is something to mend in it.
    """

    shows = (*TapButton.shows, "marked")
    weight = fonts.SEMIBOLD  # of the title
    least = 64  # dp, the height
    marked = BooleanProperty(False)

    def __init__(self, **kwargs):
        self._fit = Clock.create_trigger(self._fit_words, -1)
        super().__init__(
            **({"size_hint_y": None, "height": dp(self.least), "small_size": "15sp", "wraps": True} | kwargs)
        )
        for name in ("width", "title", "small", "title_size", "small_size"):
            self.fbind(name, self._fit)
        self._fit()

    def draw(self, group: InstructionGroup) -> None:
        """Draw the face, the stripe of a marked row, and the words."""
        super().draw(group)
        if self.marked:
            group.add(Color(*theme.palette.fill))
            group.add(RoundedRectangle(pos=self.pos, size=(dp(_EDGE), self.height), radius=[dp(4)]))

    def _fit_words(self, *_) -> None:
        if self.width > 4 * dp(_PAD):
            self.height = max(dp(self.least), sum(drawn.height for drawn in self._lines()) + dp(_PAD))

    def _lines(self) -> list:
        width = int(self.width - 2 * dp(_PAD))
        lines = [wrapped(self.title, self.title_size, self.weight, width, "left")]
        if self.small:
            weight = fonts.SEMIBOLD if self.marked else fonts.PLAIN
            lines.append(wrapped(self.small, self.small_size, weight, width, "left"))
        return lines

    def _draw_words(self, group: InstructionGroup) -> None:
        if self.width <= 4 * dp(_PAD):
            return
        palette, lines = theme.palette, self._lines()
        soft = palette.ink if self.marked and not self.active else self._soft
        top = self.center_y + sum(drawn.height for drawn in lines) / 2
        for drawn, tint in zip(lines, (self._ink, soft), strict=False):
            top -= drawn.height
            add_texture(group, drawn, self.x + dp(_PAD), top, tint)
