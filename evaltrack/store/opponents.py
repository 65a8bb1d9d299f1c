"""Whom a player met in a rep: who stood in the slot that the player's slot meets."""

import sqlite3

from evaltrack.rink.tally import Tally
from evaltrack.store import sound
from evaltrack.store.known import known_players


class Opponents:
    """Finds the opponent of single tallies, as the cells of all others have it."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection
        rows = connection.execute("SELECT drill, step, key, against FROM slot WHERE against IS NOT NULL")
        rows = sound.no_more_than(sound.MOST_IN_CATALOGUE, rows, "slots")
        self._against = {(drill, step, slot): against for drill, step, slot, against in rows}
        self._players = known_players(connection)

    def of(self, tally: Tally) -> bytes | None:
        """Return the id of the opponent, None where there is none or nobody knows."""
        against = self._against.get((tally.drill, tally.step, tally.slot)) if tally.rep else None
        if against is None:
            return None
        place = (tally.rep.bytes, against)
        # the last word on who stood there, or else who did when the rep began
        later = "SELECT player FROM stood WHERE rep = ? AND slot = ? ORDER BY nth DESC LIMIT 1"
        found = (
            self._connection.execute(later, place).fetchone()
            or self._connection.execute(
                "SELECT player FROM rep_slot WHERE rep = ? AND slot = ?", place
            ).fetchone()
        )
        opponent = found and found[0]
        if opponent is None or opponent == tally.player.bytes:
            return None
        return sound.of(self._players, opponent, "a slot of a rep").bytes
