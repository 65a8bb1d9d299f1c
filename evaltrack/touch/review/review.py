"""The standings for the screens after the bench, kept up to date beside the app and shared by the screens."""

from collections.abc import Callable, Sequence
from enum import StrEnum
from functools import partial
from importlib.util import find_spec
from itertools import chain
from math import inf
from time import monotonic

from kivy.clock import Clock
from kivy.event import EventDispatcher
from kivy.properties import ObjectProperty, OptionProperty, StringProperty

from evaltrack.analysis.standings.standing import Standing
from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.worker.tasks import live_standings
from evaltrack.touch.worker.worker import Worker

WORKING = mark("Working out the standings …")
UPDATING = mark("Bringing the standings up to date …")
NO_SEASON = mark("There is no season file open.")
_PAUSE = 0.15  # seconds between writes that are not close together
_PATIENCE = 1.0  # seconds, after which a screen says that newer standings are on their way
_POLL = 1.0  # seconds between two checks of the file while a screen shows its standings


class State(StrEnum):
    """What is known of the standings."""

    NOTHING = "nothing"
    WORKING = "working"
    READY = "ready"
    FAILED = "failed"


class Review(EventDispatcher):
    """``standings`` as they were last worked out, and ``state``: what is known of them.

    ``strict`` are the observers who by them are much stricter than the others.

    Standings on show stay until newer ones are there. ``words`` is what to tell the user: that they are
    being worked out, or why they could not be; empty when all is said. At most one piece of work runs and
    one waits.

    Parameters
    ----------
    desk : its season file is read, over another connection.
    worker : works the standings out.
    """

    state = OptionProperty(State.NOTHING, options=list(State))
    standings = ObjectProperty(())
    strict = ObjectProperty(())
    words = StringProperty("")

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(**kwargs)
        self.words = tr(NO_SEASON)
        self._desk, self._worker = desk, worker
        self._opening = 0  # counts the season files that were opened and closed
        self._asked = None  # the version of the file that was asked for last
        self._edition = None  # of the standings at hand
        self._looked = None  # which standings were kept as the last look
        self._running = self._following = False
        self._updates: list[Callable] = []
        self._written = -inf  # when this app last wrote
        self._soon = Clock.create_trigger(self._check_file, 0)
        self._in_a_pause = Clock.create_trigger(self._check_file, _PAUSE)
        self._late = Clock.create_trigger(self._tell_that_it_takes_long, _PATIENCE)
        self._poll = Clock.create_trigger(self._check_file, _POLL, interval=True)
        desk.bind(season=self._forget)

    def refresh(self) -> None:
        """Work the standings out again unless those at hand, or on their way, are of the file as it is."""
        version = self._version()
        if version is None or version == self._asked:
            return
        self._asked = version
        if not self._running:
            self._start()

    def follow(self) -> None:
        """Refresh now, and from now on after each write of this app; of writes close together, in the pause.

        On a tablet that carries the boards alone there is nothing to work standings out with, and none are.
        """
        if not self._following and find_spec("scipy"):
            self._following = True
            self._desk.bind(changed=self._follow)
            self.refresh()

    def _follow(self, *_) -> None:
        before, self._written = self._written, monotonic()
        if self._written - before > _PAUSE:
            self._soon()  # in the next frame, when this one is drawn
        else:  # taps come first
            self._in_a_pause.cancel()
            self._in_a_pause()

    def show(self, update: Callable) -> None:
        """Refresh for a screen that comes on show, and while it is there whenever anybody writes to the file.

        ``update`` is called at once, and when there is something new to show.
        """
        if update not in self._updates:
            self._updates.append(update)
            self.bind(standings=update, words=update)
        self._poll()
        self.refresh()
        self._keep_look()
        update()

    def hide(self, update: Callable) -> None:
        """Leave the screen alone that goes off show. What comes meanwhile it takes when it is shown again."""
        if update in self._updates:
            self._updates.remove(update)
            self.unbind(standings=update, words=update)
        if not self._updates:
            self._poll.cancel()

    def of(self, number: str) -> list[Standing]:
        """Return the standings of the player with this number, skills in catalogue order."""
        return [one for one in self.standings if one.player == number]

    def _check_file(self, *_) -> None:
        self.refresh()

    def _start(self) -> None:
        self._running = True
        version, path = self._asked, self._desk.season.path
        taken, failed = partial(self._take, version), partial(self._take_failure, version)
        work = partial(live_standings, path, self._edition)
        self._worker.ask(work, lambda pieces: taken(*_joined(pieces)), failed)
        if not self.standings and self.state != State.FAILED:
            self.words = tr(WORKING)
        self.state = State.WORKING
        self._late()

    def _tell_that_it_takes_long(self, *_) -> None:
        self.words = tr(UPDATING if self.standings else WORKING)

    def _take(self, version: tuple, edition, standings: Sequence[Standing] | None, strict: tuple) -> None:
        if self._has_ended(version):
            if standings is not None:
                self._edition, self.strict, self.standings = edition, strict, tuple(standings)
                self._keep_look()
            self.words, self.state = "", State.READY
            self._go_on(version)

    def _take_failure(self, version: tuple, sentence: str) -> None:
        if self._has_ended(version):
            self.words = tr("The standings could not be worked out: {reason}.", reason=sentence)
            self.state = State.FAILED
            if version == self._asked:
                self._asked = None  # so that the next check tries again
            self._go_on(version)

    def _keep_look(self) -> None:
        """Keep what is on show for whoever opens the file with another program; never between two taps."""
        desk, look = self._desk, (self._opening, self._edition)
        if self._updates and self.standings and look != self._looked and not desk.practice and desk.season:
            self._looked = look
            desk.told(self._write_look)

    def _write_look(self) -> None:
        held = [practice.held_on for practice in self._desk.season.practices.all()]
        if held:
            self._desk.season.last_look.keep(self.standings, max(held))

    def _has_ended(self, version: tuple) -> bool:
        """Note that the work is done, and say whether its season file is still the one in hand."""
        self._running = False
        self._late.cancel()
        if version[0] == self._opening:
            return True
        self._go_on(version)
        return False

    def _go_on(self, version: tuple) -> None:
        # standings of the file as it was are better than older ones, but not the last word
        if self._asked not in (None, version):
            self._start()

    def _forget(self, *_) -> None:
        """Drop what belongs to the file that was closed, and what still comes of it."""
        self._opening += 1
        self._asked = self._edition = None
        self._late.cancel()
        self.strict = self.standings = ()
        self.words, self.state = tr(NO_SEASON), State.NOTHING
        if self._following or self._updates:
            self._soon()

    def _version(self) -> tuple | None:
        season = self._desk.season
        if season is None:
            return None
        # not the times of the files: a commit may be seen later than the file's time, and writing the journal
        # back changes the file and nothing in it
        try:
            return self._opening, self._desk.changed, season.seen_version
        except EvaltrackError:
            return self._opening, self._desk.changed, None


def _joined(pieces: list) -> tuple:
    """Return the edition, the standings in one list, or None where they are known, and who is strict."""
    edition, *parts = pieces
    strict = next((part for part in parts if isinstance(part, tuple)), ())
    standings = [part for part in parts if not isinstance(part, tuple)]
    return edition, list(chain.from_iterable(standings)) if parts else None, strict
