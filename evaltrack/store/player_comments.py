"""What the staff wrote of a player: each text is a fact, and the last one is in force."""

import sqlite3
from uuid import UUID

from evaltrack.rink.ident import now_ms
from evaltrack.store import sound
from evaltrack.store.clock import next_number
from evaltrack.store.comments import comment_words
from evaltrack.store.connection import reading, transaction
from evaltrack.store.known import known_players
from evaltrack.store.room import refuse_overfull

_WHAT = "a comment on a player"


class PlayerComments:
    """The comments on the players."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def write(self, player: UUID, words: str, tablet: str = "", at: int | None = None) -> None:
        """Note the comment on a player, in the place of the one before; an empty one takes it away.

        Raises
        ------
        EvaltrackError : it is too long.
        NotSavedError : it is not on disk.
        """
        words = comment_words(words)
        moment = now_ms() if at is None else at
        with transaction(self._connection):
            nth = next_number(self._connection, "player_comment", moment, "player = ?", (player.bytes,))
            row = (nth, tablet, player.bytes, words, moment)
            self._connection.execute("INSERT INTO player_comment VALUES (?, ?, ?, ?, ?)", row)
            refuse_overfull(self._connection, "player_comment", sound.MOST_CHANGES, "comments on players")

    @reading()
    def all(self) -> dict[UUID, str]:
        """Return the comment on each player who has one."""
        rows = self._connection.execute("SELECT player, words FROM player_comment ORDER BY nth, tablet")
        rows, known = (
            sound.no_more_than(sound.MOST_CHANGES, rows, "comments"),
            known_players(self._connection),
        )
        found = {
            sound.of(known, player, _WHAT): sound.name(words, _WHAT, sound.LONGEST_TEXT)
            for player, words in rows
        }
        return {player: words for player, words in found.items() if words}
