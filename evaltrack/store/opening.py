"""Making and opening a season file, and the reasons for refusing one."""

import os
import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path

from evaltrack.errors import SeasonFileError
from evaltrack.rink.drill import Drill
from evaltrack.rink.ident import new_id, now_ms
from evaltrack.rink.player import Player
from evaltrack.rink.skill import Skill
from evaltrack.store.connection import connect, transaction
from evaltrack.store.schema import APPLICATION_ID, SCHEMA_VERSION
from evaltrack.store.season_file import SeasonFile

_SQLITE_HEADER = b"SQLite format 3\x00"


def open_season(path: str | os.PathLike) -> SeasonFile:
    """Open a season file, bringing an older one up to date after a copy of it was kept beside it.

    Raises
    ------
    SeasonFileError
        No such file, a folder, not a season file, made by a newer evaltrack, or not writable.
    """
    path = Path(path)
    _refuse_unfit(path)
    connection = connect(path)
    try:
        _bring_up_to_date(connection, path)
        connection.execute("PRAGMA journal_mode = WAL")
    except sqlite3.Error as error:
        connection.close()
        raise SeasonFileError(f'"{path}" cannot be read as a season file: {error}') from error
    except BaseException:
        connection.close()
        raise
    return SeasonFile(path, connection)


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
    if path.exists():
        raise SeasonFileError(f'"{path}" is there already; choose another name, or remove it first')
    draft = path.with_name(path.name + ".new")
    try:
        draft.unlink(missing_ok=True)
        draft.touch(exist_ok=False)
        with closing(connect(draft)) as connection:
            _fill(connection, team, age_class, list(players), list(skills), list(drills))
        draft.rename(path)
    except (OSError, sqlite3.Error) as error:
        raise SeasonFileError(f'"{path}" cannot be made: {error}') from error
    finally:
        draft.unlink(missing_ok=True)
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


def _refuse_unfit(path: Path) -> None:
    if not path.exists():
        raise SeasonFileError(f'there is no file "{path}"; make one with "evaltrack new", or check the name')
    if not path.is_file():
        raise SeasonFileError(f'"{path}" is a folder, not a season file')
    # root may write anywhere, so ask the permission bits too: a file marked read-only was meant so
    if not os.access(path, os.W_OK) or not path.stat().st_mode & 0o222:
        raise SeasonFileError(f'"{path}" is read-only; copy it to a place where it may be changed')
    try:
        with path.open("rb") as file:
            header = file.read(len(_SQLITE_HEADER))
    except OSError as error:
        raise SeasonFileError(f'"{path}" cannot be read: {error.strerror}') from error
    if header != _SQLITE_HEADER:
        raise SeasonFileError(f'"{path}" is not a season file')


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
    with closing(sqlite3.connect(copy)) as target:
        connection.backup(target)


def _migrate(connection: sqlite3.Connection) -> None:
    # imported only when there is work: it brings pandas along, which the board must not wait for
    from evaltrack.store.migrations import migrate

    migrate(connection)


def _pragma(connection: sqlite3.Connection, name: str) -> int:
    return connection.execute(f"PRAGMA {name}").fetchone()[0]
