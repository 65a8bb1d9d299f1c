"""The palette in force."""

from weakref import WeakSet

from kivy.event import EventDispatcher
from kivy.properties import ObjectProperty

from evaltrack.touch.widgets.palette import DARK, LIGHT


class Theme(EventDispatcher):
    """The palette in force. Rules in kv bind to it, so a change shows at once."""

    # a rule that names a colour hangs on the palette it saw first, unless the property asks for rebinding
    palette = ObjectProperty(LIGHT, rebind=True)

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        # bound to the palette one by one, each new widget would be held against all that ever were
        self._drawn = WeakSet()
        self.fbind("palette", self._redraw)

    def redraws(self, widget) -> None:
        """Have a widget redrawn with each change of the palette, as long as somebody holds it."""
        self._drawn.add(widget)

    def _redraw(self, *_) -> None:
        for widget in list(self._drawn):
            widget.redraw()

    def use(self, dark: bool) -> None:
        """Put the dark or the light palette in force."""
        self.palette = DARK if dark else LIGHT


theme = Theme()
