"""The long work on backups. It runs in a process beside the app, and imports no Kivy."""

from datetime import date
from pathlib import Path

from evaltrack.device.season_places import free_file
from evaltrack.language import tr


def back_up_after_practice(path: Path) -> Path | None:
    """Keep a backup of a season file if something is in it that the newest one lacks."""
    from evaltrack.store.backups.keeping import keep_backup_if_due

    return keep_backup_if_due(path)


def back_up_now(path: Path) -> str:
    """Keep a backup of a season file, and return a sentence that says so."""
    from evaltrack.device.backup_places import Why
    from evaltrack.store.backups.keeping import keep_backup
    from evaltrack.store.opening import open_season

    with open_season(path) as season:
        keep_backup(season, Why.ASKED)
    return tr("Backed up. It stands first in the list below.")


def back_up_into(path: Path, folder: Path, passphrase: str) -> str:
    """Write a backup into a folder of somebody's choice, and return a sentence that says where.

    Parameters
    ----------
    passphrase : seals it; empty for none.
    """
    from evaltrack.store.backups.keeping import write_backup
    from evaltrack.store.opening import open_season

    target = free_file(
        folder, f"{path.stem}-backup-{date.today().isoformat()}", ".age" if passphrase else ".db"
    )
    with open_season(path) as season:
        write_backup(season, target, passphrase or None)
    if passphrase:
        return tr("Backed up under the passphrase: {file}. Nobody can open it without.", file=target)
    return tr("Backed up: {file}. Whoever has this file can read it.", file=target)


def check(path: Path) -> list[str]:
    """Return a sentence for each thing that is not as it must be in a season file; none of a whole one."""
    from evaltrack.store.opening import open_season

    with open_season(path) as season:
        return season.checks.findings()


def would_lose(path: Path, backup: Path) -> dict[str, int] | None:
    """Return how much of each kind a season file has that a backup lacks."""
    from evaltrack.store.backups.restoring import lost_by, opened_backup

    with opened_backup(backup) as season:
        return lost_by(season, path)


def bring_back(path: Path, backup: Path) -> str:
    """Put a backup in the place of a season file, and return a sentence that says what became of that."""
    from evaltrack.store.backups import restoring

    with restoring.opened_backup(backup) as season:
        restoring.bring_back(season, path)
    return tr("The backup is back. What was there before stands first in the list below.")
