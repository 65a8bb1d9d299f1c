"""Reps in the season file, and the facts from which the lines of players are played again."""

from collections import defaultdict
from collections.abc import Iterable
from typing import TYPE_CHECKING
from uuid import UUID

from evaltrack.rink.player import Position
from evaltrack.rink.practice import Rep
from evaltrack.store.connection import FileConnection, reading, transaction

if TYPE_CHECKING:
    from evaltrack.rink.line_fact import LineFact

Moves = Iterable[tuple[UUID, UUID]]

_REP = "INSERT INTO rep (id, practice, drill, step, tablet, at) VALUES (?, ?, ?, ?, ?, ?)"
# the number follows from the file and not from a clock, which may be set back in mid-practice
_FACT = (
    "INSERT INTO line_fact (practice, tablet, nth, change, drill, step, rep, slot, player, position, at)"
    " SELECT :practice, :tablet, coalesce(max(nth), 0) + 1, :change, :drill, :step, :rep, :slot, :player,"
    " :position, :at FROM line_fact WHERE practice = :practice AND tablet = :tablet RETURNING nth"
)


class Reps:
    """Who was in which slot, and every change of the line that a tablet keeps. All of it only grows."""

    def __init__(self, connection: FileConnection):
        self._connection = connection

    def begin(self, rep: Rep, fact: "LineFact") -> int:
        """Commit that a rep begins with these slots, and the change of the line that began it.

        Returns the number that the change has in the file.

        Raises
        ------
        NotSavedError
            Nothing of it is on disk.
        """
        with transaction(self._connection):
            self._add_rep(rep)
            return self._add_fact(fact)

    def correct(self, fact: "LineFact", moved: Moves = ()) -> int:
        """Commit a change of the line during a rep, and which tallies it gave to whom (see `moved`).

        Returns the number that the change has in the file.

        Raises
        ------
        NotSavedError
            Nothing of it is on disk.
        """
        with transaction(self._connection):
            nth = self._add_fact(fact)
            self._connection.executemany(
                "INSERT INTO moved VALUES (?, ?, ?, ?, ?)",
                [(fact.practice, fact.tablet, nth, was.bytes, becomes.bytes) for was, becomes in moved],
            )
        return nth

    @reading()
    def moved(self, practice: str, tablet: str) -> dict[int, list[tuple[UUID, UUID]]]:
        """Return the tallies that changes of the line gave to another player, by number of the change.

        Each is a pair: the id of the tally that was withdrawn, and of the one that stands for it.
        """
        rows = self._connection.execute(
            "SELECT nth, was, becomes FROM moved WHERE practice = ? AND tablet = ? ORDER BY nth, was",
            (practice, tablet),
        )
        moved = defaultdict(list)
        for nth, was, becomes in rows:
            moved[nth].append((UUID(bytes=was), UUID(bytes=becomes)))
        return dict(moved)

    @reading()
    def facts(self, practice: str, tablet: str) -> "list[LineFact]":
        """Return what is needed to play the tablet's line at a practice again, in the order it was made."""
        starts = self._starts(practice, tablet)
        rows = self._connection.execute(
            "SELECT nth, drill, step, change, rep, slot, player, position, at FROM line_fact"
            " WHERE practice = ?1 AND tablet = ?2 AND nth >= (SELECT max(nth) FROM line_fact"
            " WHERE practice = ?1 AND tablet = ?2 AND change = 'first') ORDER BY nth",
            (practice, tablet),
        )
        return [_fact(practice, tablet, row, tuple(starts[row[0]])) for row in rows]

    @reading()
    def all(self, practice: str) -> list[Rep]:
        """Return the reps of a practice in order of time, with who was in the slots when each began."""
        rows = self._connection.execute(
            "SELECT id, practice, drill, step, tablet, at FROM rep WHERE practice = ? ORDER BY id",
            (practice,),
        ).fetchall()
        return [Rep(*row[1:4], self._slots(row[0]), *row[4:], UUID(bytes=row[0])) for row in rows]

    def _add_rep(self, rep: Rep) -> None:
        self._connection.execute(_REP, (rep.id.bytes, rep.practice, rep.drill, rep.step, rep.tablet, rep.at))
        rows = [(rep.id.bytes, slot, player.bytes) for slot, player in rep.slots.items()]
        self._connection.executemany("INSERT INTO rep_slot VALUES (?, ?, ?)", rows)

    def _add_fact(self, fact: "LineFact") -> int:
        (nth,) = self._connection.execute(_FACT, _row(fact)).fetchone()
        if fact.start:
            rows = [
                (fact.practice, fact.tablet, nth, place, player.bytes, group)
                for place, (player, group) in enumerate(fact.start)
            ]
            self._connection.executemany("INSERT INTO line_start VALUES (?, ?, ?, ?, ?, ?)", rows)
        return nth

    def _starts(self, practice: str, tablet: str) -> dict[int, list[tuple[UUID, Position]]]:
        starts = defaultdict(list)
        rows = self._connection.execute(
            "SELECT nth, player, position FROM line_start WHERE practice = ? AND tablet = ?"
            " ORDER BY nth, place",
            (practice, tablet),
        )
        for nth, player, group in rows:
            starts[nth].append((UUID(bytes=player), Position(group)))
        return starts

    def _slots(self, rep: bytes) -> dict[str, UUID]:
        rows = self._connection.execute("SELECT slot, player FROM rep_slot WHERE rep = ?", (rep,))
        return {slot: UUID(bytes=player) for slot, player in rows}


def _row(fact: "LineFact") -> dict:
    return {
        "practice": fact.practice,
        "tablet": fact.tablet,
        "change": fact.change,
        "drill": fact.drill,
        "step": fact.step,
        "rep": fact.rep.bytes,
        "slot": fact.slot,
        "player": fact.player.bytes if fact.player else None,
        "position": fact.group,
        "at": fact.at,
    }


def _fact(practice: str, tablet: str, row: tuple, start: tuple[tuple[UUID, Position], ...]) -> "LineFact":
    # imported only when there are any: the first board does not wait for it
    from evaltrack.rink.line_fact import Change, LineFact

    nth, drill, step, change, rep, slot, player, group, at = row
    return LineFact(
        practice,
        tablet,
        drill,
        step,
        Change(change),
        UUID(bytes=rep),
        slot,
        UUID(bytes=player) if player else None,
        Position(group) if group else None,
        start,
        at,
        nth,
    )
