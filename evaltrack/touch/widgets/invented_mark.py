"""The quiet mark on every screen of the invented team: nobody takes its numbers for children's."""

from kivy.graphics import Color, InstructionGroup, Rectangle, RoundedRectangle
from kivy.metrics import dp, sp

from evaltrack.language import mark, tr
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, texture
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme

WORDS = mark("invented team")
_HIGH, _PAD, _LETTERS = 17, 10, 13  # the first and the last in sp, for larger words


class InventedMark(Drawn):
    """Draws a strip with a tag along the upper edge, for which each screen gives room; it takes no touch."""

    def __init__(self, over, **kwargs):
        super().__init__(size_hint=(None, None), **kwargs)
        self._over = over
        self._shown = False

    def show(self, shown: bool) -> None:
        """Put the mark above the screens, or take it off."""
        if shown == self._shown:
            return
        self._shown = shown
        after = self._over.canvas.after
        if shown:
            after.add(self.canvas)
            self._over.bind(size=self._follow, screens=self._follow)
            theme.bind(palette=self._follow)  # larger words come with it, and need more room
        else:
            after.remove(self.canvas)
            self._over.unbind(size=self._follow, screens=self._follow)
            theme.unbind(palette=self._follow)
        self._follow()

    def draw(self, group: InstructionGroup) -> None:
        """Draw the strip and the tag on it."""
        palette, words = theme.palette, texture(tr(WORDS), sp(_LETTERS), fonts.SEMIBOLD)
        width, high = words.width + 2 * dp(_PAD), sp(_HIGH)
        left, bottom = self.center_x - width / 2, self.top - high
        group.add(Color(*palette.bar))
        group.add(Rectangle(pos=(self.x, bottom), size=(self.width, high)))
        group.add(Color(*palette.bar_soft))
        group.add(RoundedRectangle(pos=(left, bottom), size=(width, high), radius=[0, 0, dp(6), dp(6)]))
        add_texture(group, words, left + dp(_PAD), bottom + (high - words.height) / 2, palette.bar)

    def _follow(self, *_) -> None:
        self.pos, self.size = self._over.pos, self._over.size
        for screen in self._over.screens:
            screen.room_above = sp(_HIGH) if self._shown else 0
            screen.size_hint_y = 1 - screen.room_above / max(self.height, 1)
