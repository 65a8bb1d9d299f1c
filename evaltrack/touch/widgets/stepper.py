"""A value with a key for less and one for more."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.touch.widgets.button import TapButton  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.text_label import TextLabel  # noqa: F401  and this

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class Stepper(EventSource, BoxLayout):
    """Shows ``words`` between two keys; each dispatches ``on_turn`` with the step ``by``, less or more."""

    __events__ = ("on_turn",)
    words = StringProperty("")
    by = NumericProperty(1)
