"""Season files of older versions, made from one of today: what later versions brought is taken out again."""

import sqlite3
from contextlib import closing
from pathlib import Path

# by version: the migration's name, and what undoes it, of what names other tables first
_UNDONE = {
    9: ("keep_wishes_and_contact", ["DROP TABLE plan_wish", "ALTER TABLE step DROP COLUMN contact"]),
    8: (
        "keep_plans_of_practices",
        [
            f"DROP TABLE {table}"
            for table in (
                *("ice_time", "plan_reason", "plan_look", "plan_place", "plan_station", "plan_block"),
                "practice_plan",
            )
        ],
    ),
    7: ("know_who_plays_both", ["ALTER TABLE player DROP COLUMN also"]),
    6: (
        "plan_steps_and_absences",
        [
            f"ALTER TABLE {table} DROP COLUMN {column}"
            for table, column in (
                *(("player", "away_until"), ("step", "surface")),
                *(("slot", "along"), ("slot", "across")),
            )
        ],
    ),
}


def make_older(path: Path, version: int) -> None:
    """Make a closed season file one of an older version, from 5 on, with the rows that it has."""
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        for later in sorted((one for one in _UNDONE if one > version), reverse=True):
            name, statements = _UNDONE[later]
            for statement in statements:
                file.execute(statement)
            file.execute("DELETE FROM _sqlite_migrations WHERE name = ?", (name,))
        file.execute(f"PRAGMA user_version = {version}")
