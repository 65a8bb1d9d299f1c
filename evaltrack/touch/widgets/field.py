"""A field for words from the system's keyboard, in our look."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty
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


class WordsField(Field):
    """A text that wraps, as high as its words. With ``breaks`` Enter begins a line, else it ends the text."""

    breaks = BooleanProperty(False)
    _spare = 0  # pixels for each word where a line would be cut

    def _split_smart(self, text):
        """Wrap a text; a line may be wider than its words one by one, rounded, and would lose its end."""
        found = super()._split_smart(text)
        room = self.width - self.padding[0] - self.padding[2]
        if any(self._get_text_width(line, self.tab_width, self._label_cached) > room for line in found[0]):
            self._spare = 1
            found = super()._split_smart(text)
            self._spare = 0
        return found

    def _get_text_width(self, text, tab_width, _label_cached):
        return super()._get_text_width(text, tab_width, _label_cached) + self._spare

    def insert_text(self, substring, from_undo=False):
        """Take what is typed or pasted; line ends become blanks where there is one paragraph only."""
        if substring == "\n" and not self.breaks:
            self.focus = False
        else:
            super().insert_text(substring if self.breaks else substring.replace("\n", " "), from_undo)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
