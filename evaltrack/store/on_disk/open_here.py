"""Where a season file lies and what beside it, and which ones this process has open.

Such a file must not be opened by other means than SQLite: closing that would drop the locks that SQLite holds
on it for the whole process (https://www.sqlite.org/howtocorrupt.html, section 2.2).
"""

import os
from collections import Counter
from pathlib import Path
from typing import NamedTuple

Place = tuple[int, int] | None  # device and number: what tells a file from another one of the same name


class OnDisk(NamedTuple):
    """How a season file lies there: device, number, size and time; and its WAL and the index of that."""

    file: tuple[int, int, int, int] | None
    beside: tuple[Place, Place]

    @property
    def place(self) -> Place:
        """Return what tells the file from another one of the same name; None when there is none."""
        return self.file and self.file[:2]

    @property
    def wal(self) -> Place:
        """Return the same of its WAL."""
        return self.beside[0]


_open_here: Counter[Place] = Counter()


def place_of(path: str | Path) -> Place:
    """Return where a file lies on its disk; None when there is none."""
    try:
        found = os.stat(path)
    except (OSError, ValueError):
        return None
    return found.st_dev, found.st_ino


def on_disk(path: str, beside: tuple[str, str]) -> OnDisk:
    """Return how a season file and what has these names beside it lie there now."""
    wal, index = map(place_of, beside)
    try:
        file = os.stat(path)
    except OSError:
        return OnDisk(None, (wal, index))
    return OnDisk((file.st_dev, file.st_ino, file.st_size, file.st_mtime_ns), (wal, index))


def note_open(place: Place, count: int) -> None:
    """Note that one more connection has the file at a place open, or one less."""
    _open_here[place] += count


def is_open_here(path: str | Path) -> bool:
    """Say whether this process has a file open by SQLite."""
    place = place_of(path)
    return place is not None and _open_here[place] > 0
