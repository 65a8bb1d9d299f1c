"""Practices that were put right: what was done, and how to take it back."""

import sqlite3
from dataclasses import astuple

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.practice import Amendment, Correction
from evaltrack.store import sound
from evaltrack.store.connection import reading, transaction
from evaltrack.store.edits import noting, state
from evaltrack.store.room import refuse_overfull

_COLUMNS = "practice, change, was, becomes, tablet, at"
_INSERT = (
    f"INSERT INTO correction (nth, {_COLUMNS}) SELECT coalesce(max(nth), 0) + 1, ?1, ?2, ?3, ?4, ?5, ?6"
    " FROM correction WHERE tablet = ?5"
)

# what keeps a practice from being deleted, and what goes with it
_NOTED = (
    "tally WHERE practice = ?",
    "rep WHERE practice = ?",
    "line_fact WHERE practice = ?",
    "correction WHERE practice = ?",
    "tally_correction WHERE practice = ?1 OR (change = 'practice' AND becomes = ?1)",
)
_ALONG = (
    ("attendance", "practice"),
    ("practice_comment", "practice"),
    ("station", "practice"),
    ("begun", "practice"),
    ("practice", "key"),
)


class Corrections:
    """Every correction of a practice. They only grow; the practices themselves hold what is in force.

    An empty practice, of which nothing is lost, can be deleted.
    """

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def add(self, correction: Correction) -> None:
        """Put a practice right; NotSavedError when it is not on disk."""
        practice, change, was, becomes, tablet, at = astuple(correction)
        row = (practice, change, was.isoformat(), becomes.isoformat(), tablet, at)
        aside = {Amendment.SET_ASIDE: 1, Amendment.BRING_BACK: 0}.get(correction.change)
        with (
            transaction(self._connection),
            noting(self._connection, tablet, at, "practice", practice=practice),
        ):
            self._connection.execute(_INSERT, row)
            self._connection.execute(
                "UPDATE practice SET held_on = ?, aside = coalesce(?, aside) WHERE key = ?",
                (becomes.isoformat(), aside, practice),
            )
            most = sound.MOST_CORRECTIONS
            refuse_overfull(self._connection, "correction", most, "corrections of practices")

    @reading()
    def all(self, practice: str | None = None) -> list[Correction]:
        """Return the corrections of a practice, or of all, as they came."""
        rows = self._connection.execute(
            f"SELECT {_COLUMNS} FROM correction WHERE ?1 IS NULL OR practice = ?1 ORDER BY at, tablet, nth",
            (practice,),
        )
        return [_correction(row) for row in sound.no_more_than(sound.MOST_CORRECTIONS, rows, "corrections")]

    def delete(self, key: str) -> None:
        """Delete a practice in which nothing was noted but who was here, what would be watched, a comment.

        Raises
        ------
        EvaltrackError
            Something was: a tally, though it was taken back, a rep, or a correction.
        """
        with transaction(self._connection):
            self.refuse_to_delete(key)
            for kind in ("practice", "attendance"):
                rows = [register for register in state(self._connection, (kind,), key)]
                gone = "DELETE FROM edit WHERE kind = ? AND key = ? AND field = ?"
                self._connection.executemany(gone, rows)
            for table, column in _ALONG:
                self._connection.execute(f"DELETE FROM {table} WHERE {column} = ?", (key,))

    @reading()
    def refuse_to_delete(self, key: str) -> None:
        """Raise EvaltrackError when anything was noted in a practice."""
        noted = (self._connection.execute(f"SELECT 1 FROM {table} LIMIT 1", (key,)) for table in _NOTED)
        if any(found.fetchone() for found in noted):
            raise EvaltrackError(
                tr(
                    "the practice {key} is not empty: something was noted in it; set it aside instead",
                    key=key,
                )
            )


def _correction(row) -> Correction:
    practice, change, was, becomes, tablet, at = row
    return Correction(
        sound.key(practice, "the practice of a correction"),
        sound.word(Amendment, change, "a correction"),
        sound.day(was, "the day of a correction"),
        sound.day(becomes, "the day of a correction"),
        sound.tablet(tablet),
        sound.moment(at, "the moment of a correction"),
    )
