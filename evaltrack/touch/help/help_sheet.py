"""The page of help over a screen: a few short points, a drawing of the screen, and a guide to print."""

from pathlib import Path

from kivy.core.window import Window
from kivy.lang import Builder
from kivy.properties import NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.utils import escape_markup

from evaltrack.touch.help.sketch import Sketch  # noqa: F401  the kv rule names it
from evaltrack.touch.help.sketch_rows import read_row
from evaltrack.touch.input.keyboard_focus import KeyboardFocus
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.screen import Landscape
from evaltrack.touch.widgets.sheet import SheetBar  # noqa: F401  the kv rule names it
from evaltrack.words.help_pages import KEY, HelpPage


class Point(BoxLayout):
    """One point of a page, with its number."""

    number = NumericProperty(0)
    words = StringProperty("")


Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class HelpSheet(EventSource, Landscape, BoxLayout):
    """Covers a screen, which stays as it is under it; ``on_guide`` asks for the guide on a paper.

    Parameters
    ----------
    focus : works the page from the keyboard.
    """

    __events__ = ("on_back", "on_guide")
    heading = StringProperty("")
    told = StringProperty("")

    def __init__(self, page: HelpPage, focus: KeyboardFocus, **kwargs):
        super().__init__(**kwargs)
        self._focus = focus
        self.heading = page.heading
        for number, sentence in enumerate(page.points, 1):
            self.ids.points.add_widget(Point(number=number, words=_marked_up(sentence)))
        self.ids.sketch.rows = [read_row(row) for row in page.sketch]

    def lie_over(self, screen) -> None:
        """Cover a screen: from now on no touch and no key reaches it."""
        Window.release_all_keyboards()
        Window.bind(on_key_down=self._key)
        screen.cover = self
        screen.add_widget(self)

    def go_off(self, screen) -> None:
        """Let the screen be seen again, as it was."""
        Window.unbind(on_key_down=self._key)
        screen.cover = None
        screen.remove_widget(self)

    def on_touch_down(self, touch) -> bool:
        """Keep every finger from what lies under the page."""
        super().on_touch_down(touch)
        return True

    def _key(self, *pressed) -> bool:
        self._focus.take(*pressed)
        return True


def _marked_up(sentence: str) -> str:
    """Return a sentence as markup, the titles of keys in a stronger type."""
    return KEY.sub(rf"[font={fonts.SEMIBOLD}]\1[/font]", escape_markup(sentence))
