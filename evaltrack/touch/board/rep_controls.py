"""What the board by rep needs in the head of the screen."""

from kivy.metrics import dp
from kivy.properties import ListProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import PAD
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.glyphs import wrapped

_LINE = 1.4  # of a size: the height of its line


class RepControls(EventSource, BoxLayout):
    """The button for the next rep, which says who will be in it.

    ``following`` has a pair of number and name for each slot. Where they are too long, the numbers
    stand alone.
    """

    __events__ = ("on_next",)
    following = ListProperty()
    words = StringProperty("")
    title_size, names_size = NumericProperty("20sp"), NumericProperty("15sp")

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.bind(following=self._fit, size=self._fit)

    def _fit(self, *_) -> None:
        named = ", ".join(f"{number} {name}".strip() for number, name in self.following)
        width, high = int(self.width - 2 * dp(PAD)), self.height - self.title_size * _LINE
        fits = width > 0 and wrapped(named, self.names_size, fonts.PLAIN, width).height <= high
        self.words = named if fits else "  ".join(number for number, _ in self.following)
