"""A field for words from the system's keyboard, in our look."""

from pathlib import Path

from kivy.lang import Builder
from kivy.uix.textinput import TextInput

from evaltrack.touch.widgets import fonts

_LEADS_ON = {"tab", "escape", "up", "down"}  # keys that lead out of one line of text


class Field(TextInput):
    """One line of text; the font follows its letters. Tab leads on to what comes next on the screen."""

    def keyboard_on_key_down(self, window, keycode, text, modifiers):
        """Take what is typed, and leave the keys that lead on to who looks after the focus."""
        if keycode[1] in _LEADS_ON - ({"up", "down"} if self.multiline else set()):
            return False
        super().keyboard_on_key_down(window, keycode, text, modifiers)
        return True

    def on_text(self, *_):
        """Choose the font again when the words change."""
        self.font_name = fonts.font_for(self.text or self.hint_text)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
