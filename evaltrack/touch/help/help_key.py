"""The key for help, at the same place on every screen, in room that the bar there gives up for it."""

from kivy.graphics import Color, InstructionGroup, RoundedRectangle
from kivy.metrics import dp, sp

from evaltrack.rink.board_grid import Rect
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.outlines import rounded
from evaltrack.touch.widgets.text_label import Bar
from evaltrack.touch.widgets.theme import theme

TITLE = "?"
WIDTH, HEIGHT = 48, 56  # dp and sp that are drawn; lower where the bar has lower rows
_RIGHT, _LEFT, _BELOW = 10, 6, 4  # dp around it that can be touched as well
_ROUND = 8  # dp


class HelpKey(TapButton):
    """A key in the upper right corner of a screen, whatever the screen puts into its bar.

    It can be touched up to the edges of the window. ``bar`` is the one at the top of the screen.
    """

    def __init__(self, screen, **kwargs):
        self._screen = screen
        self.bar = next(part for part in screen.walk(restrict=True) if isinstance(part, Bar))
        self._own: dict = {}  # the padding, in dp, that each row has of itself
        super().__init__(title=TITLE, in_bar=True, size_hint=(None, None), **kwargs)
        self.bar.bind(pos=self._follow, size=self._follow, orientation=self._follow)
        screen.bind(size=self._follow)
        screen.add_widget(self)
        self._follow()

    def on_press(self) -> None:
        """Ask for help on the screen."""
        self._screen.dispatch("on_help")

    @property
    def face(self) -> Rect:
        """Return the part that is drawn, in line with the other keys of the bar."""
        top = dp(self._padding_of(self.bar)[1])
        return Rect(self.x + dp(_LEFT), self.y + dp(_BELOW), dp(WIDTH), self.height - top - dp(_BELOW))

    def draw(self, group: InstructionGroup) -> None:
        """Draw a key of the bar that is smaller than what can be touched."""
        palette, face = theme.palette, self.face
        group.add(Color(*(palette.soft if self.state == "down" else palette.bar)))
        group.add(RoundedRectangle(pos=(face.x, face.y), size=(face.width, face.height), radius=[dp(_ROUND)]))
        group.add(Color(*palette.bar_soft))
        group.add(rounded(*face.inset(dp(1)), dp(_ROUND), dp(1.1)))
        if self.focused:
            group.add(Color(*palette.on_bar))
            group.add(rounded(*face.inset(dp(5)), dp(5), dp(1.6)))
        middle = face.x + face.width / 2, face.y + face.height / 2
        draw(group, self.title, *middle, dp(24), palette.on_bar, fonts.SEMIBOLD, "center")

    def _follow(self, *_) -> None:
        upper = self._upper_row()
        for row in {*self._own, upper}:
            left, top, right, bottom = self._padding_of(row)
            # a row within the bar ends where the bar's own padding begins
            edge = 0 if row is self.bar else self._padding_of(self.bar)[2]
            room = max(right, _LEFT + WIDTH + _RIGHT - edge) if row is upper else right
            row.padding = [dp(left), dp(top), dp(room), dp(bottom)]
        _, top, _, bottom = self._padding_of(self.bar)
        high = self.bar.height - dp(top + bottom) if upper is self.bar else upper.height
        self.size = dp(_LEFT + WIDTH + _RIGHT), dp(top) + min(sp(HEIGHT), high) + dp(_BELOW)
        # not by its top, which may be that of before while the bar is moved
        self.pos = self._screen.width - self.width, self.bar.y + self.bar.height - self.height

    def _upper_row(self):
        upright = self.bar.orientation == "vertical" and self.bar.children
        return self.bar.children[-1] if upright else self.bar

    def _padding_of(self, row) -> list[float]:
        if row not in self._own:
            self._own[row] = [side / dp(1) for side in row.padding]
        return self._own[row]
