"""One connection to a season file: its settings, its transactions, and its errors as sentences."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from math import inf
from pathlib import Path
from threading import local
from time import thread_time

from evaltrack.device.system_words import FULL
from evaltrack.errors import NotSavedError, SeasonFileError
from evaltrack.language import mark, tr
from evaltrack.rink.plain_text import one_line
from evaltrack.store.on_disk.held_file import BUSY_SECONDS, FileConnection

BENCH_WAIT = 0.25  # longer than a whole season's tallies take to load, shorter than a tap that seems lost

_LONGEST = 1_000_000  # bytes of one row; a longer one was not written by us
# pages that lead to one another in a circle, or all to the same one, would be read without end
_READ_SECONDS, _READ_SPEED = 0.5, 5_000_000  # at most, of the processor; and one more for so many bytes
_CHECK_EVERY = 20_000  # instructions of SQLite's machine, some tenths of a millisecond
_SETTINGS = (
    "foreign_keys = ON",
    # FULL: a tally that was shown survives a battery that dies, not only a process that dies
    "synchronous = FULL",
    # only the process that has the season in hand makes checkpoints (see `held_file`)
    "wal_autocheckpoint = 0",
    # a file may come from anywhere: nothing in it may call functions, and its cells are looked at
    "trusted_schema = OFF",
    "cell_size_check = ON",
    "mmap_size = 0",
)

# the start of SQLite's own name for an error, a part of its text, and what that means to a coach
_REASONS = (
    ("SQLITE_BUSY", "", mark("another program is using the season file; close it or wait a moment")),
    ("SQLITE_LOCKED", "", mark("another program is using the season file; close it or wait a moment")),
    ("SQLITE_FULL", "", FULL),
    ("SQLITE_IOERR", "", mark("the disk is full or failing; make room on it, or put it back")),
    ("SQLITE_READONLY", "", mark("the season file or its folder is read-only; ask for write permission")),
    ("SQLITE_CANTOPEN", "", mark("the season file or its folder is gone or read-only")),
    ("SQLITE_CORRUPT", "", mark("the season file is damaged; go back to a backup")),
    ("SQLITE_NOTADB", "", mark("the season file is damaged; go back to a backup")),
    (
        "SQLITE_INTERRUPT",
        "",
        mark("the season file is damaged: its parts lead in a circle; go back to a backup"),
    ),
    ("SQLITE_TOOBIG", "", mark("the season file holds a value that is far too long; go back to a backup")),
    ("SQLITE_CONSTRAINT_UNIQUE", "player.number", mark("that number is taken by another player")),
    ("SQLITE_CONSTRAINT_UNIQUE", "rep_slot", mark("a player cannot be in two slots of one rep")),
    ("SQLITE_CONSTRAINT_UNIQUE", "", mark("it is there already")),
    ("SQLITE_CONSTRAINT_PRIMARYKEY", "", mark("it is there already")),
    (
        "SQLITE_CONSTRAINT_FOREIGNKEY",
        "",
        mark("it names a player or something else unknown to the season file"),
    ),
    ("SQLITE_CONSTRAINT", "", mark("a value is missing, or is not one that the season file allows")),
)
_NO_TEXT = "Could not decode to UTF-8"  # how Python begins to say that a text is none
# Python fails to decode what SQLite says of a file in which a name is no text, and to encode half a letter
FAILURES = (sqlite3.Error, UnicodeError)


def connect(path: Path) -> FileConnection:
    """Open an existing SQLite file for reading and writing, with foreign keys on and full durability."""
    try:
        connection = sqlite3.connect(
            f"{path.resolve().as_uri()}?mode=rw",
            uri=True,
            timeout=BUSY_SECONDS,
            isolation_level=None,
            factory=FileConnection,
        )
        try:
            for setting in _SETTINGS:
                connection.execute(f"PRAGMA {setting}")
            connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, _LONGEST)
            _end_endless_reads(connection, path)
        except BaseException:
            connection.close()
            raise
    except FAILURES as error:
        raise SeasonFileError(
            tr('"{path}" cannot be opened: {reason}', path=path, reason=reason(error))
        ) from error
    return connection


class _Reading(local):
    """When the read began that a thread is in, by the processor's time."""

    since = inf


_reading = _Reading()


def _end_endless_reads(connection: sqlite3.Connection, path: Path) -> None:
    most = _READ_SECONDS + path.stat().st_size / _READ_SPEED
    connection.set_progress_handler(lambda: thread_time() - _reading.since > most, _CHECK_EVERY)


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
def transaction(connection: FileConnection) -> Iterator[None]:
    """Write all of a block or nothing of it; NotSavedError when it could not be written.

    Within another transaction the block is a part of that one.
    """
    if connection.in_transaction:
        with writing(connection, alone=False):
            yield
        return
    with writing(connection, alone=False), all_or_nothing(connection):
        connection.mark_wal(again=True)
        yield


@contextmanager
def writing(connection: FileConnection, alone: bool = True) -> Iterator[None]:
    """Turn a failing write, or one that nobody would find, into a NotSavedError that says why.

    ``alone`` says that the write is a single statement, a transaction of its own.
    """
    connection.refuse_lost()
    try:
        if alone and not connection.in_transaction:
            connection.mark_wal()
        yield
    except FAILURES as error:
        connection.met(error)
        raise NotSavedError(tr("not saved: {reason}", reason=reason(error))) from error
    connection.went_well()
    connection.refuse_lost(again=True)


@contextmanager
def reading() -> Iterator[None]:
    """Turn a failing read into a SeasonFileError that says why; end one that would never end."""
    before = _reading.since
    _reading.since = min(before, thread_time())
    try:
        yield
    except FAILURES as error:
        raise SeasonFileError(tr("the season file cannot be read: {reason}", reason=reason(error))) from error
    finally:
        _reading.since = before


@contextmanager
def one_view(connection: sqlite3.Connection) -> Iterator[None]:
    """Let all reads of a block see the file as it is at the first of them, whoever writes meanwhile."""
    if connection.in_transaction:
        yield
        return
    connection.execute("BEGIN")
    try:
        yield
    finally:
        with suppress(sqlite3.Error):
            connection.execute("COMMIT")


def reason(error: sqlite3.Error | UnicodeError) -> str:
    """Return why SQLite failed, in words for a coach where there are any."""
    name = getattr(error, "sqlite_errorname", None) or ""
    for start, part, words in _REASONS:
        if name.startswith(start) and part in str(error):
            return tr(words)
    if isinstance(error, UnicodeEncodeError):
        return tr("a text has a sign in it that is none; write it anew")
    if isinstance(error, UnicodeDecodeError) or str(error).startswith(_NO_TEXT):
        return tr("the season file is damaged; go back to a backup")
    return (
        tr("the season file is closed")
        if isinstance(error, sqlite3.ProgrammingError)
        else one_line(str(error))
    )
