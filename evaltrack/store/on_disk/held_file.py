"""The season file under an open connection: whether it still lies where it was opened, and is whole alone."""

import os
import sqlite3
from pathlib import Path
from time import sleep

from evaltrack.errors import NotSavedError
from evaltrack.language import mark, tr
from evaltrack.store.on_disk.open_here import OnDisk, note_open, on_disk, place_of

BUSY_SECONDS = 1.0  # of SQLite's busy timeout, off the bench: while another process holds the lock
_BUSY_AGAIN = 0.05  # while the lock is still held: the taps after the first must not pile up

_GONE = mark("the season file is gone; bring it back to its place")
_ANOTHER = mark("another file lies in the season file's place; take it away, and bring the season file back")
_OVERWRITTEN = mark(
    "another program has written over the season file while it was open; keep what lies "
    "there and beside it, and bring the season file back from a copy"
)
_APART = mark("the journal beside the season file was deleted; close the season file and open it again")
_ATTEMPTS, _PAUSE = 5, 0.02  # another program may be writing into the file just now
_UNSOUND = ("SQLITE_IOERR", "SQLITE_CANTOPEN")  # after these a connection has to be opened again
_MARK = "UPDATE epoch SET before = epoch, epoch = randomblob(16) RETURNING epoch"


class FileConnection(sqlite3.Connection):
    """A connection that knows whether its file is still there, and how long to wait for others.

    A file that was deleted, moved or written over goes on taking writes, and nobody will ever find them:
    SQLite does not look again for a file that it has open. So each write looks first, and once more when it
    is done. While the file is held, nobody but this connection writes into the file itself, all others only
    into its WAL: the file is known by its size and time too, and looked at when these change.
    """

    unsound = False  # it was closed, or has met a failing disk, and will not get well by itself
    _closed = False
    _busy_timeout = BUSY_SECONDS
    _was_busy = False
    _marked = False
    _writes = 0  # since the last checkpoint
    _version = None  # of what others have written, then
    _epochs: frozenset[bytes | None] = frozenset()  # of the file at the last checkpoint, and since
    _path = ""
    _paths = "", ""
    _held: OnDisk = None

    def hold(self, path: Path, wait: float) -> None:
        """Remember the file and what lies beside it as they are now; wait that many seconds for others."""
        self.execute("PRAGMA user_version").fetchone()  # the first read makes the WAL
        self._path = str(path.resolve())
        self._paths = f"{self._path}-wal", f"{self._path}-shm"
        self._held = self._found()
        self._busy_timeout = wait
        self._set_busy_timeout(wait)
        # a WAL that is there already may be one that a stopped program left
        left = self.wal_size > 0
        self._version = None if left else self.data_version()
        self._epochs = frozenset({self._epochs_now()[0], self._epoch_alone() if left else None})
        note_open(self._held.place, 1)

    def close(self) -> None:
        """Close the connection. What is in the WAL stays there, unless there was a checkpoint before."""
        self.unsound = True
        if not self._closed and self._path:
            note_open(self._held.place, -1)
            # or SQLite would make a checkpoint, without a mark, and into whatever lies there now
            self.interrupt()
        self._closed = True
        super().close()

    def may_return(self) -> bool:
        """Say whether opening the file again could mend what is wrong with the connection."""
        found, held = self._looked_up(), self._held
        # our WAL beside another file would be played into that one, and damage it
        mixed = found.place != held.place and found.wal is not None and found.wal == held.wal
        return found.place is not None and not mixed and (self.unsound or found != held)

    def save_wal(self) -> None:
        """Write what only a deleted WAL holds into the file, before the connection is closed.

        Raises
        ------
        sqlite3.OperationalError
            Another program has the file open, with the same deleted WAL: a new one beside it would damage
            the file.
        """
        found, held = self._looked_up(), self._held
        if self._closed or found.file != held.file or found.beside == held.beside:
            return
        if found.wal != held.wal:
            self.execute("PRAGMA wal_checkpoint(FULL)").fetchone()
            self._held = held._replace(file=self._found().file)
        try:
            self.execute("PRAGMA journal_mode = DELETE").fetchone()  # only the last connection may do this
        except sqlite3.OperationalError as error:
            # where only the index was deleted another program may have made the checkpoint
            if found.wal != held.wal or not (error.sqlite_errorname or "").startswith("SQLITE_IOERR"):
                raise

    def checkpoint(self, empty: bool = False, wait: bool = True) -> bool:
        """Write the WAL into the file (SQLite's checkpoint), and say whether the file alone is whole now.

        Only for the process with the claim on the file: with SQLite before 3.51.3 two connections that write
        and restart the WAL at the same instant can damage it.

        Parameters
        ----------
        empty : leave nothing in the WAL. Without it the WAL keeps its room on the disk, into which the next
            tallies go much quicker than where it has to grow.
        wait : wait for others who read or write just now, as long as the busy timeout.
        """
        if self.in_transaction or self._looked_up() != self._held:
            return False
        mode = "TRUNCATE" if empty else "RESTART"
        try:
            self._set_busy_timeout(self._busy_timeout if wait else 0)
            self.mark_wal(again=True)  # an older copy of the WAL does not belong to the file any more
            version = self.data_version()  # what others write from here on is not in the file
            busy, frames, written = self.execute(f"PRAGMA wal_checkpoint({mode})").fetchone()
        finally:  # a disk that is full may have stopped it halfway: that is our own doing all the same
            self._set_busy_timeout(self._busy_timeout)
            self._held = self._held._replace(file=self._found().file)
            self._marked = False  # the WAL may be restarted by the next write
        whole = not busy or frames == written >= 0  # -1: another program makes a checkpoint just now
        if whole:
            self._writes, self._version = 0, version
            self._epochs = frozenset(self._epochs_now()[:1])
        return whole

    @property
    def waiting(self) -> int:
        """Return how many writes wait in the WAL, those of other programs counted as one."""
        return self._writes + (self.data_version() != self._version)

    @property
    def wal_size(self) -> int:
        """Return how many bytes the WAL has."""
        try:
            return os.stat(f"{self._path}-wal").st_size
        except OSError:
            return 0

    def mark_wal(self, again: bool = False) -> None:
        """Say in the WAL whose it is, unless that was done since the last checkpoint (see `journals`)."""
        if self._path and (again or not self._marked):
            self._epochs |= {self.execute(_MARK).fetchone()[0]}
            self._marked = True

    def refuse_lost(self, again: bool = False) -> None:
        """Raise NotSavedError when a write would go where nobody finds it; ``again``, when it went there."""
        if not self._path or self._is_as_held(whole=not again):
            return
        found, held = self._looked_up(), self._held
        if found == held:
            return
        if found.place is None:
            raise _unsaved(_GONE)
        if found.place != held.place:
            raise _unsaved(_ANOTHER)
        raise _unsaved(_APART if found.file == held.file else _OVERWRITTEN)

    def met(self, error: sqlite3.Error) -> None:
        """Remember an error that matters for the next write."""
        name = getattr(error, "sqlite_errorname", None) or ""
        self.unsound |= name.startswith(_UNSOUND)
        if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")) and not self._was_busy:
            self._was_busy = True
            self._set_busy_timeout(min(self._busy_timeout, _BUSY_AGAIN))

    def went_well(self) -> None:
        """Note a write, and wait as long as ever again, now that nobody holds the lock."""
        self._writes += 1
        if self._was_busy:
            self._was_busy = False
            self._set_busy_timeout(self._busy_timeout)

    def _is_as_held(self, whole: bool) -> bool:
        """Say whether file, WAL and index, or after a write the file alone, lie there as they are held."""
        # each tap waits for this: as few calls of the system as it needs, and hardly an object made
        device, number, size, time = self._held.file or (None,) * 4
        try:
            file = os.stat(self._path)
            if (
                file.st_mtime_ns != time
                or file.st_size != size
                or file.st_ino != number
                or file.st_dev != device
            ):
                return False
            return not whole or (place_of(self._paths[0]), place_of(self._paths[1])) == self._held.beside
        except OSError:
            return False

    def _looked_up(self) -> OnDisk:
        """Return how the files lie there; a file that was written to and is still ours is held as it is now.

        That happens when another program makes a checkpoint, or puts the very same file there, or a copy that
        was made of the open one just now. What went into the file before is not in the WAL any more: an older
        copy is not ours, even though a WAL that is played again might fit it.
        """
        found, held = self._found(), self._held
        touched = found.place == held.place and found.file != held.file
        if touched and self._is_still_ours():
            self._held = held._replace(file=self._found().file)
            return self._held._replace(beside=found.beside)
        return found

    def _is_still_ours(self) -> bool:
        """Say whether the file alone is as at the last checkpoint, or as the WAL has it since."""
        for attempt in range(_ATTEMPTS):
            if attempt:
                sleep(_PAUSE)
            epoch, (now, before) = self._epoch_alone(), self._epochs_now()
            known = self._epochs | {now, before}
            if epoch and epoch in known:
                self._epochs = frozenset({now}) if epoch == now else known
                self._marked = False  # after another program's checkpoint: the WAL may be restarted
                return True
        return False

    def _found(self) -> OnDisk:
        return on_disk(self._path, self._paths)

    def _epoch_alone(self) -> bytes | None:
        from evaltrack.store.on_disk.journals import epoch_alone  # hardly ever: a start does not wait for it

        return epoch_alone(self._path)

    def _epochs_now(self) -> tuple[bytes, bytes]:
        """Return the last epoch and the one before, which the file has during another's checkpoint."""
        row = self.execute("SELECT epoch, before FROM epoch").fetchone()
        if row is None:
            raise sqlite3.DatabaseError(tr("the season file is damaged; go back to a backup"))
        return row

    def seen(self) -> tuple:
        """Return what changes as soon as others' commits are seen here, or the file is not in its place."""
        return self.data_version(), place_of(self._path)

    def data_version(self) -> int:
        """Return SQLite's number of what others have committed, as it is seen here."""
        return self.execute("PRAGMA data_version").fetchone()[0]

    def _set_busy_timeout(self, seconds: float) -> None:
        self.execute(f"PRAGMA busy_timeout = {round(1000 * seconds)}")


def _unsaved(why: str) -> NotSavedError:
    return NotSavedError(tr("not saved: {reason}", reason=tr(why)))
