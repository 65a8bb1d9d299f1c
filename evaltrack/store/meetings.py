"""Evenings of meetings in the season file. They only grow; what was written last of one is in force."""

import sqlite3
from collections.abc import Iterator
from datetime import time
from uuid import UUID

from evaltrack.rink.ident import now_ms
from evaltrack.rink.meeting_evening import (
    LONGEST,
    MOST_TABLES,
    OF_A_TIME,
    SHORTEST,
    Break,
    Evening,
    MeetingSlot,
    MeetingWish,
    MeetingWishKind,
)
from evaltrack.store import sound
from evaltrack.store.clock import next_number
from evaltrack.store.connection import reading, transaction
from evaltrack.store.known import known_players
from evaltrack.store.room import refuse_overfull

_INSERT = "INSERT INTO meeting_evening VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
_CAME = "INSERT INTO meeting_came VALUES (?, ?, ?, ?, ?, ?)"
_HEAD = "nth, tablet, evening, day, start, minutes, tables, breaks, until, place"
_LAST = "ORDER BY nth DESC, tablet DESC LIMIT 1"


class Meetings:
    """The evenings of the season, each change of one among them, and who came."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def add(self, evening: Evening, tablet: str = "", at: int | None = None) -> None:
        """Keep an evening, or what it has become; NotSavedError when it is not on disk."""
        until = _clock(evening.until) if evening.until else ""
        breaks = " ".join(f"{_clock(one.start)}-{_clock(one.end)}" for one in evening.breaks)
        moment = now_ms() if at is None else at
        head = (
            *(tablet, evening.key, evening.day.isoformat(), _clock(evening.start)),
            *(evening.minutes, evening.tables, breaks, until, evening.place),
            moment,
        )
        with transaction(self._connection):
            # of all evenings one is the last
            nth = next_number(self._connection, "meeting_evening", moment)
            self._connection.execute(_INSERT, (nth, *head))
            refuse_overfull(self._connection, "meeting_evening", sound.MOST_EVENINGS, "changes of evenings")
            for table, rows in (("meeting_wish", _wish_rows(evening)), ("meeting_slot", _slot_rows(evening))):
                marks = ", ".join("?" * (2 + len(rows[0]))) if rows else ""
                whole = [(nth, tablet, *row) for row in rows]
                if whole:
                    self._connection.executemany(f"INSERT INTO {table} VALUES ({marks})", whole)

    @reading()
    def last(self) -> Evening | None:
        """Return the evening that was written last."""
        return next(self._read(_LAST), None)

    @reading()
    def all(self) -> list[Evening]:
        """Return every evening as it is in force, by day and start."""
        rows = self._connection.execute(
            "SELECT nth, tablet, evening FROM meeting_evening ORDER BY nth, tablet"
        )
        heads = sound.no_more_than(sound.MOST_EVENINGS, rows, "changes of evenings")
        newest = {key: (nth, tablet) for nth, tablet, key in heads}
        found = [next(self._read("WHERE nth = ? AND tablet = ?", *one)) for one in newest.values()]
        return sorted(found, key=lambda one: (one.day, one.start, one.key))

    @reading()
    def of(self, key: str) -> list[Evening]:
        """Return an evening as it was kept from first to last; empty where there is none."""
        return list(self._read("WHERE evening = ? ORDER BY nth, tablet", key))

    def note_came(self, key: str, player: UUID, came: bool, tablet: str = "", at: int | None = None) -> None:
        """Note that a family came to an evening, or that it did not."""
        moment, about = now_ms() if at is None else at, (key, player.bytes)
        with transaction(self._connection):
            nth = next_number(self._connection, "meeting_came", moment, "evening = ? AND player = ?", about)
            self._connection.execute(_CAME, (nth, tablet, *about, int(came), moment))
            refuse_overfull(self._connection, "meeting_came", sound.MOST_CAME, "marks of who came")

    @reading()
    def who_came(self, key: str) -> frozenset[UUID]:
        """Return whose families came to an evening, by the last word on each."""
        rows = self._connection.execute(
            "SELECT player, came FROM meeting_came WHERE evening = ? ORDER BY nth, tablet", (key,)
        )
        known, came = known_players(self._connection), {}
        for player, is_here in sound.no_more_than(sound.MOST_CAME, rows, "marks of who came"):
            came[sound.of(known, player, "who came to a meeting")] = sound.flag(
                is_here, "who came to a meeting"
            )
        return frozenset(player for player, is_here in came.items() if is_here)

    def _read(self, which: str, *given: str | int) -> Iterator[Evening]:
        rows = self._connection.execute(f"SELECT {_HEAD} FROM meeting_evening {which}", given)
        for row in sound.no_more_than(sound.MOST_EVENINGS, rows, "changes of evenings"):
            yield self._evening(*row)

    def _evening(self, nth, tablet, key, day, start, minutes, tables, breaks, until, place) -> Evening:
        what, known = "an evening of meetings", known_players(self._connection)
        return Evening(
            key=sound.key(key, what),
            day=sound.day(day, what),
            start=_time(start),
            minutes=sound.whole(minutes, what, SHORTEST, LONGEST),
            tables=sound.whole(tables, what, 1, MOST_TABLES),
            breaks=tuple(_break(part) for part in sound.keys(breaks, what)),
            until=None if until == "" else _time(until),
            place=sound.name(place, "the place of an evening"),
            wishes=tuple(_wish(*row, known) for row in self._rows("meeting_wish", nth, tablet)),
            slots=dict(_slot(*row, known) for row in self._rows("meeting_slot", nth, tablet)),
        )

    def _rows(self, table: str, nth: int, tablet: str) -> list[tuple]:
        columns, order = _TABLES[table]
        rows = self._connection.execute(
            f"SELECT {columns} FROM {table} WHERE nth = ? AND tablet = ? ORDER BY {order}", (nth, tablet)
        )
        return sound.no_more_than(sound.MOST_PLAYERS, rows, "rows of an evening")


_TABLES = {  # what is read of each, and in which order
    "meeting_wish": ("kind, player, other, value", "place"),
    "meeting_slot": ("player, start, at_table, locked, uid", "start, at_table, player"),
}


def _wish_rows(evening: Evening) -> list[tuple]:
    return [
        (at, w.kind, w.player.bytes, w.other.bytes if w.other else None, _value(w))
        for at, w in enumerate(evening.wishes)
    ]


def _value(wish: MeetingWish) -> str:
    if wish.at is not None:
        return _clock(wish.at)
    return "" if wish.table is None else str(wish.table)


def _slot_rows(evening: Evening) -> list[tuple]:
    return [
        (player.bytes, _clock(slot.start), slot.table, int(slot.locked), slot.uid)
        for player, slot in evening.slots.items()
    ]


def _wish(kind, player, other, value, known) -> MeetingWish:
    what = "a wish for a meeting"
    kind = sound.word(MeetingWishKind, kind, what)
    own, another = sound.of(known, player, what), None if other is None else sound.of(known, other, what)
    table = None
    if kind is MeetingWishKind.TABLE:
        table = sound.whole(int(sound.digits(value, what)), what, 1, MOST_TABLES)
    elif kind not in OF_A_TIME and value != "":
        raise sound.unlike(what)
    try:
        return MeetingWish(kind, own, another, _time(value) if kind in OF_A_TIME else None, table)
    except ValueError:
        raise sound.unlike(what) from None


def _slot(player, start, table, locked, uid, known) -> tuple[UUID, MeetingSlot]:
    what = "a family's meeting"
    slot = MeetingSlot(
        _time(start),
        sound.whole(table, what, 1, MOST_TABLES),
        sound.flag(locked, what),
        sound.key(uid, what) if uid else "",
    )
    return sound.of(known, player, what), slot


def _break(text: str) -> Break:
    start, _, end = text.partition("-")
    found = Break(_time(start), _time(end))
    if not found.start < found.end:
        raise sound.unlike("a break between meetings")
    return found


def _clock(moment: time) -> str:
    return moment.strftime("%H:%M")


def _time(value: object) -> time:
    try:
        read = time.fromisoformat(value)
    except (TypeError, ValueError):
        raise sound.unlike("the time of a meeting") from None
    if _clock(read) != value:
        raise sound.unlike("the time of a meeting")
    return read
