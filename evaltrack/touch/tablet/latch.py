"""The latch of a bench tablet: closed, it leaves the boards free and asks for the code before all else.

The wait after wrong codes is counted by a clock that nobody can set, from the last wrong code or from the
start of the app. So neither the wall clock nor a restart makes it shorter. Several windows of one tablet have
one latch, on disk: each follows what another does to it.
"""

from collections.abc import Callable
from math import ceil
from time import monotonic

from kivy.clock import Clock
from kivy.core.window import Window
from kivy.event import EventDispatcher
from kivy.properties import BooleanProperty

from evaltrack.device.passcode import fits, is_old, seal, wait_after
from evaltrack.device.tablet import Tablet, change_tablet, count_wrong_code, load_tablet, look_again
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.worker.thread import in_background

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

    def __init__(self, desk: Desk, clock: Callable[[], float] = monotonic, **kwargs):
        super().__init__(**kwargs)
        self._desk = desk
        self._clock = clock
        self._since = clock()
        self._trying = False
        self._wanted = None  # what is under way in the background and may open the latch
        self._known = self._state
        self._untouched = Clock.create_trigger(self.close, UNTOUCHED)

    @property
    def is_set(self) -> bool:
        """Say whether there is a code at all."""
        return bool(self._desk.tablet.latch)

    @property
    def wrong(self) -> int:
        """Return how many wrong codes came in a row."""
        return self._desk.tablet.wrong_codes

    def wait_left(self) -> int:
        """Return the seconds until another code is taken, 0 when one is."""
        return max(0, ceil(self._since + wait_after(self.wrong) - self._clock()))

    def follow(self) -> None:
        """Take up what another window has done: a wrong code makes this one wait too, another code shuts it.

        ``shut`` is dispatched again when the latch is another one, so that the screens follow.
        """
        self._desk.update_tablet(look_again)
        self._take_up()

    def try_code(self, code: str, answer: Callable[[bool | None], None]) -> bool:
        """Try a code, and answer whether it fits a little later; return False when none is taken now.

        The answer is None when nobody can say, for want of memory. The try is counted on disk before it is
        looked at: ending the app meanwhile wins nothing.
        """
        self.follow()
        if self._trying or self.wait_left():
            return False
        before = self.wrong
        self._desk.update_tablet(count_wrong_code)
        if wait_after(before) < wait_after(self.wrong - 1):  # another window was quicker, by a breath
            self._take_up()
            return False
        self._known = self._state
        self._trying, self._wanted = True, object()
        self._check(code, self._wanted, answer)
        return True

    def set_code(self, code: str, done: Callable[[bool], None]) -> None:
        """Set another code and leave the latch open; ``done`` is told whether it is kept on disk."""
        before, wanted = self._known[0], object()
        self._wanted = wanted

        def when_wanted(kept: Callable[[], bool]) -> None:
            if self._wanted is wanted:
                done(kept())

        in_background(
            lambda: seal(code),
            lambda sealed: when_wanted(lambda: self._set(sealed, before)),
            lambda _: when_wanted(lambda: False),
        )

    def take_off(self) -> bool:
        """Ask for no code any more; say whether that is kept on disk."""
        return self._set("", self._known[0])

    def forget(self) -> None:
        """Let what is under way neither open the latch nor set a code: whoever asked for it has left."""
        self._wanted = None

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
        self.forget()
        self.new = False
        self.shut = True

    @property
    def _state(self) -> tuple[str, int]:
        return self._desk.tablet.latch, self._desk.tablet.wrong_codes

    def _take_up(self) -> None:
        (latch, wrong), self._known = self._known, self._state
        if self.wrong > wrong:
            self._since = self._clock()
        if latch == self._desk.tablet.latch:
            return
        if self._desk.tablet.latch:
            self.close()
        self.property("shut").dispatch(self)

    def _check(self, code: str, wanted: object, answer) -> None:
        sealed = self._desk.tablet.latch
        if not sealed:  # another window has taken it off
            self._trying = False
            answer(True)
            return
        in_background(
            lambda: fits(code, sealed),
            lambda right: self._tried(right, sealed, code, wanted, answer),
            lambda _: self._failed(answer),
        )

    def _tried(self, right: bool, sealed: str, code: str, wanted: object, answer) -> None:
        def none_wrong(now: Tablet) -> dict:
            return {"wrong_codes": 0} if right and now.latch == sealed else {}

        self._desk.update_tablet(lambda tablet: change_tablet(tablet, none_wrong))
        if self._desk.tablet.latch != sealed:  # another window has changed it meanwhile
            self._check(code, wanted, answer)
            return
        self._trying, self._since, self._known = False, self._clock(), self._state
        if right:
            self._renew(sealed, code)
            if self._wanted is wanted:
                self.open()
        answer(right)

    def _failed(self, answer) -> None:
        self._trying = False
        answer(None)

    def _renew(self, sealed: str, code: str) -> None:
        """Seal the code at today's cost, which only whoever has typed it can do."""
        if is_old(sealed):
            in_background(lambda: seal(code), lambda new: self._instead_of(sealed, latch=new), lambda _: None)

    def _set(self, sealed: str, before: str) -> bool:
        tablet, known = self._desk.tablet, self._known
        if not self._instead_of(before, latch=sealed, wrong_codes=0):
            return False
        if load_tablet().latch != sealed:
            self._desk.update_tablet(lambda _: tablet)
            self._known = known
            return False
        self.new = bool(sealed)
        self.open()
        return True

    def _instead_of(self, before: str, **settings) -> bool:
        """Keep another latch, unless another window has been quicker; say whether it is this one's."""

        def change(now: Tablet) -> dict:
            return settings if now.latch == before else {}

        self._desk.update_tablet(lambda tablet: change_tablet(tablet, change))
        mine = self._desk.tablet.latch == settings["latch"]
        if mine:
            self._known = self._state
        else:
            self._take_up()
        return mine

    def _touched(self, *_) -> None:
        self._untouched.cancel()
        self._untouched()
