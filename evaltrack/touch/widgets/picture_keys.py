"""The keys that save what a screen shows as a picture, and in which form."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, OptionProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.touch.widgets.events import EventSource

FORMS = ("png", "svg")


class PictureKeys(EventSource, BoxLayout):
    """A key for the form, and one that dispatches ``on_save``; ``saving`` says that one is under way."""

    __events__ = ("on_save",)
    form = OptionProperty(FORMS[0], options=FORMS)
    saving = BooleanProperty(False)

    def turn(self) -> None:
        """Take the other form."""
        self.form = FORMS[1 - FORMS.index(self.form)]


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
