"""The steps that bring a season file up to date, each named by what it does and run in one transaction."""

import sqlite3

from sqlite_utils import Database, Migrations

from evaltrack.store.schema import APPLICATION_ID, SEASON_TABLES

steps = Migrations("evaltrack")


@steps()
def create_season_tables(db: Database) -> None:
    """Make the tables of the first version."""
    for statement in _statements(SEASON_TABLES):
        db.execute(statement)
    db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    db.execute("PRAGMA user_version = 1")


def migrate(connection: sqlite3.Connection) -> None:
    """Apply every pending step; a step that fails leaves the file as it was before that step."""
    steps.apply(Database(connection))


def _statements(script: str) -> list[str]:
    # executescript() would commit first, and so break the step's transaction
    without_comments = "\n".join(line.split("--")[0] for line in script.splitlines())
    return [text for text in without_comments.split(";") if text.strip()]
