"""The copies of a season file that the app keeps by itself: an erased name must go out of all of them."""

import os
import re
from contextlib import suppress
from pathlib import Path

from evaltrack.store.on_disk.drafts import sweep

_BEFORE_UPDATE = ".before-version-"  # begins what is kept when an older file is brought up to date


def own_copies(path: Path) -> list[Path]:
    """Return the copies of a season file that the app made for itself and may delete.

    Where further lists of such copies are kept, this is the place in which they come together.
    """
    begins = re.compile(re.escape(f"{path.name}{_BEFORE_UPDATE}") + r"\d+(-wal|-shm|-journal)?")
    with suppress(OSError):
        return sorted(path.with_name(name) for name in os.listdir(path.parent) if begins.fullmatch(name))
    return []


def forget_copies(path: Path) -> tuple[list[Path], list[Path]]:
    """Delete the app's own copies and what stopped programs have left; return what went and what is stuck."""
    sweep(path)
    copies = own_copies(path)
    for copy in copies:
        with suppress(OSError):
            copy.unlink()
    stuck = [copy for copy in copies if os.path.lexists(copy)]
    return [copy for copy in copies if copy not in stuck], stuck
