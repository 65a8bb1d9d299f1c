"""Kill a process that erases a player, and look at what is left."""

import os
import signal
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from erasable_season import ZORA

from evaltrack.store.opening import open_season


def in_a_child(act: Callable[[], None]) -> bool:
    """Do something in a process of its own; say whether it was killed."""
    child = os.fork()
    if child == 0:
        try:
            act()
        finally:
            os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL


def kill() -> None:
    """End this process at once."""
    os.kill(os.getpid(), signal.SIGKILL)


def erase(path: Path, keep_counts: bool = False) -> None:
    """Erase the player of the erasable season."""
    with open_season(path) as season:
        season.erase(ZORA.id, keep_counts)


def is_there(path: Path) -> bool:
    """Say whether the player is in a season file, which must be sound and take a write."""
    with open_season(path) as season:
        season.comments.write("2025-10-04", "Looked at.", "bench")
        found = ZORA.id in {player.id for player in season.people.everyone()}
        own = len(season.log.tallies(player=ZORA.id)) if found else 0
    with closing(sqlite3.connect(path)) as file:
        assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert file.execute("PRAGMA foreign_key_check").fetchall() == []
    assert bool(own) == found
    return found
