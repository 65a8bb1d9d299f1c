"""The migrations that bring a season file up to date, each named by what it does."""

import sqlite3

from sqlite_utils import Database, Migrations

from evaltrack.store import schema
from evaltrack.store.connection import all_or_nothing

season_migrations = Migrations("evaltrack")


@season_migrations()
def create_season_tables(db: Database) -> None:
    """Make the tables of the first version."""
    _run(db, 1)
    db.execute(f"PRAGMA application_id = {schema.APPLICATION_ID}")


@season_migrations()
def keep_the_lines_of_players(db: Database) -> None:
    """Make room for the rotation of players through the slots, and for the tablet that keeps it."""
    _run(db, 2)


@season_migrations()
def keep_what_can_be_put_right(db: Database) -> None:
    """Order a tablet's facts by being written; know slots, corrections, and whose the WAL is."""
    _run(db, 3)


@season_migrations()
def know_who_meets_whom(db: Database) -> None:
    """Let a slot name the slot that it meets; know who stood there after a slot was put right."""
    _run(db, 4)


@season_migrations()
def change_a_running_season(db: Database) -> None:
    """Put tallies right, comment, let players leave and skills retire; keep every change."""
    _run(db, 5)


@season_migrations()
def plan_steps_and_absences(db: Database) -> None:
    """Know where a step is planned on the ice, and until when a player who is away is expected to be."""
    _run(db, 6)


@season_migrations()
def know_who_plays_both(db: Database) -> None:
    """Know who plays defence and forward."""
    _run(db, 7)


@season_migrations()
def keep_plans_of_practices(db: Database) -> None:
    """Keep the plans of practices, each change of one as a plan of its own."""
    _run(db, 8)


@season_migrations()
def share_a_season_among_tablets(db: Database) -> None:
    """Keep every value of what several tablets may change, and what they began without each other."""
    _run(db, 9)


def migrate(connection: sqlite3.Connection) -> None:
    """Apply every pending migration in one transaction.

    A migration that fails, or a battery that dies during it, leaves the file in the version it had: one that
    an older evaltrack can still open.
    """
    db = Database(connection)
    with all_or_nothing(connection):
        season_migrations.apply(db)
        connection.execute(f"PRAGMA user_version = {len(season_migrations.applied(db))}")


def _run(db: Database, version: int) -> None:
    for statement in schema.statements(version):
        db.execute(statement)
