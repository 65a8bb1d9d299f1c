"""What the board by rep needs in the head of the screen."""

from kivy.properties import StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.touch.widgets.events import EventSource


class RepControls(EventSource, BoxLayout):
    """The button for the next rep, with the numbers of who comes in."""

    __events__ = ("on_next",)
    following = StringProperty("")
