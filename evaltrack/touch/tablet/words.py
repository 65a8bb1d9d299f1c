"""How large the words on the screens are: Kivy's scale of letters follows the choice in the set-up."""

from kivy.metrics import Metrics

from evaltrack.device.tablet import WordSize
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets import glyphs
from evaltrack.touch.widgets.theme import theme

_TIMES = {WordSize.USUAL: 1.0, WordSize.LARGER: 1.2, WordSize.LARGEST: 1.4}


class Words:
    """Sets the size of an sp, on top of what the system says of it; a dp keeps its own."""

    def __init__(self, desk: Desk):
        self._desk = desk
        self._system = Metrics.fontscale

    def follow(self) -> None:
        """Give the words the size that is chosen; what is drawn already is drawn again."""
        self._use(self._system * _TIMES[WordSize(self._desk.tablet.words)])

    def leave(self) -> None:
        """Give the letters back to the system."""
        self._use(self._system)

    def _use(self, scale: float) -> None:
        if scale != Metrics.fontscale:
            Metrics.fontscale = scale
            glyphs.forget()
            theme.property("palette").dispatch(theme)
