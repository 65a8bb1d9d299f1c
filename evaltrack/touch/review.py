"""The standings for the screens after the bench, worked out in the background and shared by them."""

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from kivy.event import EventDispatcher
from kivy.properties import ObjectProperty, OptionProperty, StringProperty

from evaltrack.analysis.standing import Standing
from evaltrack.touch.background import in_background
from evaltrack.touch.desk import Desk

WORKING = "Working out the standings …"
NO_SEASON = "There is no season file open."


def read_season(path: Path) -> list[Standing]:
    """Return the standings of a season file, over a connection of its own."""
    # imported here, on the thread that works: the screens must not wait for it
    from evaltrack.analysis.standings import read_standings
    from evaltrack.store.opening import open_season

    with open_season(path) as season:
        return read_standings(season)


class Review(EventDispatcher):
    """``standings`` as they were last worked out, and ``state``: what is known of them.

    ``refresh`` starts the work when a tally came since, or another program wrote to the file; it returns
    at once. Standings on show stay until newer ones are there. ``words`` is what to tell the user: that
    it is being worked out, or why it could not be; empty when all is said.
    """

    state = OptionProperty("nothing", options=("nothing", "working", "ready", "failed"))
    standings = ObjectProperty(())
    words = StringProperty(NO_SEASON)

    def __init__(self, desk: Desk, read: Callable[[Path], Sequence[Standing]] = read_season, **kwargs):
        super().__init__(**kwargs)
        self._desk, self._read = desk, read
        self._asked = None  # the version of the file that was asked for last
        self._running = False
        desk.bind(season=self._forget)

    def refresh(self) -> None:
        """Work the standings out anew unless those at hand, or on their way, are of the file as it is."""
        version = self._version()
        if version is None or version == self._asked:
            return
        self._asked = version
        self.words, self.state = WORKING, "working"
        if not self._running:
            self._start()

    def of(self, number: str) -> list[Standing]:
        """Return the standings of the player with this number, skills in catalogue order."""
        return [one for one in self.standings if one.player == number]

    def _start(self) -> None:
        self._running = True
        asked = self._asked
        in_background(
            partial(self._read, asked[0]), partial(self._take, asked), partial(self._take_failure, asked)
        )

    def _take(self, asked, standings: Sequence[Standing]) -> None:
        if self._is_wanted(asked):
            self.standings = tuple(standings)
            self.words, self.state = "", "ready"

    def _take_failure(self, asked, sentence: str) -> None:
        if self._is_wanted(asked):
            self._asked = None  # so that the next visit tries again
            self.words = f"The standings could not be worked out: {sentence}."
            self.state = "failed"

    def _is_wanted(self, asked) -> bool:
        """Say whether a result is the one that was asked for last; else start on that one, if any."""
        self._running = False
        if asked == self._asked:
            return True
        if self._asked:
            self._start()
        return False

    def _forget(self, *_) -> None:
        """Drop what belongs to the file that was closed, and what still comes of it."""
        self._asked = None
        self.standings = ()
        self.words, self.state = NO_SEASON, "nothing"

    def _version(self) -> tuple | None:
        season = self._desk.season
        if season is None:
            return None
        # the journal beside the file grows when anyone writes, this app or another program
        files = (season.path, season.path.with_name(f"{season.path.name}-wal"))
        return (season.path, self._desk.changed, *(_stamp(file) for file in files))


def _stamp(file: Path) -> tuple[int, int] | None:
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size


def review_of(desk: Desk) -> Review:
    """Return the desk's one review, made when it is first asked for."""
    if not hasattr(desk, "review"):
        desk.review = Review(desk)
    return desk.review
