"""Players who were erased. Only their ids are kept, for ever: no pack and no backup is to bring them back."""

import sqlite3
from collections.abc import Iterable
from uuid import UUID

from evaltrack.store import sound

MOST = 10 * sound.MOST_PLAYERS
# those whose tries stay in the figures although nobody knows whose they were: no list has them
NAMELESS = "SELECT p.id FROM player p JOIN erased e ON e.player = p.id WHERE p.name = ''"


def note_erased(connection: sqlite3.Connection, players: Iterable[UUID]) -> None:
    """Keep that these players are never to come back, within the caller's transaction.

    Every pack carries it, and every join leaves out what names them. What their fields were is forgotten
    here; taking their facts out of the file is the caller's, and withdrawing tallies that were noted for
    others and put right to be theirs: a join leaves such corrections out, and a withdrawal wins everywhere.
    """
    for player in players:
        connection.execute("INSERT INTO erased VALUES (?) ON CONFLICT (player) DO NOTHING", (player.bytes,))
        for table in ("edit", "lost_edit"):  # from which the next join would make the player anew
            connection.execute(
                f"DELETE FROM {table} WHERE kind IN ('player', 'attendance') AND instr(key, ?)", (player.hex,)
            )


def erased_players(connection: sqlite3.Connection) -> frozenset[bytes]:
    """Return the ids of those who are never to come back."""
    rows = sound.no_more_than(MOST, connection.execute("SELECT player FROM erased"), "erased players")
    return frozenset(raw for (raw,) in rows)


def erased_but_here(connection: sqlite3.Connection) -> list[UUID]:
    """Return who was erased on another tablet, and stands in this file still, with a name."""
    here = f"SELECT id FROM player WHERE id IN (SELECT player FROM erased) AND id NOT IN ({NAMELESS})"
    rows = connection.execute(here).fetchall()
    return sorted(sound.ident(raw, "the id of a player") for (raw,) in rows)
