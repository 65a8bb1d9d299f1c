"""The base widgets that every screen shares, and the palette in force."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, ObjectProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.label import Label

from evaltrack.touch import fonts
from evaltrack.touch.look import theme


class Words(Label):
    """A line or a paragraph in our type; the font follows the letters of the text.

    ``hugs`` makes the texture as wide as the words, for a label whose width follows it.
    """

    weight = StringProperty(fonts.PLAIN)
    tint = ListProperty([0, 0, 0, 1])
    hugs = BooleanProperty(False)

    def on_text(self, *_):
        """Choose the font again when the words change."""
        self.font_name = fonts.font_for(self.text, self.weight)

    def on_weight(self, *_):
        """Choose the font again when the weight changes."""
        self.on_text()


class Bar(BoxLayout):
    """The dark bar at the top or the bottom of a screen."""


class Press(ButtonBehavior, BoxLayout):
    """A button that acts on touch down, with a title and a small line under it.

    ``active`` fills it; ``in_bar`` says that it stands on a dark bar; ``wraps`` lets the title have two
    lines.
    """

    title = StringProperty("")
    small = StringProperty("")
    active = BooleanProperty(False)
    in_bar = BooleanProperty(False)
    wraps = BooleanProperty(False)
    title_size = ObjectProperty(None, allownone=True)
    small_size = ObjectProperty(None, allownone=True)

    def on_touch_down(self, touch):
        """Take left presses only: the wheel and the other buttons of a mouse are not a finger."""
        return super().on_touch_down(touch) if is_finger(touch) else False


def is_finger(touch) -> bool:
    """Say whether a touch is a finger, a pen or the left button of a mouse."""
    if getattr(touch, "is_mouse_scrolling", False):
        return False
    return "button" not in touch.profile or touch.button == "left"


__all__ = ["Bar", "Press", "Words", "is_finger", "theme"]

fonts.register()
Builder.load_file(str(Path(__file__).with_suffix(".kv")))
