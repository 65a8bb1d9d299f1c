"""The base of the app's screens."""

from kivy.properties import AliasProperty, BooleanProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.screenmanager import Screen

from evaltrack.touch.widgets.button import TapButton  # noqa: F401  the screens' kv rules name it
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.text_label import Bar, TextLabel  # noqa: F401  and these


class Landscape:
    """A part of a widget: ``landscape`` says that it is wider than high."""

    landscape = AliasProperty(lambda self: self.width > self.height, bind=("size",), cache=True)


class AppScreen(EventSource, Landscape, Screen):
    """A screen of the app, which talks to the ``desk``.

    ``takes_arrows`` says that it has keys of its own, which lead about in it. ``room_above`` is the height
    in pixels of what stands above it in the window. ``cover`` is what lies over all of it for a while and
    takes its touches and keys, or None. ``takes_hint`` says that there is something to do what its hint says
    with. ``on_help`` asks for the page of help on this screen. ``help_page`` is the page's name where that
    depends on what the screen shows, empty where it is the screen's own.
    """

    __events__ = ("on_help",)

    takes_arrows = False
    room_above = NumericProperty(0)
    help_page = StringProperty("")
    desk = ObjectProperty(None)
    cover = ObjectProperty(None, allownone=True)
    takes_hint = BooleanProperty(True)

    def tells(self, words: str) -> bool:
        """Say whether these words are to be read on the screen."""
        return any(getattr(part, "text", "") == words for part in self.walk(restrict=True))
