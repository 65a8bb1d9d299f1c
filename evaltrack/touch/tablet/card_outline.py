"""The outline of a bank card on the screen, whose right edge a finger draws until it fits a real one."""

from kivy.graphics import Color, InstructionGroup, Line, RoundedRectangle
from kivy.metrics import dp, sp
from kivy.properties import NumericProperty

from evaltrack.language import tr
from evaltrack.touch.tablet.real_size import CARD_HEIGHT, CARD_WIDTH
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import is_finger
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme
from evaltrack.words.wording import decimal

_CORNER = 3.18  # mm, the radius of a card's corners
_GRIP = 10  # dp, the width of the edge that is drawn


class CardOutline(Drawn):
    """``card`` is the width of the outline in pixels, between ``narrowest`` and what the widget holds."""

    shows = ("card",)
    card = NumericProperty(320)
    narrowest = NumericProperty(80)

    def widen(self, pixels: float) -> None:
        """Make the outline wider or, by a negative number, narrower, as far as there is room."""
        self.card = min(max(self.card + pixels, self.narrowest), self.width)

    def on_touch_down(self, touch):
        """Take hold of the edge, from wherever the finger stands, so that it need not cover the edge."""
        if not (self.collide_point(*touch.pos) and is_finger(touch)):
            return super().on_touch_down(touch)
        touch.grab(self)
        return True

    def on_touch_move(self, touch):
        """Draw the edge along with the finger."""
        if touch.grab_current is not self:
            return super().on_touch_move(touch)
        self.widen(touch.dx)
        return True

    def on_touch_up(self, touch):
        """Let the edge go."""
        if touch.grab_current is not self:
            return super().on_touch_up(touch)
        touch.ungrab(self)
        return True

    def draw(self, group: InstructionGroup) -> None:
        """Draw the card, its two edges, the grip of the right one, and the words on it."""
        palette, mm = theme.palette, self.card / CARD_WIDTH
        height = round(min(CARD_HEIGHT * mm, self.height))
        low, corner = round(self.top) - height, _CORNER * mm
        group.add(Color(*palette.tile))
        group.add(RoundedRectangle(pos=(self.x, low), size=(self.card, height), radius=[corner]))
        group.add(Color(*palette.line))
        outline = (self.x, low, self.card, height, corner)
        group.add(Line(rounded_rectangle=outline, width=dp(1.2)))
        group.add(Color(*palette.fill))
        for edge in (self.x, self.x + self.card):
            group.add(Line(points=(edge, low + corner, edge, low + height - corner), width=dp(1.6)))
        self._draw_grip(group, self.x + self.card, low + height / 2, height / 3)
        self._draw_words(group, low + height / 2)

    def _draw_grip(self, group, x: float, y: float, height: float) -> None:
        wide = dp(_GRIP)
        group.add(RoundedRectangle(pos=(x - wide, y - height / 2), size=(wide, height), radius=[wide / 2]))

    def _draw_words(self, group, y: float) -> None:
        x, palette = self.x + self.card / 2, theme.palette
        within = {"anchor": "center", "width": self.card - dp(48), "shrinks": True}
        draw(group, tr("the card lies here"), x, y + sp(14), sp(22), palette.ink, fonts.SEMIBOLD, **within)
        wide = tr("{width} mm wide", width=decimal(CARD_WIDTH))
        draw(group, wide, x, y - sp(16), sp(17), palette.soft, **within)
