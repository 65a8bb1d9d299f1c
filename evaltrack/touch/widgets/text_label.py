"""The text and the bars that every screen is made of."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.label import Label

from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import BLANK, shares


class TextLabel(Label):
    """A line or a paragraph in our type; the font follows the letters of the text.

    Words for which their place is too small are drawn smaller, down to a size in which they stand there
    whenever the usual words would. ``hugs`` makes the texture as wide as the words, for a label whose width
    follows it. ``shrunk`` is the share of ``font_size`` in which they are drawn.
    """

    weight = StringProperty(fonts.PLAIN)
    tint = ListProperty([0, 0, 0, 1])
    hugs = BooleanProperty(False)
    shrunk = NumericProperty(1.0)

    def texture_update(self, *largs):
        """Draw the words in the first size in which none of them is cut."""
        core = self._label
        core.options["font_size"] = self.font_size
        super().texture_update(*largs)
        self.shrunk = 1.0
        if self.is_cut():
            self._shrink()
            super().texture_update(*largs)

    def is_cut(self) -> bool:
        """Say whether the room for the words cuts some of them off."""
        core, (width, height) = self._label, self.text_size
        if not core.text.strip() or width is None:
            return False
        if core.is_shortened:
            return True
        needed = core._internal_size[1] - BLANK * core.options["font_size"]
        return height is not None and (needed > height or self._is_clipped())

    def _shrink(self) -> None:
        for share in shares(self.font_size)[1:]:
            self.shrunk = share
            self._label.options["font_size"] = self.font_size * share
            self._label.render()  # lays out, and draws nothing
            if not self.is_cut():
                break

    def _is_clipped(self) -> bool:
        lines = (word.text for line in self._label._cached_lines for word in line.words)
        return len("".join("".join(lines).split())) < len("".join(self._label.text.split()))

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
