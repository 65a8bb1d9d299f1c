"""The quiet mark on every screen of the invented team: nobody takes its numbers for children's."""

from kivy.graphics import Color, InstructionGroup, RoundedRectangle
from kivy.metrics import dp

from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, texture
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme

WORDS = "invented team"
_HIGH, _PAD, _LETTERS = 17, 10, 13  # dp


class InventedMark(Drawn):
    """Draws a tag at the middle of the upper edge, over whatever is shown there; it takes no touch."""

    def __init__(self, over, **kwargs):
        super().__init__(size_hint=(None, None), **kwargs)
        self._over = over
        self._follow()

    def show(self, shown: bool) -> None:
        """Put the mark over the screens, or take it off."""
        after = self._over.canvas.after
        if shown and self.canvas not in after.children:
            after.add(self.canvas)
            self._over.bind(size=self._follow)
        elif not shown and self.canvas in after.children:
            after.remove(self.canvas)
            self._over.unbind(size=self._follow)
        self._follow()

    def draw(self, group: InstructionGroup) -> None:
        """Draw the tag."""
        words = texture(WORDS, dp(_LETTERS), fonts.SEMIBOLD)
        width, high = words.width + 2 * dp(_PAD), dp(_HIGH)
        left, bottom = self.center_x - width / 2, self.top - high
        group.add(Color(*theme.palette.bar_soft))
        group.add(RoundedRectangle(pos=(left, bottom), size=(width, high), radius=[0, 0, dp(6), dp(6)]))
        add_texture(group, words, left + dp(_PAD), bottom + (high - words.height) / 2, theme.palette.bar)

    def _follow(self, *_) -> None:
        self.pos, self.size = self._over.pos, self._over.size
