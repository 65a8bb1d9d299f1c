"""What a screen of words and keys is made of: its bar, headings, lines, and keys in columns."""

from collections.abc import Callable, Iterable
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from kivy.lang import Builder
from kivy.metrics import dp, sp
from kivy.properties import BooleanProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.gridlayout import GridLayout

from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.fonts import font_for
from evaltrack.touch.widgets.text_label import Bar, TextLabel

_HEADING_ROOM = 210  # sp that the heading has beside keys


class SheetBar(EventSource, Bar):
    """The bar at the top of a screen: back, what is shown, and the keys that stand in it after that.

    Keys that would leave the heading too little room are ``folded`` into a row of their own.
    """

    __events__ = ("on_back",)
    heading = StringProperty("")
    summary = StringProperty("")
    folded = BooleanProperty(False)

    def __init__(self, **kwargs):
        self._keys: list[TapButton] = []
        super().__init__(**kwargs)
        self.bind(width=self._fit)

    def add_widget(self, widget, *args, **kwargs):
        """Take first the two rows that the rule gives it, and then keys."""
        if len(self.children) < 2:
            super().add_widget(widget, *args, **kwargs)
            return
        self._keys.append(widget)
        self._row.add_widget(widget)
        widget.bind(width=self._fit)
        self._fit()

    @property
    def _row(self) -> BoxLayout:
        """Return the row in which the keys stand."""
        return self.children[0 if self.folded else 1]

    def _fit(self, *_) -> None:
        if self.width < dp(300):  # it has no place in a window yet
            return
        keys = sum(key.width + dp(10) for key in self._keys)
        folded = bool(self._keys) and self.width - sp(88) - dp(98) - keys < sp(_HEADING_ROOM)
        if folded != self.folded:
            for key in self._keys:
                self._row.remove_widget(key)
            self.folded = folded
            for key in self._keys:
                self._row.add_widget(key)


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


def keys_for(options: Iterable[Option], wide: str = "220sp", large: bool = False) -> Keys:
    """Return a key for each option; ``large`` ones are what a screen is there for."""
    # words below come no nearer than those above
    keys, sizes = Keys(wide=wide, padding=(0, 0, 0, dp(6))), {"title_size": "17sp"}
    if large:
        keys.row_default_height, sizes = sp(96), {"title_size": "24sp", "small_size": "16sp"}
    for option in options:
        words = {"title": option.title, "small": option.small}
        key = TapButton(**words, **sizes, active=option.active, wraps=True)
        key.bind(on_press=lambda _, act=option.act: act())
        keys.add_widget(key)
    return keys
