"""A button drawn on one canvas: a board has many, and widgets within each would cost its start."""

from kivy.graphics import Color, InstructionGroup, RoundedRectangle
from kivy.metrics import dp
from kivy.properties import BooleanProperty, NumericProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior

from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, fitted
from evaltrack.touch.widgets.outlines import rounded
from evaltrack.touch.widgets.palette import Colour
from evaltrack.touch.widgets.reachable import Reachable
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme

PAD = 8  # between the edge and the words, in dp
CLEAR = 6  # above and below the words together, in dp, where they can be made smaller for it


def is_finger(touch) -> bool:
    """Say whether a touch is a finger, a pen or the left button of a mouse."""
    if getattr(touch, "is_mouse_scrolling", False):
        return False
    return "button" not in touch.profile or touch.button == "left"


class TapButton(Reachable, ButtonBehavior, Drawn):
    """A button that acts on touch down, with a title and a small line under it.

    ``active`` fills it; ``in_bar`` says that it stands on a dark bar; ``wraps`` lets both have more lines
    than one; ``focused`` says that the keyboard is on it.
    """

    shows = (
        *("title", "small", "active", "in_bar", "wraps", "state", "disabled"),
        *("title_size", "small_size"),
    )
    title = StringProperty("")
    small = StringProperty("")
    active = BooleanProperty(False)
    in_bar = BooleanProperty(False)
    wraps = BooleanProperty(False)
    focused = BooleanProperty(False)
    title_size = NumericProperty("18sp")
    small_size = NumericProperty("13sp")

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.always_release = True
        self.redraw()

    def on_touch_down(self, touch):
        """Take left presses only: the wheel and the other buttons of a mouse are not a finger."""
        # where it lies first: each tap on the board comes past the keys beside it
        if not (self.collide_point(*touch.pos) and is_finger(touch)):
            return False
        return super().on_touch_down(touch)

    def spot_name(self, index: int) -> str:
        """Return the title, by which a key is found again."""
        return self.title

    def press_spot(self, index: int) -> None:
        """Do what a finger does that comes down on it."""
        self.dispatch("on_press")

    def draw(self, group: InstructionGroup) -> None:
        """Draw the face and the words on it."""
        if self.width < 2 * dp(PAD):
            return
        self._draw_face(group)
        self._draw_words(group)

    def _draw_face(self, group: InstructionGroup) -> None:
        palette, edge = theme.palette, dp(1)
        face = RoundedRectangle(pos=self.pos, size=self.size, radius=[dp(8)])
        outline = (self.x + edge, self.y + edge, self.width - 2 * edge, self.height - 2 * edge, dp(8))
        flat = palette.ground if self.disabled else palette.tile
        ground = palette.fill if self._filled else palette.bar if self.in_bar else flat
        group.add(Color(*ground))
        group.add(face)
        group.add(Color(*self._edge))
        group.add(rounded(*outline, dp(1.1)))
        if self.state == "down":
            group.add(Color(*palette.line[:3], 0.35))
            group.add(RoundedRectangle(pos=self.pos, size=self.size, radius=[dp(8)]))

    @property
    def _filled(self) -> bool:
        """A choice that cannot be changed is shown all the same; a bar's main key that waits lies flat."""
        return self.active and not (self.in_bar and self.disabled)

    @property
    def _edge(self) -> Colour:
        palette = theme.palette
        if self._filled:
            return palette.fill
        if self.in_bar:
            return palette.bar_dim if self.disabled else palette.bar_soft
        return palette.line

    @property
    def _soft(self) -> Colour:
        palette = theme.palette
        return palette.on_fill if self._filled else palette.bar_soft if self.in_bar else palette.soft

    @property
    def _ink(self) -> Colour:
        """The colour of the title: what cannot be pressed speaks in the lower voice, and lies flat."""
        palette = theme.palette
        if self._filled or self.disabled:
            return self._soft
        return palette.on_bar if self.in_bar else palette.ink

    def _draw_words(self, group: InstructionGroup) -> None:
        lines = self._lines()
        top = self.center_y + sum(drawn.height for drawn in lines) / 2
        for drawn, tint in zip(lines, (self._ink, self._soft), strict=False):
            top -= drawn.height
            add_texture(group, drawn, self.center_x - drawn.width / 2, top, tint)

    def _lines(self) -> list:
        """Return the textures of the words, smaller where the button has no room for them."""
        lines = [(self.title, self.title_size, fonts.PLAIN if self.disabled else fonts.SEMIBOLD)]
        if self.small:
            lines.append((self.small, self.small_size, fonts.PLAIN))
        width, height = int(self.width - 2 * dp(PAD)), self.height - dp(2)
        return fitted(lines, width, height, self.wraps, clear=dp(CLEAR))
