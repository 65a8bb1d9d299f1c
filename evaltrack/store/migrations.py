"""The steps that bring a season file up to date, each named by what it does."""

import sqlite3

from sqlite_utils import Database, Migrations

from evaltrack.store.connection import all_or_nothing
from evaltrack.store.schema import APPLICATION_ID, LINE_TABLES, SEASON_TABLES

steps = Migrations("evaltrack")


@steps()
def create_season_tables(db: Database) -> None:
    """Make the tables of the first version."""
    for statement in _statements(SEASON_TABLES):
        db.execute(statement)
    db.execute(f"PRAGMA application_id = {APPLICATION_ID}")


@steps()
def keep_the_lines_of_players(db: Database) -> None:
    """Make room for the lines behind the slots, and for the tablet that keeps them."""
    for statement in _statements(LINE_TABLES):
        db.execute(statement)


def migrate(connection: sqlite3.Connection) -> None:
    """Apply every pending step in one transaction.

    A step that fails, or a battery that dies meanwhile, leaves the file in the version it had: one that
    an older evaltrack can still open.
    """
    db = Database(connection)
    with all_or_nothing(connection):
        steps.apply(db)
        connection.execute(f"PRAGMA user_version = {len(steps.applied(db))}")


def _statements(script: str) -> list[str]:
    # executescript() would commit first, and so break the transaction
    without_comments = "\n".join(line.split("--")[0] for line in script.splitlines())
    return [text for text in without_comments.split(";") if text.strip()]
