"""Working a screen from the keyboard: Tab goes from key to key, Enter presses, Escape goes back."""

from kivy.core.window import Window

from evaltrack.touch.widgets.button import Press

_TAB, _ESCAPE = 9, 27
_PRESS = (13, 271, 32)  # Enter, the Enter of a number pad, the space bar


class KeyWalk:
    """Marks one key of the screen in front, in the order in which they stand in it."""

    def __init__(self, screens):
        self._screens = screens
        self._marked: Press | None = None

    def listen(self) -> None:
        """Take the keys that no field and no screen takes itself."""
        Window.bind(on_key_down=self._key)
        self._screens.bind(current=self._forget)

    def leave(self) -> None:
        """Leave the keyboard alone."""
        Window.unbind(on_key_down=self._key)
        self._forget()

    def _key(self, _, key: int, __, ___, modifiers) -> bool:
        screen = self._screens.current_screen
        if key == _TAB:
            self._step(screen, -1 if "shift" in modifiers else 1)
        elif key in _PRESS and self._marked in _keys(screen):
            self._marked.dispatch("on_press")
        elif key == _ESCAPE and screen.is_event_type("on_back"):
            screen.dispatch("on_back")
        else:
            return False
        return True

    def _step(self, screen, way: int) -> None:
        keys = _keys(screen)
        if not keys:
            return
        start = keys.index(self._marked) + way if self._marked in keys else min(way, 0)
        self._mark(keys[start % len(keys)])

    def _mark(self, key: Press | None) -> None:
        if self._marked:
            self._marked.marked = False
            Window.unbind(on_touch_down=self._forget)
        self._marked = key
        if key:
            key.marked = True
            Window.bind(on_touch_down=self._forget)

    def _forget(self, *_) -> None:
        self._mark(None)


def _keys(screen) -> list[Press]:
    found = (widget for widget in screen.walk(restrict=True) if isinstance(widget, Press))
    return [key for key in found if not key.disabled and key.opacity and min(key.size) > 1]
