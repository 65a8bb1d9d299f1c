"""A driver that counts, and the rows of a list."""

from driver import Driver
from pressing import keys_of

from evaltrack.touch.widgets.list_row import ListRow


class Counted:
    """A driver that counts the taps and the words that are typed."""

    def __init__(self, driver: Driver):
        self._driver, self.taps, self.words = driver, 0, 0

    def __getattr__(self, name):
        return getattr(self._driver, name)

    @property
    def screen(self):
        return self.app.screens.current_screen

    def tap(self, at, frames=1):
        self.taps += 1
        self._driver.tap(at, frames)

    def type_in(self, field, text: str) -> None:
        """Tap a field and type on the system's keyboard, which brings letters and no keys."""
        self.tap(field)
        assert field.focus
        field.insert_text(text)
        field.focus = False
        self.words += 1
        self.settle()


def rows_of(driver) -> list[ListRow]:
    """Return the rows of the screen in front, from top to bottom."""
    return [key for key in keys_of(driver) if isinstance(key, ListRow)]


def press_row(driver, start: str) -> None:
    """Tap the one row whose title starts so."""
    driver.settle()
    (row,) = [row for row in rows_of(driver) if row.title.startswith(start)]
    driver.tap(row)
    driver.wait(lambda: not driver.app.screens.current_screen.disabled)
    driver.settle()
