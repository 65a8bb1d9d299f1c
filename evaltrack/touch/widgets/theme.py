"""The palette in force."""

from kivy.event import EventDispatcher
from kivy.properties import ObjectProperty

from evaltrack.touch.widgets.palette import DARK, LIGHT


class Theme(EventDispatcher):
    """The palette in force. Rules in kv bind to it, so a change shows at once."""

    # a rule that names a colour hangs on the palette it saw first, unless the property asks for rebinding
    palette = ObjectProperty(LIGHT, rebind=True)

    def use(self, dark: bool) -> None:
        """Put the dark or the light palette in force."""
        self.palette = DARK if dark else LIGHT


theme = Theme()
