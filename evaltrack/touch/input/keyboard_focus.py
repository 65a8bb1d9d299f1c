"""Working a screen from the keyboard: Tab goes from button to button, Enter presses, Escape goes back.

F1 asks for the help on the screen in front.
"""

from kivy.core.window import Window

from evaltrack.touch.widgets.button import TapButton

_TAB, _ESCAPE, _F1 = 9, 27, 282
_PRESS = (13, 271, 32)  # Enter, the Enter of a number pad, the space bar


class KeyboardFocus:
    """Has one button of the screen in front focused, in the order in which they stand in it."""

    def __init__(self, screens):
        self._screens = screens
        self._focused: TapButton | None = None

    def listen(self) -> None:
        """Take the keys that no field and no screen takes itself."""
        Window.bind(on_key_down=self.take)
        self._screens.bind(current=self._forget)

    def leave(self) -> None:
        """Leave the keyboard alone."""
        Window.unbind(on_key_down=self.take)
        self._forget()

    def take(self, _, key: int, __, ___, modifiers) -> bool:
        """Take a key, and say whether it meant anything to the screen in front, or to what covers it."""
        screen = self._screens.current_screen.cover or self._screens.current_screen
        if key == _TAB:
            self._move(screen, -1 if "shift" in modifiers else 1)
        elif key in _PRESS and self._focused in _buttons(screen):
            self._focused.dispatch("on_press")
        elif key == _ESCAPE and screen.is_event_type("on_back"):
            screen.dispatch("on_back")
        elif key == _F1 and screen.is_event_type("on_help"):
            screen.dispatch("on_help")
        else:
            return False
        return True

    def _move(self, screen, by: int) -> None:
        buttons = _buttons(screen)
        if not buttons:
            return
        start = buttons.index(self._focused) + by if self._focused in buttons else min(by, 0)
        self._focus_on(buttons[start % len(buttons)])

    def _focus_on(self, button: TapButton | None) -> None:
        if self._focused:
            self._focused.focused = False
            Window.unbind(on_touch_down=self._forget)
        self._focused = button
        if button:
            button.focused = True
            Window.bind(on_touch_down=self._forget)

    def _forget(self, *_) -> None:
        self._focus_on(None)


def _buttons(screen) -> list[TapButton]:
    found = (widget for widget in screen.walk(restrict=True) if isinstance(widget, TapButton))
    return [button for button in found if not button.disabled and button.opacity and min(button.size) > 1]
