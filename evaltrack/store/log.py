"""The log of tallies. It only grows: a withdrawal is a fact of its own."""

import sqlite3
from collections.abc import Iterable
from datetime import date
from uuid import UUID

from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally, Withdrawal
from evaltrack.store.connection import transaction, writing
from evaltrack.store.practices import insert_practices

CELL_COLUMNS = (
    "player", "skill", "practice", "held_on", "drill", "step", "pressure", "observer", "tries", "done",
)  # fmt: skip

_COLUMNS = (
    "id, practice, player, skill, skill_version, outcome, pressure, drill, step, observer, rep, tablet, at"
)
# not OR IGNORE, which would also swallow a row that breaks a rule of the table
_INSERT = (
    f"INSERT INTO tally ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
    " ON CONFLICT (id) DO NOTHING"
)
_NOT_WITHDRAWN = "NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.tally = t.id)"


class Log:
    """Every tally of the season."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def add(self, tally: Tally) -> None:
        """Commit one tally. Adding it again changes nothing; NotSavedError when it is not on disk."""
        with writing():
            self._connection.execute(_INSERT, _row(tally))

    def withdraw(self, withdrawal: Withdrawal) -> None:
        """Commit a withdrawal. Withdrawing twice changes nothing."""
        with writing():
            self._connection.execute(
                "INSERT OR IGNORE INTO withdrawal VALUES (?, ?, ?)",
                (withdrawal.tally.bytes, withdrawal.tablet, withdrawal.at),
            )

    def add_many(self, practices: Iterable[Practice], tallies: Iterable[Tally]) -> int:
        """Add practices and their tallies, all or nothing, and return how many tallies were new.

        Whoever has a tally was there: that is noted too, unless the practice already knows of him.
        """
        tallies = list(tallies)
        with transaction(self._connection):
            insert_practices(self._connection, practices)
            names = {(tally.observer,) for tally in tallies}
            self._connection.executemany("INSERT OR IGNORE INTO observer VALUES (?)", sorted(names))
            before = self._connection.total_changes
            self._connection.executemany(_INSERT, map(_row, tallies))
            new = self._connection.total_changes - before
            self._note_presence(tallies)
        return new

    def tallies(self, practice: str | None = None, player: UUID | None = None) -> list[Tally]:
        """Return the tallies that were not withdrawn, in order of time."""
        rows = self._connection.execute(
            f"SELECT {_COLUMNS} FROM tally t WHERE (?1 IS NULL OR practice = ?1)"
            f" AND (?2 IS NULL OR player = ?2) AND {_NOT_WITHDRAWN} ORDER BY at, id",
            (practice, player.bytes if player else None),
        )
        return [_tally(row) for row in rows]

    def count(self) -> int:
        """Return how many tallies were not withdrawn."""
        return self._connection.execute(f"SELECT count(*) FROM tally t WHERE {_NOT_WITHDRAWN}").fetchone()[0]

    def cells(self, as_of: date | None = None) -> list[tuple]:
        """Return the cells up to and with a date, in the columns ``CELL_COLUMNS``.

        ``player`` is the id's 16 bytes, ``held_on`` an ISO date, ``pressure`` 0, 1 or None. A cell counts
        tries under the definition in force; unseen and withdrawn tallies are not tries.
        """
        return self._connection.execute(
            "SELECT c.player, c.skill, c.practice, p.held_on, c.drill, c.step, c.pressure, c.observer,"
            " c.tries, c.done FROM ("
            "  SELECT t.player, t.skill, t.practice, t.drill, t.step, t.pressure, t.observer,"
            "  count(*) AS tries, sum(t.outcome = 'done') AS done"
            "  FROM tally t INDEXED BY tally_cell JOIN skill s ON s.key = t.skill"
            "  AND s.version = t.skill_version"
            f"  WHERE t.outcome <> 'unseen' AND {_NOT_WITHDRAWN}"
            "  GROUP BY t.skill, t.skill_version, t.player, t.practice, t.drill, t.step, t.pressure,"
            "  t.observer) c JOIN practice p ON p.key = c.practice WHERE p.held_on <= ?",
            ((as_of or date.max).isoformat(),),
        ).fetchall()

    def _note_presence(self, tallies: list[Tally]) -> None:
        first = {(t.practice, t.player.bytes): t.at for t in reversed(tallies)}
        self._connection.executemany(
            "INSERT OR IGNORE INTO attendance (practice, player, here, place, at) SELECT ?1, ?2, 1,"
            " coalesce(max(place) + 1, 0), ?3 FROM attendance WHERE practice = ?1",
            [(practice, player, at) for (practice, player), at in sorted(first.items())],
        )


def _row(t: Tally) -> tuple:
    pressure = None if t.pressure is None else int(t.pressure)
    rep = t.rep.bytes if t.rep else None
    return (
        t.id.bytes, t.practice, t.player.bytes, t.skill, t.skill_version, t.outcome, pressure,
        t.drill, t.step, t.observer, rep, t.tablet, t.at,
    )  # fmt: skip


def _tally(row: tuple) -> Tally:
    ident, practice, player, skill, version, outcome, pressure, drill, step, observer, rep, tablet, at = row
    return Tally(
        practice=practice,
        player=UUID(bytes=player),
        skill=skill,
        outcome=Outcome(outcome),
        drill=drill,
        step=step,
        observer=observer,
        pressure=None if pressure is None else bool(pressure),
        skill_version=version,
        rep=UUID(bytes=rep) if rep else None,
        tablet=tablet,
        at=at,
        id=UUID(bytes=ident),
    )
