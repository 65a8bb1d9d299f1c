"""Practices in the season file: who was there, what was watched."""

import sqlite3
from collections.abc import Iterable
from datetime import date
from uuid import UUID

from evaltrack.rink.ident import now_ms
from evaltrack.rink.practice import Attendance, Practice, Station, Surface
from evaltrack.store import sound
from evaltrack.store.clock import next_number
from evaltrack.store.connection import reading, transaction
from evaltrack.store.edits import noting
from evaltrack.store.known import known_players, known_skills, known_steps

_COLUMNS = "key, held_on, surface, started_at, ended_at, aside"
_IS_THERE = "SELECT 1 FROM practice WHERE key = ?"
STATION = "practice, drill, step, skill, observer, pressure, tablet, at"
# the number follows from the file and not from a clock, which may be set back in mid-practice
_WATCH = (
    f"INSERT INTO station (nth, {STATION}) SELECT coalesce(max(nth), 0) + 1, :practice, :drill, :step,"
    " :skill, :observer, :pressure, :tablet, :at FROM station WHERE tablet = :tablet"
)


class Practices:
    """The ice times of the season."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    @reading()
    def all(self) -> list[Practice]:
        """Return every practice that counts, in order of date."""
        return [practice for practice in self.every() if not practice.aside]

    @reading()
    def every(self) -> list[Practice]:
        """Return every practice in order of date, those that were set aside among them."""
        rows = self._connection.execute(f"SELECT {_COLUMNS} FROM practice ORDER BY held_on, key")
        return [_practice(row) for row in sound.no_more_than(sound.MOST_PRACTICES, rows, "practices")]

    def held_on(self, day: date) -> list[Practice]:
        """Return the practices of a day that count, in order of their keys."""
        return [practice for practice in self.all() if practice.held_on == day]

    def add(self, practices: Iterable[Practice]) -> None:
        """Add practices; one whose key is there already stays as it is."""
        with transaction(self._connection):
            insert_practices(self._connection, practices)

    def begin(self, practice: Practice, attendance: Iterable[Attendance], station: Station) -> None:
        """Start a practice, or go on with one that was ended: who is here, and what is watched first."""
        started_at = now_ms() if practice.started_at is None else practice.started_at
        who = station.tablet, station.at
        with transaction(self._connection), noting(self._connection, *who, "practice"):
            is_new = not self._connection.execute(_IS_THERE, (practice.key,)).fetchone()
            self._connection.execute(
                f"INSERT INTO practice ({_COLUMNS}) VALUES (?, ?, ?, ?, NULL, 0) ON CONFLICT (key) DO UPDATE"
                " SET started_at = coalesce(started_at, excluded.started_at), ended_at = NULL,"
                " surface = excluded.surface",
                (practice.key, practice.held_on.isoformat(), practice.surface, started_at),
            )
            if is_new:
                clock = next_number(self._connection, "begun", station.at, column="clock")
                row = (clock, station.tablet, practice.key, started_at, practice.key)
                self._connection.execute("INSERT INTO begun VALUES (?, ?, ?, ?, ?)", row)
            self._leave_others(practice.key, station)
            with noting(self._connection, *who, "attendance", practice=practice.key):
                self._mark(practice.key, attendance)
            self._watch(station)

    def end(self, key: str, at: int | None = None, tablet: str = "", now: int | None = None) -> None:
        """Mark the practice as over, as of a moment. ``now`` is the one at which that is noted."""
        moment = now_ms() if at is None else at
        noted = moment if now is None else now
        with (
            transaction(self._connection),
            noting(self._connection, tablet, noted, "practice", practice=key),
        ):
            self._connection.execute("UPDATE practice SET ended_at = ? WHERE key = ?", (moment, key))

    @reading()
    def running(self) -> Practice | None:
        """Return the practice that was started last and has not ended, or None."""
        row = self._connection.execute(
            f"SELECT {_COLUMNS} FROM practice WHERE started_at IS NOT NULL AND ended_at IS NULL AND NOT aside"
            " ORDER BY started_at DESC LIMIT 1"
        ).fetchone()
        return _practice(row) if row else None

    @reading()
    def running_at(self, tablet: str) -> tuple[Practice, Station] | None:
        """Return the practice that a tablet is in, and what it watches there; None when it is in none.

        It is the one for which the tablet wrote last what it watches, whatever other tablets do and whatever
        the clock said then.
        """
        row = self._connection.execute(
            f"SELECT {STATION} FROM station WHERE tablet = ? ORDER BY nth DESC LIMIT 1", (tablet,)
        ).fetchone()
        practice = (
            row
            and self._connection.execute(
                f"SELECT {_COLUMNS} FROM practice WHERE key = ? AND ended_at IS NULL AND NOT aside", row[:1]
            ).fetchone()
        )
        return (_practice(practice), self.read_station(row)) if practice else None

    @reading()
    def last_moment(self, key: str, tablet: str) -> int | None:
        """Return when a tablet wrote last of a practice, by its own clock: the latest of its last facts.

        Of each kind the one that was written last: a clock that was ahead does not count for ever.
        """
        mine = "WHERE t.practice = ?1 AND {}.tablet = ?2 ORDER BY {} DESC LIMIT 1"
        kinds = (
            "SELECT t.at FROM station t " + mine.format("t", "t.nth"),
            "SELECT t.at FROM line_fact t " + mine.format("t", "t.nth"),
            "SELECT t.at FROM tally t " + mine.format("t", "t.id"),
            "SELECT w.at FROM withdrawal w JOIN tally t ON t.id = w.tally " + mine.format("w", "t.id"),
        )
        every = " UNION ALL ".join(f"SELECT * FROM ({kind})" for kind in kinds)
        row = self._connection.execute(f"SELECT max(at) FROM ({every})", (key, tablet)).fetchone()
        return sound.maybe(sound.moment, *row, "the moment of a fact")

    @reading()
    def last_at(self, tablet: str) -> str | None:
        """Return the key of the practice in which a tablet was last; None when it was in none."""
        row = self._connection.execute(
            "SELECT practice FROM station WHERE tablet = ? ORDER BY nth DESC LIMIT 1", (tablet,)
        ).fetchone()
        return row and sound.key(row[0], "the practice of a station")

    def mark(self, key: str, attendance: Iterable[Attendance], tablet: str = "") -> None:
        """Note who is here; what is written last counts. A player keeps their place."""
        attendance = list(attendance)
        at = max((one.at for one in attendance), default=0)
        with (
            transaction(self._connection),
            noting(self._connection, tablet, at, "attendance", practice=key),
        ):
            self._mark(key, attendance)

    @reading()
    def attendance(self, key: str) -> list[Attendance]:
        """Return everyone who was noted as here or gone, in order of place on the board."""
        rows = self._connection.execute(
            "SELECT player, here, place, at FROM attendance WHERE practice = ? ORDER BY place", (key,)
        )
        known = known_players(self._connection)
        return [
            _attendance(row, known)
            for row in sound.no_more_than(sound.MOST_PLAYERS, rows, "players at a practice")
        ]

    def watch(self, station: Station) -> None:
        """Note what a tablet watches from now on."""
        with transaction(self._connection):
            self._watch(station)

    @reading()
    def station(self, key: str, tablet: str) -> Station | None:
        """Return what this tablet watched last in a practice, or None."""
        row = self._connection.execute(
            f"SELECT {STATION} FROM station WHERE practice = ? AND tablet = ? ORDER BY nth DESC LIMIT 1",
            (key, tablet),
        ).fetchone()
        return self.read_station(row) if row else None

    def read_station(self, row: tuple) -> Station:
        """Return what was watched; it must be in the catalogue."""
        practice, drill, step, skill, observer, pressure, tablet, at = row
        sound.among(known_steps(self._connection), (drill, step), "the step that is watched")
        sound.among(known_skills(self._connection), skill, "the skill that is watched")
        pressure = sound.flag(pressure, "the pressure that is noted")
        at = sound.moment(at, "the moment of a change of what is watched")
        return Station(
            practice, drill, step, skill, sound.observer(observer), pressure, sound.tablet(tablet), at
        )

    def _mark(self, key: str, attendance: Iterable[Attendance]) -> None:
        self._connection.executemany(
            "INSERT INTO attendance (practice, player, here, place, at) VALUES (?, ?, ?, ?, ?)"
            " ON CONFLICT (practice, player) DO UPDATE SET here = excluded.here, at = excluded.at",
            [(key, a.player.bytes, int(a.here), a.place, a.at) for a in attendance],
        )

    def _leave_others(self, key: str, station: Station) -> None:
        """End the practices that this tablet alone was in, and which nobody has ended."""
        self._connection.execute(
            "UPDATE practice SET ended_at = ?3 WHERE key <> ?1 AND ended_at IS NULL AND key IN"
            " (SELECT practice FROM station GROUP BY practice HAVING min(tablet) = ?2 AND max(tablet) = ?2)",
            (key, station.tablet, station.at),
        )

    def _watch(self, station: Station) -> None:
        names = STATION.split(", ")
        values = {name: getattr(station, name) for name in names} | {"pressure": int(station.pressure)}
        self._connection.execute(
            "INSERT INTO observer VALUES (?) ON CONFLICT (name) DO NOTHING", (station.observer,)
        )
        self._connection.execute(_WATCH, values)


def insert_practices(connection: sqlite3.Connection, practices: Iterable[Practice]) -> None:
    """Insert practices within the caller's transaction; one that is there already stays as it is."""
    connection.executemany(
        f"INSERT INTO practice ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (key) DO NOTHING",
        [(p.key, p.held_on.isoformat(), p.surface, p.started_at, p.ended_at, p.aside) for p in practices],
    )


def _practice(row) -> Practice:
    key, held_on, surface, started_at, ended_at, aside = row
    return Practice(
        sound.key(key, "the key of a practice"),
        sound.day(held_on, "the day of a practice"),
        sound.word(Surface, surface, "the surface of a practice"),
        sound.maybe(sound.moment, started_at, "the start of a practice"),
        sound.maybe(sound.moment, ended_at, "the end of a practice"),
        sound.flag(aside, "the mark of a practice that was set aside"),
    )


def _attendance(row, known: dict[bytes, UUID]) -> Attendance:
    player, here, place, at = row
    return Attendance(
        sound.of(known, player, "a player at a practice"),
        sound.flag(here, "the presence of a player"),
        sound.whole(place, "the place of a player on the board", -sound.MOST_PLAYERS, sound.MOST_PLAYERS),
        sound.moment(at, "the moment of a change of who is here"),
    )
