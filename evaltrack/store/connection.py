"""One connection to a season file: its settings, its transactions, and its errors as sentences."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from evaltrack.errors import NotSavedError, SeasonFileError

_WAIT_SECONDS = 1.0  # for another process that holds the lock; longer would freeze the board


def connect(path: Path) -> sqlite3.Connection:
    """Open an existing SQLite file for reading and writing, with foreign keys on and full durability."""
    try:
        connection = sqlite3.connect(
            f"{path.resolve().as_uri()}?mode=rw", uri=True, timeout=_WAIT_SECONDS, isolation_level=None
        )
        connection.execute("PRAGMA foreign_keys = ON")
        # FULL: a tally that was shown survives a battery that dies, not only a process that dies.
        connection.execute("PRAGMA synchronous = FULL")
    except sqlite3.Error as error:
        raise SeasonFileError(f'"{path}" cannot be opened: {error}') from error
    return connection


@contextmanager
def transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """Write all of a block or nothing of it; NotSavedError when it could not be written."""
    with writing():
        connection.execute("BEGIN IMMEDIATE")
    try:
        with writing():
            yield
            connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


@contextmanager
def writing() -> Iterator[None]:
    """Turn a failing write into a NotSavedError that says why."""
    try:
        yield
    except sqlite3.Error as error:
        raise NotSavedError(f"not saved: {_reason(error)}") from error


def _reason(error: sqlite3.Error) -> str:
    text = str(error)
    if "locked" in text or "busy" in text:
        return "another program is writing to the season file; close it or wait a moment"
    if "disk is full" in text or "disk I/O" in text:
        return "the disk is full or failing; make room, then tap again"
    if "readonly" in text:
        return "the season file may not be written to; ask for write permission"
    return text
