"""The hand-over that is under way, if any: on a thread of its own, beside which taps go on as ever."""

import asyncio
from collections.abc import Awaitable, Callable
from contextlib import suppress
from functools import partial
from threading import Thread
from time import monotonic

from kivy.event import EventDispatcher
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty, StringProperty

from evaltrack.device.handover.addresses import parsed, shown
from evaltrack.device.handover.code import Code, Tries
from evaltrack.device.handover.course import Course, Stage
from evaltrack.device.handover.tablets import Guest, Host, Tablet
from evaltrack.errors import EvaltrackError
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.handover.season_side import SeasonSide
from evaltrack.touch.worker.process import fault_words
from evaltrack.touch.worker.thread import hand_back
from evaltrack.touch.worker.worker import Worker

_GRACE = 8.0  # seconds in which both still hear what is new after one has left


class HandoverInHand(EventDispatcher):
    """One hand-over after the other.

    ``course`` is that of the last one, None before the first. ``beat`` changes whenever it has changed.
    ``running`` says that it goes on. ``address`` and ``code`` are what the other tablet is to type, empty
    when nobody listens. ``trouble`` is a sentence why it ended before its time.
    """

    course = ObjectProperty(None, allownone=True)
    beat = NumericProperty(0)
    running = BooleanProperty(False)
    address = StringProperty("")
    code = StringProperty("")
    trouble = StringProperty("")

    def __init__(self, desk: Desk, **kwargs):
        super().__init__(**kwargs)
        self._desk = desk
        self._tries = Tries()
        self._session: _Session | None = None
        self._code: Code | None = None
        desk.bind(season=self._follow_season)

    def wait_left(self) -> int:
        """Return the seconds until a code may be shown, after wrong ones."""
        return self._tries.wait_left()

    def seconds_left(self) -> int:
        """Return how long the code that is shown is still good for."""
        return int(self._code.seconds_left()) if self._code and self.code else 0

    def give(self, address: str, port: int | None = None) -> bool:
        """Listen on an address and show a code; False while wrong codes make it wait."""
        if self.wait_left():
            return False
        code = Code(self._tries)

        def run(host: Host) -> Awaitable[Course]:
            return host.run(lambda found: hand_back(partial(self._listening, host, code, address), found))

        ports = {} if port is None else {"port": port}
        self._start(lambda side, beat: Host(side, code, address, shown=beat, **ports), run)
        return True

    def join(self, typed: str, code: str) -> bool:
        """Join the tablet at an address that was typed; False, and ``trouble`` says why, when it is none."""
        try:
            address, port = parsed(typed)
        except EvaltrackError as error:
            self.refuse(str(error))
            return False
        self._start(lambda side, beat: Guest(side, code, shown=beat), lambda guest: guest.run(address, port))
        return True

    def refuse(self, trouble: str) -> None:
        """Begin nothing, and say why; what came of the last one is told no more."""
        self.course, self.trouble = None, trouble

    def leave(self) -> None:
        """End it: at once when both are not together yet, and else as soon as both have what is new."""
        if self._session:
            self._session.leave()
        self.address = self.code = ""

    def _start(self, make: Callable, run: Callable) -> None:
        self.stop()
        self.trouble, self.running = "", True
        self._session = session = _Session(self._desk, make, run)
        session.start(self._shown, self._ended)
        self.course = session.tablet.course

    def stop(self) -> None:
        """End it at once; whatever is in the midst of it changes nothing any more."""
        session, self._session = self._session, None
        if session:
            session.stop()
        self.running, self.address, self.code = False, "", ""

    def _listening(self, host: Host, code: Code, address: str, port: int) -> None:
        if self._session and self._session.tablet is host:
            self._code, self.address, self.code = code, shown(address, port), code.digits

    def _shown(self, session: "_Session") -> None:
        if session is self._session:
            if session.tablet.course.stage is not Stage.WAITING:
                self.address = self.code = ""
            self.beat += 1

    def _ended(self, session: "_Session", trouble: str) -> None:
        if session is self._session:
            self._session = None
            self.address, self.code, self.trouble = "", "", trouble
            self.running = False  # last: whoever hears of it asks why
            self.beat += 1

    def _follow_season(self, *_) -> None:
        self.stop()  # what comes in is of the season that was in hand


class _Session:
    """One hand-over: its thread, its event loop, and the process that reads for it."""

    def __init__(self, desk: Desk, make: Callable[[SeasonSide, Callable], Tablet], run: Callable):
        self._worker = Worker()
        self.tablet = make(SeasonSide(desk, self._worker), self._beat)
        self._run, self._told = run, 0.0
        self._loop = asyncio.new_event_loop()
        self._task: asyncio.Task | None = None
        self._shown: Callable[[], None] = lambda: None

    def start(self, shown: Callable, ended: Callable) -> None:
        """Begin; ``shown`` and ``ended`` are called on the screens' thread, with this session."""
        self._shown = lambda: hand_back(lambda _: shown(self), None)
        self._task = self._loop.create_task(self._run(self.tablet))
        Thread(target=self._work, args=(lambda why: ended(self, why),), daemon=True).start()

    def leave(self) -> None:
        """End it in peace, but soon."""
        together = self.tablet.course.stage in (Stage.TOGETHER, Stage.COMPARING)
        self._call(self.tablet.leave)
        self._call(partial(self._loop.call_later, _GRACE if together else 0, self._task.cancel))

    def stop(self) -> None:
        """End it now."""
        self._call(self._task.cancel)

    def _call(self, what: Callable) -> None:
        with suppress(RuntimeError):  # the loop has ended, perhaps just now
            self._loop.call_soon_threadsafe(what)

    def _beat(self) -> None:
        now, share = monotonic(), self.tablet.course.share
        if now - self._told > 0.05 or share in (0.0, 1.0):  # the screen need not hear of each piece
            self._told = now
            self._shown()

    def _work(self, ended: Callable[[str], None]) -> None:
        trouble = ""
        try:
            self._loop.run_until_complete(self._task)
        except asyncio.CancelledError:
            pass
        except EvaltrackError as error:
            trouble = str(error)
        except Exception as error:
            trouble = fault_words(error)
            raise
        finally:
            self._close()
            hand_back(ended, trouble)

    def _close(self) -> None:
        self._loop.run_until_complete(self._loop.shutdown_asyncgens())
        for task in asyncio.all_tasks(self._loop):
            task.cancel()
        self._loop.run_until_complete(asyncio.sleep(0.05))  # what was sent last goes out
        self._loop.close()
        self._worker.close()
