"""A block of the plan, with the keys that change it."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.touch.widgets.button import TapButton  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.list_row import ListRow  # noqa: F401  and this

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class PlanRow(EventSource, BoxLayout):
    """What is done when; ``on_row`` asks for the reason, ``on_minutes`` brings 1 or -1."""

    __events__ = ("on_row", "on_minutes", "on_swap", "on_lock")
    title = StringProperty("")
    small = StringProperty("")
    chosen = BooleanProperty(False)
    locked = BooleanProperty(False)
    can_swap = BooleanProperty(False)
    swapping = BooleanProperty(False)
