"""Backups that this tablet keeps by itself, the older ones at longer and longer intervals."""

import os
import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

from evaltrack.device.backup_places import (
    Backup,
    Why,
    backups_folder,
    backups_of,
    drop,
    next_place,
    note_elsewhere,
    to_drop,
)
from evaltrack.device.sealing import MOST_BYTES, refuse_short, sealed
from evaltrack.device.settings_file import one_window_at_a_time
from evaltrack.device.system_words import FULL, is_full, system_reason
from evaltrack.errors import SeasonFileError
from evaltrack.language import tr
from evaltrack.private_file import write_private
from evaltrack.store.copying import state_in
from evaltrack.store.on_disk.left_copies import APART, sweep_left
from evaltrack.store.opening import open_season
from evaltrack.store.season_file import SeasonFile


def keep_backup(season: SeasonFile, why: Why) -> Path:
    """Keep a backup in the app's own folder, and let those go that need not be kept any longer.

    Call it before whatever changes much at once, such as a join.

    Raises
    ------
    SeasonFileError : it cannot be made; nothing else has changed.
    """
    folder = own_folder(season)
    with one_window_at_a_time(folder):
        place = next_place(season.ident, why, datetime.now())
        season.copies.write(place)
        drop(to_drop(backups_of(season.ident)))
    return place


def keep_backup_if_due(path: Path) -> Path | None:
    """Keep a backup of a season file if something is in it that the newest one lacks."""
    with open_season(path) as season:
        if season.loan:  # its place among the backups is that of the season from which it was lent
            return None
        newest = next((backup for backup in backups_of(season.ident) if backup.why is not Why.DAMAGED), None)
        state = season.copies.state()
        if (newest and _state_of(newest) == state) or not any(state):
            return None
        return keep_backup(season, Why.PRACTICE)


def write_backup(season: SeasonFile, target: Path, passphrase: str | None = None) -> None:
    """Write a backup to a place of somebody's choice, and remember it; under a passphrase it is an age file.

    Raises
    ------
    EvaltrackError : something has that name, it cannot be written, or the passphrase is too short.
    """
    if target.exists() or target.is_symlink():
        raise SeasonFileError(
            tr('"{target}" is there already; choose another name, or move it elsewhere first', target=target)
        )
    if not target.parent.is_dir():
        raise SeasonFileError(
            tr('there is no folder "{parent}"; make it first, or check the name', parent=target.parent)
        )
    if passphrase is None:
        season.copies.write(target)
    else:
        refuse_short(passphrase)
        _write_sealed(season, target, passphrase)
    note_elsewhere(season.ident, target.resolve(), passphrase is not None, datetime.now())


def own_folder(season: SeasonFile) -> Path:
    """Return the folder for the backups of a season, which is made for its owner alone."""
    sweep_left()
    folder = backups_folder(season.ident)
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise SeasonFileError(
            tr(
                'the folder for backups "{folder}" cannot be made: {why}',
                folder=folder,
                why=system_reason(error),
            )
        ) from error
    return folder


def _write_sealed(season: SeasonFile, target: Path, passphrase: str) -> None:
    plain = own_folder(season) / f"{APART}{os.getpid()}-to-seal.db"
    try:
        season.copies.write(plain)
        if plain.stat().st_size > MOST_BYTES:
            raise SeasonFileError(tr("the season is too large to be sealed: write it without a passphrase"))
        write_private(target, sealed(plain.read_bytes(), passphrase))
    except OSError as error:
        raise SeasonFileError(
            tr('the backup "{target}" cannot be written: {why}', target=target, why=system_reason(error))
        ) from error
    except SeasonFileError as error:
        if not is_full(error):
            raise
        told = tr('nothing can be written in the folder "{folder}": {why}', folder=plain.parent, why=tr(FULL))
        raise SeasonFileError(told) from error
    finally:
        plain.unlink(missing_ok=True)


def _state_of(backup: Backup) -> list[int] | None:
    """Return how much is in a backup; None where that cannot be read, or it is of an earlier version."""
    alone = f"{backup.path.resolve().as_uri()}?mode=ro&immutable=1"
    try:
        with closing(sqlite3.connect(alone, uri=True)) as file:
            return state_in(file)
    except sqlite3.Error:
        return None
