"""Bringing a backup back: read apart from its place, held against what is there, and put there at once."""

import os
import shutil
import struct
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from evaltrack.device.backup_places import Why, backups_folder, backups_of, drop, next_place, to_drop
from evaltrack.device.ordinary_file import open_ordinary
from evaltrack.device.sealing import MOST_BYTES, is_sealed, opened
from evaltrack.device.season_claim import SeasonClaim
from evaltrack.device.settings_file import one_window_at_a_time
from evaltrack.device.system_words import FULL, is_full, system_reason
from evaltrack.device.tablet import Tablet, keep_tablet, load_tablet
from evaltrack.errors import EvaltrackError, SeasonFileError
from evaltrack.language import mark, tr
from evaltrack.store.backups.keeping import keep_backup, own_folder
from evaltrack.store.copying import put_on_disk
from evaltrack.store.on_disk.left_copies import APART, sweep_left
from evaltrack.store.on_disk.open_here import is_open_here
from evaltrack.store.opening import JOURNALS, open_season, refuse_long
from evaltrack.store.schema import APPLICATION_ID, SCHEMA_VERSION
from evaltrack.store.season_file import SeasonFile

_SQLITE = b"SQLite format 3\x00"
_NOT_MADE = mark('"{target}" cannot be made: {why}')
_NOT_REPLACED = mark('"{target}" cannot be replaced: {why}')


@contextmanager
def opened_backup(path: Path, passphrase: str | None = None) -> Iterator[SeasonFile]:
    """Open a private copy of a backup, which is looked through before anything of it is believed.

    Only the file itself is copied, not what lies beside it. The backup stays as it is, and so does what is of
    an older version: the copy is brought up to date.

    Raises
    ------
    EvaltrackError : no such file, not a season file, sealed and no passphrase or a wrong one, or not whole.
    """
    with _copied_apart(path, passphrase) as copy:
        try:
            season = open_season(copy)
        except SeasonFileError as error:
            raise SeasonFileError(str(error).replace(str(copy), str(path))) from None
        with season:
            if season.loan:
                raise SeasonFileError(
                    tr('"{path}" is a season on loan, and no backup: give its tallies back', path=path)
                )
            if found := season.checks.unreadable():
                raise SeasonFileError(
                    tr(
                        '"{path}" is not whole, so it is not brought back: {found}. What can be read of it '
                        "goes to a new file with --salvage",
                        path=path,
                        found=found[0],
                    )
                )
            yield season


def lost_by(backup: SeasonFile, target: Path) -> dict[str, int] | None:
    """Return how much of each kind a season file has that the backup lacks; None where it cannot be read.

    Raises
    ------
    SeasonFileError : what lies there is no season file, or that of another season.
    """
    if not os.path.lexists(target):
        return {}
    _refuse_other_kind(target)
    try:
        now = open_season(target)
    except SeasonFileError as error:
        if is_full(error):  # which says nothing of the file
            raise
        return None
    with now:
        if now.loan:
            raise SeasonFileError(
                tr('"{target}" is a season on loan, and is not replaced; name another file', target=target)
            )
        try:
            whose, facts = now.ident, now.copies.facts()
        except SeasonFileError:
            return None
        if whose != backup.ident:
            raise SeasonFileError(
                tr(
                    '"{target}" holds another season ({team}) than the backup ({other}); bring it back into '
                    "a file of its own",
                    target=target,
                    team=now.team,
                    other=backup.team,
                )
            )
        then = backup.copies.facts()
    # whom the backup has never known it does not bring back
    facts["erased players"] &= then["players"] | then["erased players"]
    return {what: count for what, keys in facts.items() if (count := len(keys - then[what]))}


def bring_back(backup: SeasonFile, target: Path) -> Path | None:
    """Put a backup in the place of a season file; return where the file that was there is kept.

    This tablet goes on under a new id: others may know what it noted after the backup by the old one, and
    number by number its new facts would be taken for those.

    Raises
    ------
    SeasonFileError : a window has the file open, or it cannot be written; what was there is there still.
    """
    refuse_long(target)
    target = target.resolve()  # another name of it goes on leading to it
    if not target.parent.is_dir():
        raise SeasonFileError(
            tr('there is no folder "{parent}"; make it first, or check the name', parent=target.parent)
        )
    claim = SeasonClaim()
    if is_open_here(target) or not claim.take(target):
        raise SeasonFileError(
            tr(
                '"{target}" is open in a window of the app; bring it back there, or close the window first',
                target=target,
            )
        )
    try:
        kept = _keep_present(target, backup)
        keep_tablet(load_tablet(), id=Tablet().id)
        backup.copies.write(target, _NOT_REPLACED if kept else _NOT_MADE)
        for ending in JOURNALS:  # of the file that is kept: whole in itself, or together with them
            target.with_name(f"{target.name}{ending}").unlink(missing_ok=True)
        put_on_disk(target.parent)
    except OSError as error:
        raise SeasonFileError(tr(_NOT_REPLACED, target=target, why=system_reason(error) or error)) from error
    finally:
        claim.leave()
    return kept


def _keep_present(target: Path, backup: SeasonFile) -> Path | None:
    if not os.path.lexists(target):
        return None
    _refuse_other_kind(target)
    try:
        with open_season(target) as now:
            kept = keep_backup(now, Why.RESTORE)
            if not now.write_back(empty=True):
                raise EvaltrackError(tr("another program is using the season file; close it, and try again"))
            return kept
    except SeasonFileError as error:
        if is_full(error):
            raise
        return _keep_as_it_lies(target, backup)


def _keep_as_it_lies(target: Path, backup: SeasonFile) -> Path:
    """Keep a file that cannot be read, with the journals beside it, byte by byte."""
    with one_window_at_a_time(own_folder(backup)):
        kept = next_place(backup.ident, Why.DAMAGED, datetime.now())
        sides = {ending: kept.with_name(f"{kept.name}{ending}") for ending in (*JOURNALS, "")}
        try:
            for ending, side in sides.items():  # the file itself is the last, by whose name others are found
                if os.path.lexists(f"{target}{ending}"):
                    side.touch(mode=0o600)
                    shutil.copyfile(f"{target}{ending}", side)
                    put_on_disk(side)
        except OSError:
            for side in sides.values():
                side.unlink(missing_ok=True)
            raise
        drop(to_drop(backups_of(backup.ident)))
    return kept


def _refuse_other_kind(target: Path) -> None:
    """Refuse to put a backup in the place of what is no season file, or is of a newer version."""
    try:
        with open_ordinary(target) as file:
            header = file.read(72)
    except OSError as error:
        raise SeasonFileError(
            tr('"{target}" cannot be read: {why}', target=target, why=system_reason(error))
        ) from error
    if not os.access(target, os.W_OK) or not target.stat().st_mode & 0o222:
        raise SeasonFileError(
            tr('"{target}" is read-only, so it is not replaced; name another file', target=target)
        )
    version, application = struct.unpack(">I4xI", header[60:72].ljust(12, b"\0"))
    if not header.startswith(_SQLITE) or application != APPLICATION_ID or version > SCHEMA_VERSION:
        raise SeasonFileError(
            tr(
                '"{target}" is no season file that this evaltrack knows, so it is not replaced; name '
                "another file, or move it elsewhere first",
                target=target,
            )
        )


@contextmanager
def _copied_apart(path: Path, passphrase: str | None) -> Iterator[Path]:
    folder = backups_folder()
    sweep_left()
    apart = folder / f"{APART}{os.getpid()}-{os.urandom(8).hex()}"
    try:
        _refuse_unfit(path)
        apart.mkdir(mode=0o700, parents=True)
        copy = apart / "season.db"
        copy.touch(mode=0o600)
        _copy(path, copy, passphrase)
        yield copy
    except OSError as error:
        if is_full(error):
            told = tr('nothing can be written in the folder "{folder}": {why}', folder=folder, why=tr(FULL))
        else:
            told = tr('"{path}" cannot be read: {why}', path=path, why=system_reason(error) or error)
        raise SeasonFileError(told) from error
    finally:
        shutil.rmtree(apart, ignore_errors=True)


def _copy(path: Path, copy: Path, passphrase: str | None) -> None:
    with path.open("rb") as file:
        if not is_sealed(file.read(64)):
            shutil.copyfile(path, copy)
            return
        if passphrase is None:
            raise EvaltrackError(
                tr('"{path}" was sealed under a passphrase; say --passphrase to be asked for it', path=path)
            )
        file.seek(0)
        copy.write_bytes(opened(file.read(), passphrase))


def _refuse_unfit(path: Path) -> None:
    if not os.path.lexists(path):
        raise SeasonFileError(tr('there is no file "{path}"; check the name', path=path))
    if not path.is_file():
        raise SeasonFileError(tr('"{path}" is no file, so it cannot be a backup', path=path))
    if is_open_here(path):  # reading it by other means would drop the locks on it
        raise SeasonFileError(tr('"{path}" is the season that is open, and no backup', path=path))
    if path.stat().st_size > MOST_BYTES + MOST_BYTES // 1024:
        raise SeasonFileError(tr('"{path}" is far too large for a backup', path=path))
