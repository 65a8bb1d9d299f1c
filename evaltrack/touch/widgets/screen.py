"""The base of the app's screens."""

from kivy.properties import AliasProperty, ObjectProperty
from kivy.uix.screenmanager import Screen

from evaltrack.touch.widgets.events import EventSource


class Landscape:
    """A part of a widget: ``landscape`` says that it is wider than high."""

    landscape = AliasProperty(lambda self: self.width > self.height, bind=("size",), cache=True)


class AppScreen(EventSource, Landscape, Screen):
    """A screen of the app, which talks to the ``desk``."""

    desk = ObjectProperty(None)
