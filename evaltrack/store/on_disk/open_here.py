"""Which season files this process has open.

Such a file must not be opened by other means than SQLite: closing that would drop the locks that SQLite holds
on it for the whole process (https://www.sqlite.org/howtocorrupt.html, section 2.2).
"""

import os
from collections import Counter
from pathlib import Path

Place = tuple[int, int] | None  # device and number: what tells a file from another one of the same name

_open_here: Counter[Place] = Counter()


def place_of(path: str | Path) -> Place:
    """Return where a file lies on its disk; None when there is none."""
    try:
        found = os.stat(path)
    except (OSError, ValueError):
        return None
    return found.st_dev, found.st_ino


def note_open(place: Place, count: int) -> None:
    """Note that one more connection has the file at a place open, or one less."""
    _open_here[place] += count


def is_open_here(path: str | Path) -> bool:
    """Say whether this process has a file open by SQLite."""
    place = place_of(path)
    return place is not None and _open_here[place] > 0
