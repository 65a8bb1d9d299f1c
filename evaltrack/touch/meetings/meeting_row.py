"""A family's meeting in the list of an evening, with the keys that change it."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.touch.widgets.button import TapButton  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.list_row import ListRow  # noqa: F401  and this

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class MeetingRow(EventSource, BoxLayout):
    """Who comes when; ``on_row`` asks for the cue card, the other events for what stands on the keys."""

    __events__ = ("on_row", "on_came", "on_swap", "on_lock")
    title = StringProperty("")
    small = StringProperty("")
    came = BooleanProperty(False)
    locked = BooleanProperty(False)
    swapping = BooleanProperty(False)
