"""Season files as older versions had them: what later versions have added is taken out again."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path

from evaltrack.store import migrations
from evaltrack.store.schema import SCHEMA_VERSION, statements

ADDING_ONLY = (
    6  # versions from this one on only add tables, views and columns, so that these can be taken out
)
_TABLE = re.compile(r"CREATE TABLE (\w+)")
_VIEW = re.compile(r"CREATE VIEW (\w+)")
_COLUMN = re.compile(r"ALTER TABLE (\w+) ADD COLUMN (\w+)")


def make_older(path: Path, version: int) -> None:
    """Make a closed season file into one of an older version, with all that it could hold then."""
    assert ADDING_ONLY - 1 <= version < SCHEMA_VERSION
    added = [each.strip() for newer in range(version + 1, SCHEMA_VERSION + 1) for each in statements(newer)]
    names = [one.name for one in migrations.season_migrations.pending(migrations.Database(memory=True))]
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        for statement in reversed(added):
            if view := _VIEW.match(statement):
                file.execute(f"DROP VIEW {view[1]}")
            elif table := _TABLE.match(statement):
                file.execute(f"DROP TABLE {table[1]}")
            elif column := _COLUMN.match(statement):
                file.execute(f"ALTER TABLE {column[1]} DROP COLUMN {column[2]}")
        file.executemany("DELETE FROM _sqlite_migrations WHERE name = ?", [(one,) for one in names[version:]])
        file.execute(f"PRAGMA user_version = {version}")
