"""What the board by rep needs in the head of the screen."""

from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.touch.widgets.events import EventSource


class RepControls(EventSource, BoxLayout):
    """The buttons for the next rep, with the numbers of who comes in, and for taking a change back."""

    __events__ = ("on_next", "on_back")
    following = StringProperty("")
    can_go_back = BooleanProperty(False)
