"""Until when a season file keeps names, and whether it was closed: facts, of which the last one holds."""

import sqlite3
from datetime import date

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.days import in_full
from evaltrack.rink.ident import now_ms
from evaltrack.rink.practice import local_day
from evaltrack.rink.retention import Retention, retention_of
from evaltrack.store import sound
from evaltrack.store.clock import next_number
from evaltrack.store.connection import reading, transaction
from evaltrack.store.people import People
from evaltrack.store.practices import Practices
from evaltrack.store.room import refuse_overfull

_WHAT = "the day until which a season is kept"
_LAST = "SELECT field, value FROM season_fact ORDER BY nth, tablet"
KEEP_UNTIL, CLOSED = "keep_until", "closed"


class SeasonLife:
    """How long the season keeps names, and whether it has forgotten them."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    @reading()
    def retention(self) -> Retention:
        """Return until when names are kept: as somebody chose, or as is usual."""
        (at,) = self._connection.execute("SELECT created_at FROM season").fetchone() or (0,)
        made = local_day(sound.moment(at, "the moment at which it was made")) or date.today()
        held = [practice.held_on for practice in Practices(self._connection).all()]
        return retention_of(made, held, self.all().get(KEEP_UNTIL))

    def keep_until(self, day: date, tablet: str = "", at: int | None = None) -> None:
        """Choose the last day on which names are kept.

        Raises
        ------
        EvaltrackError : it lies before the last practice, or so late that nobody needs the names by then.
        NotSavedError : it is not on disk.
        """
        known = self.retention()
        if day < known.earliest:
            raise EvaltrackError(
                tr(
                    "the season still ran on {day}; choose that day or a later one",
                    day=in_full(known.earliest),
                )
            )
        if day > known.latest:
            raise EvaltrackError(
                tr(
                    "children’s data are kept two years after the last practice at most; choose {day} or an"
                    " earlier day",
                    day=in_full(known.latest),
                )
            )
        with transaction(self._connection):
            note(self._connection, KEEP_UNTIL, day, tablet, now_ms() if at is None else at)
            refuse_overfull(
                self._connection, "season_fact", sound.MOST_CHANGES, "changes of how long names are kept"
            )

    @reading()
    def closed(self) -> date | None:
        """Return the day on which the season was closed here; None while it knows anybody by name."""
        day = self.all().get(CLOSED)
        return None if day is None or People(self._connection).everyone() else day

    @reading()
    def all(self) -> dict[str, date]:
        """Return the day of each field that somebody has said."""
        rows = sound.no_more_than(sound.MOST_CHANGES, self._connection.execute(_LAST), "facts of the season")
        return {sound.key(field, _WHAT): sound.day(value, _WHAT) for field, value in rows}


def note(connection: sqlite3.Connection, field: str, day: date, tablet: str, at: int) -> None:
    """Note what is said of the season as a whole, within the caller's transaction."""
    nth = next_number(connection, "season_fact", at, "field = ?", (field,))
    row = (nth, tablet, field, day.isoformat(), at)
    connection.execute("INSERT INTO season_fact VALUES (?, ?, ?, ?, ?)", row)
