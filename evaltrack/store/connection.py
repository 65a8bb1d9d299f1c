"""One connection to a season file: its settings, its transactions, and its errors as sentences."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path

from evaltrack.errors import NotSavedError, SeasonFileError

_WAIT_SECONDS = 1.0  # for another process that holds the lock; longer would freeze the board

# the start of SQLite's own name for an error, a part of its text, and what that means to a coach
_REASONS = (
    ("SQLITE_BUSY", "", "another program is using the season file; close it or wait a moment"),
    ("SQLITE_LOCKED", "", "another program is using the season file; close it or wait a moment"),
    ("SQLITE_FULL", "", "the disk is full or failing; make room, then try again"),
    ("SQLITE_IOERR", "", "the disk is full or failing; make room, then try again"),
    ("SQLITE_READONLY", "", "the season file or its folder is read-only; ask for write permission"),
    ("SQLITE_CANTOPEN", "", "the season file or its folder is gone or read-only"),
    ("SQLITE_CORRUPT", "", "the season file is damaged; go back to a backup"),
    ("SQLITE_NOTADB", "", "the season file is damaged; go back to a backup"),
    ("SQLITE_CONSTRAINT_UNIQUE", "player.number", "that number is taken by another player"),
    ("SQLITE_CONSTRAINT_UNIQUE", "rep_slot", "a player cannot be in two slots of one rep"),
    ("SQLITE_CONSTRAINT_UNIQUE", "", "it is there already"),
    ("SQLITE_CONSTRAINT_PRIMARYKEY", "", "it is there already"),
    (
        "SQLITE_CONSTRAINT_FOREIGNKEY",
        "",
        "it names a player, practice, skill, drill, step, observer or rep that the season file does not know",
    ),
    ("SQLITE_CONSTRAINT", "", "a value is missing, or is not one that the season file allows"),
)


def connect(path: Path) -> sqlite3.Connection:
    """Open an existing SQLite file for reading and writing, with foreign keys on and full durability."""
    try:
        connection = sqlite3.connect(
            f"{path.resolve().as_uri()}?mode=rw", uri=True, timeout=_WAIT_SECONDS, isolation_level=None
        )
        try:
            connection.execute("PRAGMA foreign_keys = ON")
            # FULL: a tally that was shown survives a battery that dies, not only a process that dies.
            connection.execute("PRAGMA synchronous = FULL")
        except BaseException:
            connection.close()
            raise
    except sqlite3.Error as error:
        raise SeasonFileError(f'"{path}" cannot be opened: {reason(error)}') from error
    return connection


@contextmanager
def all_or_nothing(connection: sqlite3.Connection) -> Iterator[None]:
    """Commit what a block did, or take all of it back. Errors are passed on as they are."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):  # a full disk has taken the transaction back already
            connection.execute("ROLLBACK")
        raise


@contextmanager
def transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """Write all of a block or nothing of it; NotSavedError when it could not be written.

    Within another transaction the block is a part of that one.
    """
    with writing(), nullcontext() if connection.in_transaction else all_or_nothing(connection):
        yield


@contextmanager
def writing() -> Iterator[None]:
    """Turn a failing write into a NotSavedError that says why."""
    try:
        yield
    except sqlite3.Error as error:
        raise NotSavedError(f"not saved: {reason(error)}") from error


@contextmanager
def reading() -> Iterator[None]:
    """Turn a failing read into a SeasonFileError that says why."""
    try:
        yield
    except sqlite3.Error as error:
        raise SeasonFileError(f"the season file cannot be read: {reason(error)}") from error


def reason(error: sqlite3.Error) -> str:
    """Return why SQLite failed, in words for a coach where there are any."""
    name = getattr(error, "sqlite_errorname", None) or ""
    for start, part, words in _REASONS:
        if name.startswith(start) and part in str(error):
            return words
    return str(error)
