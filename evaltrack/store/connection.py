"""One connection to a season file: its settings, its transactions, and its errors as sentences."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path

from evaltrack.errors import NotSavedError, SeasonFileError

_WAIT_SECONDS = 1.0  # for another process that holds the lock, off the bench
BENCH_WAIT = 0.25  # longer than a whole season's tallies take to load, shorter than a tap that seems lost
_WAIT_AGAIN = 0.05  # while the lock is still held: the taps after the first must not pile up

_GONE = "the season file is gone; bring it back to its place"
_ANOTHER = "another file lies in the season file's place; take it away, and bring the season file back"
_APART = "the journal beside the season file was deleted; close the season file and open it again"
_UNSOUND = ("SQLITE_IOERR", "SQLITE_CANTOPEN")  # a connection that met these starts anew

# the start of SQLite's own name for an error, a part of its text, and what that means to a coach
_REASONS = (
    ("SQLITE_BUSY", "", "another program is using the season file; close it or wait a moment"),
    ("SQLITE_LOCKED", "", "another program is using the season file; close it or wait a moment"),
    ("SQLITE_FULL", "", "the disk is full; make room on it"),
    ("SQLITE_IOERR", "", "the disk is full or failing; make room on it, or put it back"),
    ("SQLITE_READONLY", "", "the season file or its folder is read-only; ask for write permission"),
    ("SQLITE_CANTOPEN", "", "the season file or its folder is gone or read-only"),
    ("SQLITE_CORRUPT", "", "the season file is damaged; go back to a backup"),
    ("SQLITE_NOTADB", "", "the season file is damaged; go back to a backup"),
    ("SQLITE_CONSTRAINT_UNIQUE", "player.number", "that number is taken by another player"),
    ("SQLITE_CONSTRAINT_UNIQUE", "rep_slot", "a player cannot be in two slots of one rep"),
    ("SQLITE_CONSTRAINT_UNIQUE", "", "it is there already"),
    ("SQLITE_CONSTRAINT_PRIMARYKEY", "", "it is there already"),
    ("SQLITE_CONSTRAINT_FOREIGNKEY", "", "it names a player or something else unknown to the season file"),
    ("SQLITE_CONSTRAINT", "", "a value is missing, or is not one that the season file allows"),
)


class FileConnection(sqlite3.Connection):
    """A connection that knows whether its file is still there, and how long to wait for others.

    A file that was deleted or moved goes on taking writes, and nobody will ever find them: SQLite does not
    look again for a file that it has open. So each write looks first.
    """

    unsound = False  # it was closed, or has met a failing disk, and will not get well by itself
    _closed = False
    _wait = _WAIT_SECONDS
    _waited = False
    _path = ""
    _file: "_Identity" = None
    _journal: "_Identity" = None

    def hold(self, path: Path, wait: float) -> None:
        """Remember the file and its journal as they lie there now, and wait that many seconds for others."""
        self.execute("PRAGMA user_version").fetchone()  # the first read makes the journal
        self._path = str(path.resolve())
        self._file, self._journal = self._found()
        self._wait = wait
        self._be_patient(wait)

    def close(self) -> None:
        """Close the connection; what is in the journal goes into the file."""
        self.unsound = self._closed = True
        super().close()

    def may_return(self) -> bool:
        """Say whether opening the file anew could mend what is wrong with the connection."""
        file, journal = self._found()
        # our journal beside another file would be played into that one, and damage it
        mixed = file != self._file and journal is not None and journal == self._journal
        return file is not None and not mixed and (self.unsound or journal != self._journal)

    def save_journal(self) -> None:
        """Write what only a deleted journal holds back into the file, before the connection is closed.

        Raises
        ------
        sqlite3.OperationalError
            Another program has the file open, with the same deleted journal: a new one beside it would
            damage the file.
        """
        file, journal = self._found()
        if self._closed or file != self._file or journal == self._journal:
            return
        self.execute("PRAGMA wal_checkpoint(FULL)").fetchone()
        self.execute("PRAGMA journal_mode = DELETE").fetchone()  # only whoever is alone may do this

    def refuse_lost(self) -> None:
        """Raise NotSavedError when a write would go where nobody finds it."""
        if not self._path or (found := self._found()) == (self._file, self._journal):
            return
        why = _GONE if found[0] is None else _APART if found[0] == self._file else _ANOTHER
        raise NotSavedError(f"not saved: {why}")

    def _found(self) -> tuple["_Identity", "_Identity"]:
        return _identity(self._path), _identity(f"{self._path}-wal")

    def met(self, error: sqlite3.Error) -> None:
        """Remember an error that bears upon the next write."""
        name = getattr(error, "sqlite_errorname", None) or ""
        self.unsound |= name.startswith(_UNSOUND)
        if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")) and not self._waited:
            self._waited = True
            self._be_patient(min(self._wait, _WAIT_AGAIN))

    def went_well(self) -> None:
        """Wait as long as ever again, now that nobody holds the lock."""
        if self._waited:
            self._waited = False
            self._be_patient(self._wait)

    def _be_patient(self, seconds: float) -> None:
        self.execute(f"PRAGMA busy_timeout = {round(1000 * seconds)}")


_Identity = tuple[int, int] | None


def _identity(path: str) -> _Identity:
    """Return what tells a file from another one of the same name; None when there is none."""
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_dev, found.st_ino


def connect(path: Path) -> FileConnection:
    """Open an existing SQLite file for reading and writing, with foreign keys on and full durability."""
    try:
        connection = sqlite3.connect(
            f"{path.resolve().as_uri()}?mode=rw",
            uri=True,
            timeout=_WAIT_SECONDS,
            isolation_level=None,
            factory=FileConnection,
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
def transaction(connection: FileConnection) -> Iterator[None]:
    """Write all of a block or nothing of it; NotSavedError when it could not be written.

    Within another transaction the block is a part of that one.
    """
    with writing(connection), nullcontext() if connection.in_transaction else all_or_nothing(connection):
        yield


@contextmanager
def writing(connection: FileConnection) -> Iterator[None]:
    """Turn a failing write, or one that nobody would find, into a NotSavedError that says why."""
    connection.refuse_lost()
    try:
        yield
    except sqlite3.Error as error:
        connection.met(error)
        raise NotSavedError(f"not saved: {reason(error)}") from error
    connection.went_well()


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
    return "the season file is closed" if isinstance(error, sqlite3.ProgrammingError) else str(error)
