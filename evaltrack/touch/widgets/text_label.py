"""The text and the bars that every screen is made of."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.label import Label

from evaltrack.touch.widgets import fonts


class TextLabel(Label):
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

    def on_touch_down(self, touch):
        """Ask the buttons of the bar only about fingers on it: one on the board must not wait for them."""
        return self.collide_point(*touch.pos) and super().on_touch_down(touch)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
