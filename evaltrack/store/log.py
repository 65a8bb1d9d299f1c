"""The log of tallies. It only grows: a withdrawal is a fact of its own."""

import sqlite3
from collections import Counter, defaultdict
from collections.abc import Iterable
from datetime import date
from uuid import UUID

from evaltrack.errors import NotSavedError
from evaltrack.language import tr
from evaltrack.rink.plain_text import by_letters
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Tally, Withdrawal
from evaltrack.store import sound
from evaltrack.store.as_they_stand import put_right
from evaltrack.store.connection import reading, transaction, writing
from evaltrack.store.erased import NAMELESS
from evaltrack.store.practices import insert_practices
from evaltrack.store.room import refuse_overfull_log
from evaltrack.store.tally_rows import (
    NOT_WITHDRAWN,
    TALLY_COLUMNS,
    TallyRows,
    sound_cells,
    told_apart,
)

CELL_COLUMNS = (
    "player", "skill", "practice", "held_on", "drill", "step", "pressure", "observer", "opponent", "tries",
    "done",
)  # fmt: skip

# not OR IGNORE, which would also swallow a row that breaks a rule of the table
_INSERT = (
    f"INSERT INTO tally ({TALLY_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
    " ON CONFLICT (id) DO NOTHING"
)
# by the index of the practice, in the table, and not in a page that gives it for a withdrawal as well
_FOUND = (
    "SELECT 1 FROM tally t INDEXED BY tally_practice"
    " WHERE practice = ? AND tablet = ? AND id = ? AND player = ?"
    " AND NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.tally = t.id AND typeof(w.at) <> 'integer')"
)
_NAMED = f"t.player NOT IN ({NAMELESS})"
_COUNTS = f"{NOT_WITHDRAWN} AND t.practice NOT IN (SELECT key FROM practice WHERE aside)"
# counted by reading one index in order
_TOTALS = (
    "SELECT t.player, t.skill, t.practice, t.drill, t.step, t.pressure, t.observer, NULL AS opponent,"
    " count(*) AS tries, sum(t.outcome = 'done') AS done, sum(t.outcome = 'missed') AS missed"
    " FROM tally t INDEXED BY tally_cell JOIN skill s ON s.key = t.skill AND s.version = t.skill_version"
    f" WHERE t.outcome <> 'unseen' AND {NOT_WITHDRAWN} AND {{left_out}}"
    " GROUP BY t.skill, t.skill_version, t.player, t.practice, t.drill, t.step, t.pressure, t.observer"
)
# those of them that met somebody: only in practices with reps of a step in which one slot meets another
_WITH_REPS = (
    "SELECT DISTINCT practice FROM rep WHERE (drill, step) IN"
    " (SELECT drill, step FROM slot WHERE against IS NOT NULL)"
)
_LATER_WORD = "SELECT max(nth) FROM stood WHERE rep = t.rep AND slot = m.against"
_MET = (
    "SELECT t.player, t.skill, t.practice, t.drill, t.step, t.pressure, t.observer,"
    " iif(a.nth IS NULL, b.player, a.player) AS opponent,"
    " count(*) AS tries, sum(t.outcome = 'done') AS done, sum(t.outcome = 'missed') AS missed"
    f" FROM ({_WITH_REPS}) r CROSS JOIN tally t INDEXED BY tally_practice ON t.practice = r.practice"
    " JOIN slot m ON m.drill = t.drill AND m.step = t.step AND m.key = t.slot AND m.against IS NOT NULL"
    " JOIN skill s ON s.key = t.skill AND s.version = t.skill_version"
    " LEFT JOIN rep_slot b ON b.rep = t.rep AND b.slot = m.against"
    f" LEFT JOIN stood a ON a.rep = t.rep AND a.slot = m.against AND a.nth = ({_LATER_WORD})"
    f" WHERE t.rep IS NOT NULL AND opponent <> t.player AND t.outcome <> 'unseen'"
    f" AND {NOT_WITHDRAWN} AND {{left_out}}"
    " GROUP BY t.skill, t.player, t.practice, t.drill, t.step, t.pressure, t.observer, opponent"
)


class Log:
    """Every tally of the season."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def add(self, tally: Tally) -> None:
        """Commit one tally. Adding it again changes nothing; NotSavedError when it is not on disk."""
        with writing(self._connection):
            self._connection.execute(_INSERT, _row(tally))
            self._refuse_unfound(tally)

    def _refuse_unfound(self, tally: Tally) -> None:
        """Raise NotSavedError when a tally that was written is not where it is looked for later.

        In a damaged file it may have gone into a page that is another table's too.
        """
        looked = (tally.practice, tally.tablet, tally.id.bytes, tally.player.bytes)
        if self._connection.execute(_FOUND, looked).fetchone() is None:
            raise NotSavedError(
                tr(
                    "not saved: {damaged}",
                    damaged=sound.damaged("a tally that was written is not found again"),
                )
            )

    def withdraw(self, withdrawal: Withdrawal) -> None:
        """Commit a withdrawal. Withdrawing twice changes nothing."""
        with writing(self._connection):
            self._connection.execute(
                "INSERT INTO withdrawal VALUES (?, ?, ?) ON CONFLICT (tally) DO NOTHING",
                (withdrawal.tally.bytes, withdrawal.tablet, withdrawal.at),
            )

    def add_many(self, practices: Iterable[Practice], tallies: Iterable[Tally]) -> int:
        """Add practices and their tallies, all or nothing, and return how many tallies were new.

        A player with a tally was there: that is noted too, unless the practice has them already.
        """
        tallies = list(tallies)
        with transaction(self._connection):
            insert_practices(self._connection, practices)
            self._connection.executemany(
                "INSERT INTO observer VALUES (?) ON CONFLICT (name) DO NOTHING",
                sorted({(tally.observer,) for tally in tallies}),
            )
            before = self._connection.total_changes
            self._connection.executemany(_INSERT, map(_row, tallies))
            new = self._connection.total_changes - before
            self._note_presence(tallies)
            refuse_overfull_log(self._connection, {tally.practice for tally in tallies})
        return new

    @reading()
    def known(self, ids: Iterable[UUID]) -> set[UUID]:
        """Return those of these tallies that the log has, wherever they are filed and whether they count."""
        select = "SELECT 1 FROM tally WHERE id = ?"
        return {i for i in ids if self._connection.execute(select, (i.bytes,)).fetchone()}

    @reading()
    def set_aside(self, ids: Iterable[UUID]) -> dict[str, int]:
        """Return how many of these tallies are in a practice that was set aside, by its key."""
        select = (
            "SELECT t.practice FROM tally t JOIN practice p ON p.key = t.practice AND p.aside WHERE t.id = ?"
        )
        found = (self._connection.execute(select, (i.bytes,)).fetchone() for i in ids)
        return Counter(sound.key(*row, "the practice of a tally") for row in found if row)

    @reading()
    def tallies(self, practice: str | None = None, player: UUID | None = None) -> list[Tally]:
        """Return the tallies that count, in order of time; a tablet's own in the order in which it made them.

        Not those that were withdrawn, nor those of a practice that was set aside unless it is asked for; nor
        those that are kept of somebody who was erased, which count all the same.
        """
        wanted = {"practice": practice, "player": player.bytes if player else None}
        # a condition only where there is one: it is what lets SQLite use an index
        where = [f"t.{column} = :{column}" for column, value in wanted.items() if value is not None]
        counts, most = (NOT_WITHDRAWN, sound.MOST_OF_PRACTICE) if practice else (_COUNTS, sound.MOST_TALLIES)
        with put_right(self._connection) as others:
            read = TallyRows(self._connection)
            rows = self._connection.execute(
                f"SELECT {TALLY_COLUMNS} FROM tally t"
                f" WHERE {' AND '.join([*where, counts, _NAMED, others.left_out])} ORDER BY id",
                wanted,
            )
            found = [read.tally(row) for row in sound.no_more_than(most, rows, "tallies")]
            return others.with_tallies(found, practice, player)

    @reading()
    def stands(self, practice: str) -> list:
        """Return the tallies of a practice with all that was put right, those that were set aside too."""
        from evaltrack.rink.tally_correction import Stood

        with put_right(self._connection) as others:
            aside = [one for one in others.stood if one.aside and one.tally.practice == practice]
            found = [*map(Stood, self.tallies(practice)), *aside]
        return sorted(found, key=lambda one: one.tally.id)

    @reading()
    def count(self) -> int:
        """Return how many tallies count."""
        with put_right(self._connection) as others:
            select = f"SELECT count(*) FROM tally t WHERE {_COUNTS} AND {others.left_out}"
            return self._connection.execute(select).fetchone()[0] + len(others.counting())

    @reading()
    def counts(self) -> dict[str, int]:
        """Return how many tallies each practice has, by its key; also of one that was set aside."""
        with put_right(self._connection) as others:
            rows = self._connection.execute(
                f"SELECT practice, count(*) FROM tally t WHERE {NOT_WITHDRAWN} AND {others.left_out}"
                " GROUP BY practice"
            )
            return dict(Counter(dict(rows)) + others.counts())

    @reading()
    def observers(self) -> dict[str, list[str]]:
        """Return who made the tallies of each practice, in order of name, by its key."""
        with put_right(self._connection) as others:
            rows = self._connection.execute(
                f"SELECT DISTINCT practice, observer FROM tally t WHERE {NOT_WITHDRAWN} AND {others.left_out}"
            )
            names = {(sound.key(key, "the practice of a tally"), sound.observer(name)) for key, name in rows}
            names |= {(tally.practice, tally.observer) for tally in others.tallies()}
        found = defaultdict(list)
        for key, name in sorted(names, key=lambda pair: by_letters(pair[1])):
            found[key].append(name)
        return dict(found)

    @reading()
    def cells(self, as_of: date | None = None) -> list[tuple]:
        """Return the cells up to and with a date, in the columns ``CELL_COLUMNS``.

        ``player`` is the id's 16 bytes, ``held_on`` an ISO date, ``pressure`` 0, 1 or None. ``opponent`` is
        the id of whoever stood in the slot that the player's slot meets, in the same rep; None where that is
        not known. A cell counts tries under the definition in force: no tallies that are unseen, withdrawn or
        set aside.
        """
        with put_right(self._connection) as others:
            return others.with_cells(self._cells_as_noted(as_of, others.left_out), as_of)

    def _cells_as_noted(self, as_of: date | None, left_out: str) -> list[tuple]:
        cells = f"{_TOTALS} UNION ALL {_MET}".format(left_out=left_out)
        # one statement, so that both halves tell of the same moment
        rows = self._connection.execute(
            "SELECT c.player, c.skill, c.practice, p.held_on, c.drill, c.step, c.pressure, c.observer,"
            " c.opponent, iif(c.done + c.missed = c.tries, c.tries, 0), c.done"
            f" FROM ({cells}) c JOIN practice p ON p.key = c.practice"
            " WHERE NOT p.aside AND (?1 IS NULL OR p.held_on <= ?1)",
            (as_of and as_of.isoformat(),),
        )
        rows = sound.no_more_than(sound.MOST_CELLS, rows, "cells")
        return told_apart(sound_cells(rows, self._connection))

    @reading()
    def newest(self, tablet: str) -> UUID | None:
        """Return the identifier that a tablet made last for a tally or a rep; None when it made none."""
        newest = "(SELECT max(id) FROM {0} WHERE practice = p.key AND tablet = ?1)"  # one search in an index
        rows = self._connection.execute(
            f"SELECT {newest.format('tally')} FROM practice p"
            f" UNION ALL SELECT {newest.format('rep')} FROM practice p",
            (tablet,),
        )
        found = [sound.ident(raw, "the id of a tally or a rep") for (raw,) in rows if raw is not None]
        return max(found, default=None)

    def _note_presence(self, tallies: list[Tally]) -> None:
        # the latest first, so that the earliest moment stays
        by_time = sorted(tallies, key=lambda t: (t.at, t.id), reverse=True)
        first = {(t.practice, t.player.bytes): t.at for t in by_time}
        self._connection.executemany(
            "INSERT INTO attendance (practice, player, here, place, at) SELECT :practice, :player, 1,"
            " coalesce(max(place) + 1, 0), :at FROM attendance WHERE practice = :practice"
            " ON CONFLICT (practice, player) DO NOTHING",
            [{"practice": key[0], "player": key[1], "at": at} for key, at in sorted(first.items())],
        )


def _row(t: Tally) -> tuple:
    pressure = None if t.pressure is None else int(t.pressure)
    rep = t.rep.bytes if t.rep else None
    return (
        t.id.bytes, t.practice, t.player.bytes, t.skill, t.skill_version, t.outcome, pressure,
        t.drill, t.step, t.observer, rep, t.slot, t.tablet, t.at,
    )  # fmt: skip
