"""A season file of the present version taken back to version 8, from which older tests go on."""

import sqlite3

from evaltrack.store.schema import SCHEMA_VERSION

_TABLES = ("edit", "lost_edit", "begun", "erased", "foreign_fact")


def back_to_version_eight(file: sqlite3.Connection) -> None:
    """Take away what version 9 has added; the connection commits each statement by itself."""
    assert SCHEMA_VERSION == 9, "take away here what the newer version adds"
    for table in _TABLES:
        file.execute(f"DROP TABLE {table}")
    for column in ("clock", "tablet"):
        file.execute(f"ALTER TABLE definition DROP COLUMN {column}")
    file.execute("DELETE FROM _sqlite_migrations WHERE name = 'share_a_season_among_tablets'")
    file.execute("PRAGMA user_version = 8")
