"""Making and opening a season file, and the reasons for refusing one."""

import os
import sqlite3
from collections.abc import Iterable
from contextlib import closing, suppress
from pathlib import Path

from evaltrack.errors import SeasonFileError
from evaltrack.rink.drill import Drill
from evaltrack.rink.ident import new_id, now_ms
from evaltrack.rink.player import Player
from evaltrack.rink.skill import Skill
from evaltrack.store.connection import FileConnection, connect, reason, transaction
from evaltrack.store.schema import APPLICATION_ID, SCHEMA_VERSION
from evaltrack.store.season_file import SeasonFile

_SQLITE_HEADER = b"SQLite format 3\x00"
_JOURNALS = ("-wal", "-journal")


def open_season(path: str | os.PathLike, wait: float = 1.0) -> SeasonFile:
    """Open a season file, bringing an older one up to date after a copy of it was kept beside it.

    Parameters
    ----------
    wait : seconds that a write waits for another program which is writing, before it is given up.

    Raises
    ------
    SeasonFileError
        No such file, a folder, not a season file, damaged, made by a newer evaltrack, not writable, or
        held by another program.
    """
    path = Path(path)
    return SeasonFile(path, _connection_to(path, wait))


def reopen(season: SeasonFile, wait: float = 1.0) -> None:
    """Open anew the file that has come back to its place, or whose disk has failed meanwhile.

    Raises
    ------
    SeasonFileError
        As for opening, or another program is in the way. It may be tried again later.
    """
    try:
        season.save_journal()
    except sqlite3.Error as error:
        raise SeasonFileError(reason(error)) from error
    season.close()
    season.use(_connection_to(season.path, wait))


def _connection_to(path: Path, wait: float) -> FileConnection:
    _refuse_unfit(path)
    connection = connect(path)
    try:
        _bring_up_to_date(connection, path)
        connection.execute("PRAGMA journal_mode = WAL").fetchone()
        connection.hold(path, wait)
    except BaseException as error:
        connection.close()
        if isinstance(error, sqlite3.Error):
            raise SeasonFileError(f'"{path}" cannot be opened: {reason(error)}') from error
        raise
    return connection


def create_season(
    path: str | os.PathLike,
    *,
    team: str,
    age_class: str,
    players: Iterable[Player],
    skills: Iterable[Skill],
    drills: Iterable[Drill],
) -> SeasonFile:
    """Make a new season file and open it. The file appears whole or not at all.

    Raises
    ------
    SeasonFileError
        Something of that name is there already, or its folder cannot be written to.
    """
    path = Path(path)
    _refuse_taken(path)
    draft = _draft_beside(path)
    try:
        draft.touch(exist_ok=False)
        with closing(connect(draft)) as connection:
            _fill(connection, team, age_class, list(players), list(skills), list(drills))
        _put_in_place(draft, path)
    except (OSError, sqlite3.Error) as error:
        raise SeasonFileError(f'"{path}" cannot be made: {_why(error)}') from error
    finally:
        _remove(draft)
    return open_season(path)


def _fill(connection, team, age_class, players, skills, drills) -> None:
    _migrate(connection)
    season = SeasonFile(Path(), connection)
    with transaction(connection):
        connection.execute(
            "INSERT INTO season VALUES (1, ?, ?, ?, ?)", (new_id().bytes, team, age_class, now_ms())
        )
        season.people.add(players)
        season.catalogue.write(skills, drills)


def _refuse_taken(path: Path) -> None:
    if not path.parent.is_dir():
        raise SeasonFileError(f'there is no folder "{path.parent}"; make it first, or check the name')
    # a journal left by a file that was removed would be played into the new one and damage it
    for name in (path.name, *(path.name + ending for ending in _JOURNALS)):
        if os.path.lexists(path.with_name(name)):
            raise SeasonFileError(
                f'"{path.with_name(name)}" is there already; choose another name, or remove it first'
            )


def _draft_beside(path: Path) -> Path:
    # a name of its own: two programs may be at it, and nobody's file may be in the way
    return path.with_name(f"{path.name}.{new_id().hex}.new")


def _put_in_place(draft: Path, path: Path) -> None:
    try:
        os.link(draft, path)  # unlike a rename, it never replaces what came there in the meantime
    except FileExistsError:
        raise
    except OSError:  # a file system without hard links
        draft.rename(path)


def _remove(draft: Path) -> None:
    with suppress(OSError):
        draft.unlink(missing_ok=True)


def _refuse_unfit(path: Path) -> None:
    if not os.path.exists(path):
        raise SeasonFileError(f'there is no file "{path}"; make one with "evaltrack new", or check the name')
    if not path.is_file():
        raise SeasonFileError(f'"{path}" is a folder, not a season file')
    # root may write anywhere, so ask the permission bits too: a file marked read-only was meant so
    if not os.access(path, os.W_OK) or not path.stat().st_mode & 0o222:
        raise SeasonFileError(f'"{path}" is read-only; copy it to a place where it may be changed')
    try:
        with path.open("rb") as file:
            header = file.read(18)
    except OSError as error:
        raise SeasonFileError(f'"{path}" cannot be read: {error.strerror}') from error
    if not header.startswith(_SQLITE_HEADER):
        raise SeasonFileError(f'"{path}" is not a season file')
    if _ends_within_a_page(path, header):
        raise SeasonFileError(f'"{path}" is damaged: its end is missing; go back to a backup')


def _ends_within_a_page(path: Path, header: bytes) -> bool:
    # SQLite counts such a page as whole and finds out only when it reads it. With a journal beside the
    # file the page is written anew from there, so nothing is lost.
    if any(os.path.exists(f"{path}{ending}") for ending in _JOURNALS):
        return False
    page_size = int.from_bytes(header[16:18], "big")  # 1 stands for 65,536
    return page_size > 1 and path.stat().st_size % page_size != 0


def _bring_up_to_date(connection: sqlite3.Connection, path: Path) -> None:
    if _pragma(connection, "application_id") != APPLICATION_ID:
        raise SeasonFileError(f'"{path}" is a database, but not a season file of evaltrack')
    version = _pragma(connection, "user_version")
    if version > SCHEMA_VERSION:
        raise SeasonFileError(
            f'"{path}" was written by a newer evaltrack (file version {version}, this one knows '
            f"{SCHEMA_VERSION}); update evaltrack on this machine"
        )
    if version < SCHEMA_VERSION:
        _keep_copy(connection, path.with_name(f"{path.name}.before-version-{SCHEMA_VERSION}"))
        _migrate(connection)


def _keep_copy(connection: sqlite3.Connection, copy: Path) -> None:
    """Copy the file as it is; under its name there is only ever a whole copy."""
    draft = _draft_beside(copy)
    try:
        with closing(sqlite3.connect(draft)) as target:
            connection.backup(target)
            # another program may have been quicker, and what it kept is the older file
            older = _pragma(target, "user_version") < SCHEMA_VERSION
        if older:
            draft.replace(copy)
    except (OSError, sqlite3.Error) as error:
        raise SeasonFileError(
            f'an older season file is changed only after a copy was kept, and "{copy}" cannot be made: '
            f"{_why(error)}"
        ) from error
    finally:
        _remove(draft)


def _migrate(connection: sqlite3.Connection) -> None:
    # imported only when there is work: it brings pandas along, which the board must not wait for
    from evaltrack.store.migrations import migrate

    migrate(connection)


def _pragma(connection: sqlite3.Connection, name: str) -> int:
    return connection.execute(f"PRAGMA {name}").fetchone()[0]


def _why(error: OSError | sqlite3.Error) -> str:
    return reason(error) if isinstance(error, sqlite3.Error) else error.strerror or str(error)
