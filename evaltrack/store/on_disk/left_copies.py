"""What lies about of the copies of a season file: beside it, and in the app's folder of backups."""

import os
import re
import shutil
from contextlib import suppress
from pathlib import Path

from evaltrack.device.backup_places import backups_folder
from evaltrack.device.system_words import system_reason
from evaltrack.store.on_disk.drafts import BEFORE_VERSION, is_alive

APART = "opened-"  # begins the names of copies that are there for a moment; then comes whose they are


def leftovers(path: Path) -> list[Path]:
    """Return what was kept beside a season file before it was brought up to date, with its journals."""
    begins = re.compile(re.escape(f"{path.name}{BEFORE_VERSION}") + r"\d+(-wal|-shm|-journal)?")
    with suppress(OSError):
        return sorted(path.with_name(name) for name in os.listdir(path.parent) if begins.fullmatch(name))
    return []


def sweep_left() -> None:
    """Remove the copies that stopped programs have left in the app's folder: they hold names of children."""
    with suppress(OSError):
        for left in [*backups_folder().glob(f"{APART}*"), *backups_folder().glob(f"*/{APART}*")]:
            process = left.name.removeprefix(APART).partition("-")[0]
            if process.isdecimal() and not is_alive(int(process)):
                shutil.rmtree(left, ignore_errors=True)
                left.unlink(missing_ok=True)


def delete_with_journals(path: Path) -> str:
    """Delete a season file that nobody has open, what lies beside it, and older copies of it.

    Returns
    -------
    Why it could not be deleted; empty when it is gone.
    """
    beside = [path.with_name(f"{path.name}{ending}") for ending in ("-wal", "-shm", "-journal")]
    try:
        for one in (*leftovers(path), path, *beside):  # a journal alone, of a file that is gone, harms nobody
            one.unlink(missing_ok=True)
    except OSError as error:
        return system_reason(error) or str(error)
    return ""
