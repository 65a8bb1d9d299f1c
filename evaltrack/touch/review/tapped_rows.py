"""What tables of players share: a tap on a row opens the player, a stroke scrolls."""

from kivy.metrics import dp
from kivy.uix.widget import Widget

from evaltrack.touch.widgets.button import is_finger
from evaltrack.touch.widgets.events import EventSource

_SLIP = 16  # dp that a finger may move and still mean the row


class TappedRows(EventSource, Widget):
    """``on_player(number)`` comes when a finger leaves the row that it came down on."""

    __events__ = ("on_player",)

    def number_at(self, below: float) -> str | None:
        """Return the number of the player whose row lies so far below the top; None where there is none."""
        raise NotImplementedError

    def on_touch_down(self, touch):
        """Remember the row, and wait: the finger may scroll."""
        if not (self.collide_point(*touch.pos) and is_finger(touch)):
            return super().on_touch_down(touch)
        number = self.number_at(self.top - touch.y)
        if number is None:
            return super().on_touch_down(touch)
        touch.grab(self)
        touch.ud[self] = number
        return True

    def on_touch_up(self, touch):
        """Open the player when the finger stayed where it was."""
        if touch.grab_current is not self:
            return super().on_touch_up(touch)
        touch.ungrab(self)
        if abs(touch.x - touch.ox) < dp(_SLIP) and abs(touch.y - touch.oy) < dp(_SLIP):
            self.dispatch("on_player", touch.ud[self])
        return True
