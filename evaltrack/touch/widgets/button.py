"""A button drawn on one canvas: a board has many, and widgets within each would cost its start."""

from kivy.graphics import Color, InstructionGroup, RoundedRectangle
from kivy.metrics import dp
from kivy.properties import BooleanProperty, NumericProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior

from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import INKED, add_texture, texture, widest_word, wrapped
from evaltrack.touch.widgets.outlines import rounded
from evaltrack.touch.widgets.palette import Colour
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme

PAD = 8  # between the edge and the words, in dp
_EDGE = 4  # dp: what letters leave free above and below them
_SHARES = (1, 0.9, 0.8, 0.72, 0.65, 0.58)  # of the sizes of words that have no room in them
_FAINT = 0.6  # of the words of a button that cannot be pressed


def is_finger(touch) -> bool:
    """Say whether a touch is a finger, a pen or the left button of a mouse."""
    if getattr(touch, "is_mouse_scrolling", False):
        return False
    return "button" not in touch.profile or touch.button == "left"


class TapButton(ButtonBehavior, Drawn):
    """A button that acts on touch down, with a title and a small line under it.

    ``active`` fills it; ``in_bar`` says that it stands on a dark bar; ``wraps`` lets both have more lines
    than one; ``focused`` says that the keyboard is on it.
    """

    shows = (
        *("title", "small", "active", "in_bar", "wraps", "focused", "state", "disabled"),
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
        return super().on_touch_down(touch) if is_finger(touch) else False

    def draw(self, group: InstructionGroup) -> None:
        """Draw the face and the words on it."""
        if self.width < 2 * dp(PAD):
            return
        self._draw_face(group)
        self._draw_words(group)

    def _draw_face(self, group: InstructionGroup) -> None:
        palette, edge = theme.palette, dp(1)
        ground = palette.fill if self.active else (palette.bar if self.in_bar else palette.tile)
        line = palette.fill if self.active else (palette.bar_soft if self.in_bar else palette.line)
        face = RoundedRectangle(pos=self.pos, size=self.size, radius=[dp(8)])
        outline = (self.x + edge, self.y + edge, self.width - 2 * edge, self.height - 2 * edge, dp(8))
        for part in (Color(*ground), face, Color(*line), rounded(*outline, dp(1.1))):
            group.add(part)
        if self.state == "down":
            group.add(Color(*palette.line[:3], 0.35))
            group.add(RoundedRectangle(pos=self.pos, size=self.size, radius=[dp(8)]))
        if self.focused:
            group.add(
                Color(*(palette.on_fill if self.active else (palette.on_bar if self.in_bar else palette.ink)))
            )
            inner = (self.x + dp(5), self.y + dp(5), self.width - dp(10), self.height - dp(10), dp(5))
            group.add(rounded(*inner, dp(1.6)))

    @property
    def _ink(self) -> Colour:
        palette = theme.palette
        return palette.on_fill if self.active else (palette.on_bar if self.in_bar else palette.ink)

    def _lines(self, width: int, share: float, cut: bool = False) -> list:
        """Return title and small line in a share of their sizes; none where a word would be broken."""
        words = [(self.title, self.title_size * share, fonts.SEMIBOLD)]
        if self.small:
            words.append((self.small, self.small_size * share, fonts.PLAIN))
        if self.wraps:
            whole = cut or all(widest_word(*each) <= width for each in words)
            return [wrapped(*each, width) for each in words] if whole else []
        lines = [texture(*each, width if cut else None) for each in words]
        return lines if cut or all(drawn.width <= width for drawn in lines) else []

    def _have_room(self, lines: list) -> bool:
        return bool(lines) and sum(drawn.height for drawn in lines) * INKED <= self.height - 2 * dp(_EDGE)

    def _draw_words(self, group: InstructionGroup) -> None:
        palette, width = theme.palette, int(self.width - 2 * dp(PAD))
        ink = self._ink
        soft = palette.on_fill if self.active else (palette.bar_soft if self.in_bar else palette.soft)
        lines = next(filter(self._have_room, (self._lines(width, share) for share in _SHARES)), None)
        lines = lines or self._lines(width, _SHARES[-1], cut=True)
        top = self.center_y + sum(drawn.height for drawn in lines) / 2
        for drawn, tint in zip(lines, (ink, soft), strict=False):
            top -= drawn.height
            shade = (*tint[:3], _FAINT if self.disabled else 1)
            add_texture(group, drawn, self.center_x - drawn.width / 2, top, shade)
