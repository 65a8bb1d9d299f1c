"""Screens that were made in another language are left and thrown away; the one in front is made anew."""

import gc
from collections.abc import Callable

from kivy.clock import Clock
from kivy.uix.screenmanager import ScreenManager

_GONE = "in the language before"
_FADED = (
    3.0  # seconds in which the touch and the bars of what was scrolled, which hold on to them, are through
)


def exchange(screens: ScreenManager, make: Callable) -> None:
    """Throw all screens away, and put another one in front, made by ``make``, in the place of the one there.

    Its settings stay where they were scrolled to, so that the finger still rests on what it has touched.
    """
    before, name = screens.current_screen, screens.current
    place = before.ids.settings.scroll_y
    screens.clear_widgets([screen for screen in screens.screens if screen is not before])
    before.name = _GONE  # it is left as any other screen is, and gives back what it holds of the window
    settings = make().ids.settings
    Clock.schedule_once(lambda _: setattr(settings, "scroll_y", place))  # once they have their heights
    screens.current = name
    screens.remove_widget(before)
    Clock.schedule_once(let_go, _FADED)


def let_go(*_) -> None:
    """Collect the old screens: with the app's start they are frozen, and would go on following the desk."""
    gc.unfreeze()
    gc.collect()
    gc.freeze()
