"""Finding and pressing the keys of the screen in front, by what stands on them."""

from evaltrack.language import tr
from evaltrack.touch.widgets.button import TapButton


def keys_of(driver) -> list[TapButton]:
    """Return the keys of the screen in front that can be pressed, in their order."""
    screen = driver.app.screens.current_screen
    return [key for key in screen.walk(restrict=True) if isinstance(key, TapButton) and not key.disabled]


def press(driver, title: str) -> None:
    """Tap the one key with this title, in English or in the language in force."""
    driver.settle()
    (key,) = [key for key in keys_of(driver) if key.title in (title, tr(title))]
    driver.tap(key)
    driver.settle()
