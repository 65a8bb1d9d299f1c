"""The copies of a season file that the app keeps by itself: an erased name must go out of all of them."""

import os
from contextlib import suppress
from pathlib import Path
from uuid import UUID

from evaltrack.device.backup_places import backups_of, drop
from evaltrack.device.handover.parts import parts_of
from evaltrack.store.on_disk.drafts import sweep
from evaltrack.store.on_disk.left_copies import leftovers, sweep_left


def own_copies(path: Path, season: UUID) -> list[Path]:
    """Return the copies of a season file that the app made for itself and may delete."""
    return [*leftovers(path), *(backup.path for backup in backups_of(season)), *parts_of(season.hex)]


def forget_copies(path: Path, season: UUID) -> tuple[list[Path], list[Path]]:
    """Delete the app's own copies and what stopped programs have left; return what went and what is stuck.

    What was damaged and kept as it lay is among them. On a flash disk deleted bytes may still lie in places
    that no program reaches.
    """
    sweep(path)
    sweep_left()
    copies = own_copies(path, season)
    drop(backups_of(season))
    for copy in [*leftovers(path), *parts_of(season.hex)]:
        with suppress(OSError):
            copy.unlink()
    stuck = [copy for copy in copies if os.path.lexists(copy)]
    return [copy for copy in copies if copy not in stuck], stuck
