"""Making a season file: whole or not at all, and for its owner's eyes only."""

import os
import sqlite3
from collections.abc import Iterable
from contextlib import closing, suppress
from pathlib import Path
from uuid import UUID

from evaltrack.device.system_words import system_reason
from evaltrack.errors import SeasonFileError
from evaltrack.language import tr
from evaltrack.rink.drill import Drill
from evaltrack.rink.ident import new_id, now_ms
from evaltrack.rink.player import Player
from evaltrack.rink.skill import Skill
from evaltrack.store.connection import connect, reason, transaction
from evaltrack.store.on_disk.drafts import draft_beside, remove, sweep
from evaltrack.store.opening import JOURNALS, bring_up_to_date, open_season, refuse_long
from evaltrack.store.season_file import INVENTED, SeasonFile


def create_season(
    path: str | os.PathLike,
    *,
    team: str,
    age_class: str,
    players: Iterable[Player],
    skills: Iterable[Skill],
    drills: Iterable[Drill],
    invented: bool = False,
) -> SeasonFile:
    """Make a new season file and open it. The file appears whole or not at all.

    ``invented`` marks it for good as the season of the invented team.

    Raises
    ------
    SeasonFileError
        Something of that name is there already, or its folder cannot be written to.
    """
    path = Path(path)
    refuse_long(path)
    refuse_taken(path)
    sweep(path)
    draft = draft_beside(path)
    try:
        draft.touch(mode=0o600, exist_ok=False)
        with closing(connect(draft)) as connection:
            ident = INVENTED if invented else new_id()
            _fill(connection, (ident, team, age_class), list(players), list(skills), list(drills))
        put_in_place(draft, path)
    except (OSError, ValueError, sqlite3.Error) as error:
        raise SeasonFileError(tr('"{path}" cannot be made: {why}', path=path, why=_why(error))) from error
    finally:
        remove(draft)
    return open_season(path)


def _fill(connection, whose: tuple[UUID, str, str], players, skills, drills) -> None:
    connection.execute("PRAGMA journal_mode = WAL").fetchone()
    bring_up_to_date(connection)
    season = SeasonFile(Path(), connection)
    with transaction(connection):
        ident, team, age_class = whose
        row = ident.bytes, team, age_class, now_ms()
        connection.execute("INSERT INTO season VALUES (1, ?, ?, ?, ?)", row)
        season.people.add(players)
        season.catalogue.write(skills, drills)


def refuse_taken(path: Path) -> None:
    """Refuse to make a file where something is already, or where there is no folder."""
    try:
        there = path.parent.is_dir()
    except (OSError, ValueError):
        there = False
    if not there:
        raise SeasonFileError(
            tr('there is no folder "{parent}"; make it first, or check the name', parent=path.parent)
        )
    # a journal left by a file that was removed would be played into the new one and damage it
    for name in (path.name, *(path.name + ending for ending in JOURNALS)):
        if os.path.lexists(path.with_name(name)):
            raise SeasonFileError(
                tr(
                    '"{path}" is there already; choose another name, or move it elsewhere first',
                    path=path.with_name(name),
                )
            )


def put_in_place(draft: Path, path: Path) -> None:
    """Give a whole draft its name, in the place of nothing else."""
    try:
        os.link(draft, path)  # unlike a rename, it never replaces what came there in the meantime
    except FileExistsError:
        raise
    except OSError:  # a file system without hard links
        draft.rename(path)
    with suppress(OSError, AttributeError):  # so that the name is there after a power cut, where folders can
        folder = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _why(error: Exception) -> str:
    if isinstance(error, sqlite3.Error):
        return reason(error)
    return system_reason(error) or str(error)
