"""Who was at each practice, and who noted how much there, as the season stands after what was put right."""

import sqlite3
from collections import Counter, defaultdict
from uuid import UUID

from evaltrack.store import sound
from evaltrack.store.as_they_stand import put_right
from evaltrack.store.connection import reading
from evaltrack.store.erased import NAMELESS
from evaltrack.store.known import known_players
from evaltrack.store.tally_rows import NOT_WITHDRAWN

_NOTED = "SELECT a.practice, a.player FROM attendance a WHERE a.here"
_SEEN = (
    f"SELECT DISTINCT t.practice, t.player FROM tally t WHERE {NOT_WITHDRAWN} AND {{}}"
    f" AND t.player NOT IN ({NAMELESS})"
)
# noted at the moment of a tally, which is how loading notes whoever it finds a tally of
_FOR_A_TALLY = (
    "SELECT a.practice, a.player FROM corrected_tally c JOIN tally t ON t.id = c.tally"
    " JOIN attendance a ON a.practice = t.practice AND a.player = t.player AND a.at = t.at WHERE TRUE"
)
_BY_OBSERVER = (
    f"SELECT practice, observer, count(*) FROM tally t WHERE {NOT_WITHDRAWN} AND {{}}"
    " GROUP BY practice, observer"
)


class Turnout:
    """What is worked out at each read, so that a correction that is taken back leaves nothing behind."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    @reading()
    def there(self, *keys: str) -> dict[str, set[UUID]]:
        """Return who was at each of these practices, or at all of them, by its key; also at one set aside.

        Whoever has a tally there was there, noted or not. Whoever was noted as here was there too, unless
        that was noted for a tally alone, and by now all of theirs are somebody else's or count for nothing.
        """
        known = known_players(self._connection)
        with put_right(self._connection) as others:
            seen = self._pairs(f"{_SEEN.format(others.left_out)} AND t.practice", keys, known)
            seen |= {(t.practice, t.player) for t in others.tallies() if not keys or t.practice in keys}
            noted = self._pairs(f"{_NOTED} AND a.practice", keys, known)
            if others.stood:
                noted -= self._pairs(f"{_FOR_A_TALLY} AND a.practice", keys, known) - seen
        found = defaultdict(set)
        for practice, player in noted | seen:
            found[practice].add(player)
        return dict(found)

    @reading()
    def by_observer(self) -> dict[tuple[str, str], int]:
        """Return how many tallies each observer made at each practice, by its key and the name."""
        with put_right(self._connection) as others:
            rows = self._connection.execute(_BY_OBSERVER.format(others.left_out)).fetchall()
            found = Counter((tally.practice, tally.observer) for tally in others.tallies())
        for practice, observer, count in rows:
            key = sound.key(practice, "the practice of a tally"), sound.observer(observer)
            found[key] += sound.whole(count, "a count of tallies", high=sound.MOST_TALLIES)
        return dict(found)

    def _pairs(self, select: str, keys: tuple[str, ...], known: dict[bytes, UUID]) -> set[tuple[str, UUID]]:
        """Run a select that ends in the column of the practice."""
        wanted = f"{select} IN ({', '.join('?' * len(keys))})" if keys else f"{select} IS NOT NULL"
        rows = self._connection.execute(wanted, keys)
        return {
            (sound.key(practice, "a practice"), sound.of(known, player, "a player at a practice"))
            for practice, player in rows
        }
