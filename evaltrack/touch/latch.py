"""The latch of a bench tablet: closed, it leaves the boards free and asks for the code before all else.

The wait after wrong codes is counted by a clock that nobody can set, from the last wrong code or from the
start of the app. So neither the wall clock nor a restart makes it shorter.
"""

from collections.abc import Callable
from math import ceil
from time import monotonic

from kivy.clock import Clock
from kivy.core.window import Window
from kivy.event import EventDispatcher
from kivy.properties import BooleanProperty

from evaltrack.store.passcode import fits, seal, wait_after
from evaltrack.store.tablet import keep_tablet, load_tablet
from evaltrack.touch.background import in_background

UNTOUCHED = 3 * 60  # seconds off the boards without a touch, after which the latch closes


class Latch(EventDispatcher):
    """Whether the code is asked for. ``shut`` means nothing while no code is set.

    ``new`` says that a code was set and has not been in force yet: whoever set it is still at it.

    Parameters
    ----------
    desk : holds the settings of this tablet.
    clock : seconds that only go forward.
    """

    shut = BooleanProperty(True)
    new = False

    def __init__(self, desk, clock: Callable[[], float] = monotonic, **kwargs):
        super().__init__(**kwargs)
        self._desk = desk
        self._clock = clock
        self._since = clock()
        self._trying = False
        self._untouched = Clock.create_trigger(self.close, UNTOUCHED)

    @property
    def closed(self) -> bool:
        """Say whether the code stands between the boards and the rest."""
        return self.shut and bool(self._desk.tablet.latch)

    @property
    def wrong(self) -> int:
        """Return how many wrong codes came in a row."""
        return self._desk.tablet.wrong_codes

    def wait_left(self) -> int:
        """Return the seconds until another code is taken, 0 when one is."""
        return max(0, ceil(self._since + wait_after(self.wrong) - self._clock()))

    def try_code(self, code: str, answer: Callable[[bool], None]) -> bool:
        """Try a code, and answer whether it fits a little later; return False when none is taken now.

        The try is counted on disk before it is looked at: ending the app meanwhile wins nothing.
        """
        if self._trying or self.wait_left():
            return False
        self._trying = True
        self._keep(wrong_codes=self.wrong + 1)
        sealed = self._desk.tablet.latch
        in_background(
            lambda: fits(code, sealed),
            lambda right: self._tried(right, answer),
            lambda _: self._failed(answer),
        )
        return True

    def set_code(self, code: str, done: Callable[[bool], None]) -> None:
        """Set another code and leave the latch open; ``done`` is told whether it is kept on disk."""
        in_background(lambda: seal(code), lambda sealed: done(self._set(sealed)), lambda _: done(False))

    def take_off(self) -> bool:
        """Ask for no code any more; say whether that is kept on disk."""
        return self._set("")

    def open(self) -> None:
        """Leave every screen free until the latch closes again."""
        self.shut = False
        Window.bind(on_touch_down=self._touched, on_key_down=self._touched)
        Window.bind(on_minimize=self.close, on_hide=self.close)
        self._touched()

    def close(self, *_) -> None:
        """Ask for the code again."""
        Window.unbind(on_touch_down=self._touched, on_key_down=self._touched)
        Window.unbind(on_minimize=self.close, on_hide=self.close)
        self._untouched.cancel()
        self.new = False
        self.shut = True

    def _tried(self, right: bool, answer) -> None:
        self._trying = False
        self._since = self._clock()
        if right:
            self._keep(wrong_codes=0)
            self.open()
        answer(right)

    def _failed(self, answer) -> None:
        self._trying = False
        answer(False)

    def _set(self, sealed: str) -> bool:
        before = self._desk.tablet
        self._keep(latch=sealed, wrong_codes=0)
        if load_tablet().latch != sealed:
            self._desk.tablet = before
            return False
        self.new = bool(sealed)
        self.open()
        return True

    def _keep(self, **settings) -> None:
        self._desk.tablet = keep_tablet(self._desk.tablet, **settings)

    def _touched(self, *_) -> None:
        self._untouched.cancel()
        self._untouched()
