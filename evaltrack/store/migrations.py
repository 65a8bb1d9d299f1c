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
def keep_families_notes(db: Database) -> None:
    """Keep what is done to the families' pages: edits, readings, prints, what was agreed."""
    _run(db, 9)


@season_migrations()
def keep_meetings_with_families(db: Database) -> None:
    """Keep evenings of meetings, each change of one as an evening of its own, and who came."""
    _run(db, 10)


@season_migrations()
def keep_wishes_and_contact(db: Database) -> None:
    """Keep what is wished of two players with a plan; let a step say whether it has contact."""
    _run(db, 11)


@season_migrations()
def share_a_season_among_tablets(db: Database) -> None:
    """Keep every value of what several tablets may change, and what they began without each other."""
    _run(db, 12)


@season_migrations()
def know_a_loan(db: Database) -> None:
    """Know a season file that is lent to a helper's tablet, and until when."""
    _run(db, 13)


@season_migrations()
def keep_what_becomes_of_a_season(db: Database) -> None:
    """Keep until when names are kept, and that the season was closed; comments; let people read along."""
    _run(db, 14)


def migrate(connection: sqlite3.Connection) -> None:
    """Apply every pending migration in one transaction.

    A migration that fails, or a battery that dies during it, leaves the file in the version it had: one that
    an older evaltrack can still open.
    """
    db = Database(connection)
    with all_or_nothing(connection):
        season_migrations.apply(db)
        connection.execute(f"PRAGMA user_version = {len(season_migrations.applied(db))}")


def make_version(connection: sqlite3.Connection, version: int) -> None:
    """Make an empty season file of an earlier version, or of the present one, as it was made then."""
    db = Database(connection)
    later = [one.name for one in season_migrations.pending(db)][version:]
    with all_or_nothing(connection):
        season_migrations.apply(db, stop_before=later[:1])
        connection.execute(f"PRAGMA user_version = {version}")


def _run(db: Database, version: int) -> None:
    for statement in schema.statements(version):
        db.execute(statement)
