"""Opening a season file, and the reasons for refusing one."""

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from evaltrack.device.system_words import system_reason
from evaltrack.errors import SeasonFileError
from evaltrack.language import mark, tr
from evaltrack.store.connection import FAILURES, FileConnection, connect, reason
from evaltrack.store.on_disk.drafts import BEFORE_VERSION, draft_beside, remove, sweep
from evaltrack.store.on_disk.open_here import is_open_here
from evaltrack.store.schema import APPLICATION_ID, SCHEMA_VERSION
from evaltrack.store.schema_check import strange_parts
from evaltrack.store.season_file import SeasonFile

_SQLITE_HEADER = b"SQLite format 3\x00"
JOURNALS = ("-wal", "-journal")  # the write-ahead log and the rollback journal
_LONGEST_PATH = 500  # bytes; SQLite takes 512 with the ending of a journal


def open_season(path: str | os.PathLike, wait: float = 1.0) -> SeasonFile:
    """Open a season file, bringing an older one up to date after a copy of it was kept beside it.

    Parameters
    ----------
    wait : seconds that a write waits for another program which is writing, before it is given up.

    Raises
    ------
    SeasonFileError
        No such file, a folder, not a season file, damaged, with something beside it that is not its own,
        with tables that are not ours, made by a newer evaltrack, not writable, or held by another program.
    """
    path = Path(path)
    return SeasonFile(path, _connection_to(path, wait))


def reopen(season: SeasonFile, wait: float = 1.0) -> None:
    """Open again the file that has come back to its place, or whose disk has failed.

    Raises
    ------
    SeasonFileError
        As for opening, or another program is in the way. It may be tried again later.
    """
    try:
        season.save_wal()
    except sqlite3.Error as error:
        raise SeasonFileError(reason(error)) from error
    season.close()
    season.use(_connection_to(season.path, wait))


def _connection_to(path: Path, wait: float) -> FileConnection:
    try:
        return _sound_connection(path, wait)
    except OSError as error:  # a stick was pulled out, or the file moved, between two looks at it
        raise _unreadable(path, system_reason(error)) from error


def _unreadable(path: Path, why: str) -> SeasonFileError:
    return SeasonFileError(tr('"{path}" cannot be read: {why}', path=path, why=why))


def _sound_connection(path: Path, wait: float) -> FileConnection:
    refuse_long(path)
    if not is_open_here(path):
        _refuse_unfit(path)
        _refuse_foreign(path)
    connection = connect(path)
    try:
        _refuse_strange(connection, path)
        if _pragma(connection, "user_version") < SCHEMA_VERSION:
            _change(connection, path)
        connection.execute("PRAGMA journal_mode = WAL").fetchone()
        connection.hold(path, wait)
    except BaseException as error:
        connection.interrupt()  # or SQLite would make a checkpoint in a file that is refused
        connection.close()
        if isinstance(error, FAILURES):
            raise SeasonFileError(
                tr('"{path}" cannot be opened: {reason}', path=path, reason=reason(error))
            ) from error
        raise
    return connection


def _refuse_foreign(path: Path) -> None:
    if any(os.path.lexists(f"{path}{ending}") for ending in JOURNALS):
        from evaltrack.store.on_disk.journals import refuse_foreign  # most often nothing lies beside a file

        refuse_foreign(path)


def refuse_long(path: Path) -> None:
    """Refuse a path that SQLite cannot take, or that is no path at all."""
    try:
        size = len(os.fsencode(path.absolute()))
    except (OSError, ValueError):
        raise SeasonFileError(tr('"{path}" cannot be the name of a file; check it', path=path)) from None
    if size > _LONGEST_PATH:
        raise SeasonFileError(
            tr(
                "the way to the season file is too long ({size} bytes, at most {most}): put it "
                "into a folder with a shorter name",
                size=size,
                most=_LONGEST_PATH,
            )
        )


def _refuse_unfit(path: Path) -> None:
    try:
        _refuse_other_than_file(path)
        with path.open("rb") as file:
            header = file.read(64)
    except (OSError, ValueError) as error:
        raise _unreadable(path, system_reason(error) or tr("its name cannot be one")) from error
    if not header.startswith(_SQLITE_HEADER):
        raise SeasonFileError(tr('"{path}" is not a season file', path=path))
    _refuse_newer(path, int.from_bytes(header[60:64], "big"))
    if _ends_within_a_page(path, header):
        raise SeasonFileError(tr('"{path}" is damaged: its end is missing; go back to a backup', path=path))


def _refuse_newer(path: Path, version: int) -> None:
    if SCHEMA_VERSION < version < 2**31:  # it has a sign
        raise SeasonFileError(
            tr(
                '"{path}" was written by a newer evaltrack (file version {version}, this one knows '
                "{known}); update evaltrack on this machine",
                path=path,
                version=version,
                known=SCHEMA_VERSION,
            )
        )


def _refuse_other_than_file(path: Path) -> None:
    if not os.path.exists(path):
        raise SeasonFileError(
            tr('there is no file "{path}"; make one with "evaltrack new", or check the name', path=path)
        )
    if not path.is_file():
        what = mark('"{path}" is no ordinary file, not a season file')
        if path.is_dir():
            what = mark('"{path}" is a folder, not a season file')
        raise SeasonFileError(tr(what, path=path))
    # root may write anywhere, so ask the permission bits too: a file marked read-only was meant so
    if not os.access(path, os.W_OK) or not path.stat().st_mode & 0o222:
        raise SeasonFileError(
            tr('"{path}" is read-only; copy it to a place where it may be changed', path=path)
        )
    if path.stat().st_nlink > 1:
        sweep(path)  # a program that was stopped while it put the file in place leaves a second name
    if path.stat().st_nlink > 1:
        raise SeasonFileError(
            tr(
                '"{path}" has a second name (a hard link), under which another window would change it '
                "unseen; make a copy of it, and open that",
                path=path,
            )
        )
    _keep_to_owner(path)


def _keep_to_owner(path: Path) -> None:
    """Let nobody but its owner read the file and what lies beside it."""
    for name in (path, *(path.with_name(f"{path.name}{side}") for side in ("-wal", "-shm"))):
        with suppress(OSError):  # another one's file, or a disk without permissions
            mode = name.stat().st_mode & 0o777
            if mode & 0o077:
                name.chmod(mode & 0o700)


def _ends_within_a_page(path: Path, header: bytes) -> bool:
    # SQLite counts such a page as whole and finds out only when it reads it. With a journal beside the
    # file the page is written again from there, so nothing is lost.
    if any(os.path.exists(f"{path}{ending}") for ending in JOURNALS):
        return False
    page_size = int.from_bytes(header[16:18], "big")  # 1 stands for 65,536
    return page_size > 1 and path.stat().st_size % page_size != 0


def _refuse_strange(connection: sqlite3.Connection, path: Path) -> None:
    if _pragma(connection, "application_id") != APPLICATION_ID:
        raise SeasonFileError(tr('"{path}" is a database, but not a season file of evaltrack', path=path))
    version = _pragma(connection, "user_version")
    _refuse_newer(path, version)  # again: it may have been in the journal
    strange = strange_parts(connection, version) if version > 0 else [tr("its version")]
    if strange:
        raise SeasonFileError(
            tr(
                '"{path}" is damaged or was changed by another program: {parts} is not as evaltrack makes '
                "it; go back to a backup",
                path=path,
                parts=", ".join(sorted(set(strange))[:3]),
            )
        )


def _change(connection: FileConnection, path: Path) -> None:
    """Bring an older file up to date, after a copy was kept."""
    # a change goes through every row, also of pages that lead to one another without end
    if connection.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
        raise SeasonFileError(tr('"{path}" is damaged; keep it as it is, and go back to a backup', path=path))
    sweep(path)
    _keep_copy(connection, path.with_name(f"{path.name}{BEFORE_VERSION}{SCHEMA_VERSION}"))
    # before the change: then a stop halfway leaves a WAL, whose owner can be told
    connection.execute("PRAGMA journal_mode = WAL").fetchone()
    bring_up_to_date(connection)
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()


def _keep_copy(connection: sqlite3.Connection, copy: Path) -> None:
    """Copy the file as it is; under its name there is only ever a whole copy."""
    draft = draft_beside(copy)
    try:
        draft.touch(mode=0o600, exist_ok=False)
        with closing(sqlite3.connect(draft)) as target:
            connection.backup(target)
            # another program may have been quicker, and what it kept is the older file
            older = _pragma(target, "user_version") < SCHEMA_VERSION
        if older:
            draft.replace(copy)
    except (OSError, sqlite3.Error) as error:
        why = reason(error) if isinstance(error, sqlite3.Error) else system_reason(error) or str(error)
        raise SeasonFileError(
            tr(
                'an older season file is changed only after a copy was kept, and "{copy}" cannot be '
                "made: {why}",
                copy=copy,
                why=why,
            )
        ) from error
    finally:
        remove(draft)


def bring_up_to_date(connection: sqlite3.Connection) -> None:
    """Apply what a file lacks of the present version, all of it or nothing."""
    # imported only when there is work: it brings pandas along, which the board must not wait for
    from evaltrack.store.migrations import migrate

    migrate(connection)


def _pragma(connection: sqlite3.Connection, name: str) -> int:
    return connection.execute(f"PRAGMA {name}").fetchone()[0]
