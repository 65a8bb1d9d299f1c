"""The ice times to come in the season file. They only grow: of each entry the last word is in force."""

import sqlite3
from collections.abc import Iterable
from datetime import time

from evaltrack.rink.ice_time import LONGEST, SHORTEST, IceTime, in_order
from evaltrack.rink.ident import now_ms
from evaltrack.rink.practice import Surface
from evaltrack.store import sound
from evaltrack.store.clock import next_number
from evaltrack.store.connection import reading, transaction

_INSERT = "INSERT INTO ice_time VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
_WHAT = "an ice time"


class Calendar:
    """The calendar of the season."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def note(self, entries: Iterable[IceTime], tablet: str = "", at: int | None = None) -> int:
        """Note entries, or what has become of them; return how many were new or changed."""
        known = {one.uid: one for one in self.all()}
        changed = [one for one in entries if known.get(one.uid) != one]
        self._write(changed, False, tablet, at)
        return len(changed)

    def take_in(
        self,
        entries: Iterable[IceTime],
        cancelled: Iterable[IceTime],
        tablet: str = "",
        at: int | None = None,
    ) -> tuple[int, int]:
        """Note entries and drop those that are cancelled; return how many changed, and how many went."""
        known = {one.uid: one for one in self.all()}
        gone = [known[one.uid] for one in cancelled if one.uid in known]
        with transaction(self._connection):
            changed = self.note(entries, tablet, at)
            self._write(gone, True, tablet, at)
        return changed, len(gone)

    def drop(self, entry: IceTime, tablet: str = "", at: int | None = None) -> None:
        """Take an entry out; noting it again brings it back."""
        self._write([entry], True, tablet, at)

    def _write(self, entries: Iterable[IceTime], dropped: bool, tablet: str, at: int | None) -> None:
        moment = now_ms() if at is None else at
        with transaction(self._connection):
            for one in entries:
                start = one.start.strftime("%H:%M") if one.start else ""
                day = one.day.isoformat()
                row = (tablet, one.uid, day, start, one.minutes, one.surface, one.place, int(dropped), moment)
                nth = next_number(self._connection, "ice_time", moment, "uid = ?", (one.uid,))
                self._connection.execute(_INSERT, (nth, *row))

    @reading()
    def all(self) -> list[IceTime]:
        """Return what is in force, in order of time."""
        rows = self._connection.execute(
            "SELECT uid, day, start, minutes, surface, place, dropped FROM ice_time ORDER BY nth, tablet"
        )
        found: dict[str, IceTime | None] = {}
        for *row, dropped in sound.no_more_than(sound.MOST_OF_PRACTICE, rows, "ice times"):
            entry = _entry(*row)
            found[entry.uid] = None if sound.flag(dropped, _WHAT) else entry
        return in_order(one for one in found.values() if one)


def _entry(uid, day, start, minutes, surface, place) -> IceTime:
    return IceTime(
        sound.day(day, "the day of an ice time"),
        _time(start) if start != "" else None,
        sound.whole(minutes, _WHAT, SHORTEST, LONGEST),
        sound.name(place, "the place of an ice time"),
        sound.word(Surface, surface, _WHAT),
        sound.key(uid, _WHAT),
    )


def _time(value: object) -> time:
    try:
        read = time.fromisoformat(value)
    except (TypeError, ValueError):
        raise sound.unlike("the time of an ice time") from None
    if read.strftime("%H:%M") != value:
        raise sound.unlike("the time of an ice time")
    return read
