"""A field for words from the system's keyboard, in our look."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty
from kivy.uix.textinput import TextInput

from evaltrack.touch.widgets import fonts


class Field(TextInput):
    """One line of text; the font follows its letters."""

    def on_text(self, *_):
        """Choose the font again when the words change."""
        self.font_name = fonts.font_for(self.text or self.hint_text)


class WordsField(Field):
    """A text that wraps, as high as its words. With ``breaks`` Enter begins a line, else it ends the text."""

    breaks = BooleanProperty(False)

    def insert_text(self, substring, from_undo=False):
        """Take what is typed or pasted; line ends become blanks where there is one paragraph only."""
        if substring == "\n" and not self.breaks:
            self.focus = False
        else:
            super().insert_text(substring if self.breaks else substring.replace("\n", " "), from_undo)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
