"""A finger on screens of rows, keys and fields: everything is found by what stands on it, and scrolled to."""

from kivy.metrics import dp
from pressing import keys_of

from evaltrack.touch.widgets.field import Field
from evaltrack.touch.widgets.list_row import ListRow


class ByFinger:
    """Taps what a title names on the screen in front."""

    def __init__(self, driver):
        self.driver = driver

    @property
    def screen(self):
        return self.driver.app.screens.current_screen

    @property
    def desk(self):
        return self.driver.app.desk

    @property
    def name(self) -> str:
        return self.driver.app.screens.current

    def key(self, title: str, nth: int = 0):
        """Return the nth key with a title that can be pressed."""
        self.driver.settle()
        found = [key for key in keys_of(self.driver) if key.title == title]
        assert found, (title, [key.title for key in keys_of(self.driver)])
        return found[nth]

    def tap(self, title: str, nth: int = 0) -> None:
        """Tap the nth key or row with a title."""
        self.press(self.key(title, nth))

    def beside(self, row: str, title: str) -> None:
        """Tap a key that stands beside a row."""
        self.press(next(key for key in self.key(row).parent.children if key.title == title))

    def press(self, widget) -> None:
        """Scroll to a widget and tap it."""
        view = self.screen.ids.get("view")
        if view and widget in view.walk(restrict=True):
            view.scroll_to(widget, padding=dp(10), animate=False)
            self.driver.settle()
        self.driver.tap(widget)
        self.driver.frames(8)
        self.driver.settle()

    def write(self, text: str) -> None:
        """Tap the field, and type another text letter by letter on the system's keyboard."""
        (field,) = [one for one in self.screen.walk(restrict=True) if isinstance(one, Field)]
        self.press(field)
        assert field.focus
        field.select_all()
        field.delete_selection()
        for letter in text:
            field.insert_text(letter)
        field.focus = False
        self.driver.settle()

    def titles(self) -> list[str]:
        """Return what stands on the keys that can be pressed."""
        self.driver.settle()
        return [key.title for key in keys_of(self.driver)]

    def rows(self) -> dict[str, str]:
        """Return the rows from top to bottom, with the small words in them."""
        self.driver.settle()
        return {key.title: key.small for key in keys_of(self.driver) if isinstance(key, ListRow)}

    def told(self) -> list[str]:
        """Return every line that is said on the screen."""
        self.driver.settle()
        texts = [widget.text for widget in self.screen.walk(restrict=True) if getattr(widget, "text", "")]
        return [line for text in texts for line in text.split("\n")]
