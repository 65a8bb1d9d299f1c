"""What a screen of words and keys is made of: its bar, headings, lines, and keys in columns."""

from collections.abc import Callable, Iterable
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from kivy.lang import Builder
from kivy.metrics import dp
from kivy.properties import BooleanProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.gridlayout import GridLayout

from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.fonts import font_for
from evaltrack.touch.widgets.text_label import Bar, TextLabel


class SheetBar(EventSource, Bar):
    """The bar at the top of a screen: back, what is shown, and the keys that stand in it after that."""

    __events__ = ("on_back",)
    heading = StringProperty("")
    summary = StringProperty("")


class Heading(TextLabel):
    """A heading in the body of a screen."""


class Line(TextLabel):
    """A line in the body of a screen, as high as its words; ``soft`` is said in a lower voice."""

    soft = BooleanProperty(False)


class Lines(BoxLayout):
    """Lines one below the other, as high as their words.

    Neighbours are one text, since each text of its own takes a millisecond; but a line that needs other
    letters stands alone: a text is drawn in one font, and the others would change theirs with it.
    """

    def __init__(self, lines: Iterable[str], width: float, **kwargs):
        super().__init__(orientation="vertical", size_hint_y=None, width=width, **kwargs)
        self.bind(minimum_height=self.setter("height"))
        for _, own in groupby(lines, font_for):
            self.add_widget(Line(text="\n".join(own), width=width))


class KeyedLine(EventSource, BoxLayout):
    """A line with one key beside it."""

    __events__ = ("on_turn",)
    words = StringProperty("")
    title = StringProperty("")


class Keys(GridLayout):
    """Keys in as many columns as are at least ``wide``."""

    wide = NumericProperty("220sp")

    def fit(self, width: float) -> int:
        """Return how many columns a width has room for."""
        return max(1, int((width + dp(8)) / (self.wide + dp(8))))


class Option(NamedTuple):
    """One key to choose by: what stands on it, whether it is chosen, and what it does."""

    title: str
    small: str
    act: Callable[[], object]
    active: bool = False


Builder.load_file(str(Path(__file__).with_suffix(".kv")))


def answers_for(leave: Option, *acts: Option, wide: str = "260sp") -> Keys:
    """Return the keys below a question about what cannot be undone.

    To leave everything as it is stands first and is lit, whatever else can be answered stands plain after it.
    """
    return keys_for([leave._replace(active=True), *(act._replace(active=False) for act in acts)], wide)


def keys_for(options: Iterable[Option], wide: str = "220sp") -> Keys:
    """Return a key for each option."""
    keys = Keys(wide=wide)
    for option in options:
        words = {"title": option.title, "small": option.small}
        key = TapButton(**words, active=option.active, title_size="17sp", wraps=True)
        key.bind(on_press=lambda _, act=option.act: act())
        keys.add_widget(key)
    return keys
