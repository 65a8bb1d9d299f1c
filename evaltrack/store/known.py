"""The players, skills and steps that a season file knows, for the rows that name them."""

import sqlite3
from uuid import UUID

from evaltrack.store import sound


def known_players(connection: sqlite3.Connection) -> dict[bytes, UUID]:
    """Return the ids of the players, by the bytes that stand for them in other rows."""
    rows = sound.no_more_than(sound.MOST_PLAYERS, connection.execute("SELECT id FROM player"), "players")
    return {raw: sound.ident(raw, "the id of a player") for (raw,) in rows}


def known_skills(connection: sqlite3.Connection) -> dict[str, int]:
    """Return the version in force of each skill, by its key."""
    rows = connection.execute("SELECT key, version FROM skill")
    found = sound.no_more_than(sound.MOST_IN_CATALOGUE, rows, "skills")
    return {key: sound.whole(version, "the version of a skill", low=1) for key, version in found}


def known_steps(connection: sqlite3.Connection) -> set[tuple[str, str]]:
    """Return the keys of drill and step, of every step of a drill."""
    rows = connection.execute("SELECT s.drill, s.key FROM step s JOIN drill d ON d.key = s.drill")
    return set(sound.no_more_than(sound.MOST_IN_CATALOGUE, rows, "steps"))
