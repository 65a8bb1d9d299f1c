"""What the staff wrote of a practice: each text is a fact, and the last one is in force."""

import sqlite3

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.ident import now_ms
from evaltrack.store import sound
from evaltrack.store.clock import next_number
from evaltrack.store.connection import reading, transaction
from evaltrack.store.room import refuse_overfull


class Comments:
    """The comments of the practices."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def write(self, practice: str, words: str, tablet: str = "", at: int | None = None) -> None:
        """Note the comment of a practice, in the place of the one before; an empty one takes it away.

        Raises
        ------
        EvaltrackError
            It is too long.
        NotSavedError
            It is not on disk.
        """
        words = comment_words(words)
        moment = now_ms() if at is None else at
        with transaction(self._connection):
            same = "practice = ?", (practice,)
            nth = next_number(self._connection, "practice_comment", moment, *same)
            row = (nth, tablet, practice, words, moment)
            self._connection.execute("INSERT INTO practice_comment VALUES (?, ?, ?, ?, ?)", row)
            refuse_overfull(self._connection, "practice_comment", sound.MOST_OF_PRACTICE, "comments")

    @reading()
    def all(self) -> dict[str, str]:
        """Return the comment of each practice that has one, by its key."""
        rows = self._connection.execute("SELECT practice, words FROM practice_comment ORDER BY nth, tablet")
        rows = sound.no_more_than(sound.MOST_OF_PRACTICE, rows, "comments")
        found = {
            sound.key(key, "the practice of a comment"): sound.name(words, "a comment", sound.LONGEST_TEXT)
            for key, words in rows
        }
        return {key: words for key, words in found.items() if words}


def comment_words(typed: str) -> str:
    """Return a comment in one line; EvaltrackError when it is too long."""
    words = " ".join(typed.split())
    if len(words) > sound.LONGEST_TEXT:
        most = sound.LONGEST_TEXT
        raise EvaltrackError(tr("a comment has {most} characters at most; make it shorter", most=most))
    return words
