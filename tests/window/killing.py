"""Kill a tapping app at a random moment and look at what is left of its season file."""

import os
import random
import signal
import sqlite3
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from evaltrack.store.opening import open_season

_CHILD = Path(__file__).with_name("tapping.py")


@dataclass(frozen=True)
class Kill:
    """What one kill left: the tallies that the screen had shown, those in the file, and its health."""

    resumed_on: str
    shown: int
    kept: int
    last_is_there: bool
    integrity: str

    @property
    def harmless(self) -> bool:
        """Say whether nothing shown was lost: at most one tap was on its way when the kill came."""
        return self.last_is_there and self.shown <= self.kept + self.slack and self.integrity == "ok"

    @property
    def slack(self) -> int:
        """Return how many tallies an undo on its way may have taken back."""
        return 1


def kill_once(path: Path, seed: int) -> Kill:
    """Let an app tap on this season file, kill it after a random number of shown taps, and look."""
    rng = random.Random(seed)
    child = subprocess.Popen(
        [sys.executable, str(_CHILD), str(path), str(seed)],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        env=os.environ | {"KIVY_LOG_MODE": "PYTHON"},
    )
    resumed_on = child.stdout.readline().split()[1]
    lines = [child.stdout.readline() for _ in range(rng.randrange(3, 60))]
    child.send_signal(signal.SIGKILL)
    rest = child.communicate()[0].splitlines()
    shown = [line.split() for line in lines + rest if line.startswith("shown") and len(line.split()) == 3]
    return _look(path, resumed_on, int(shown[-1][1]), shown[-1][2])


def _look(path: Path, resumed_on: str, total: int, last: str) -> Kill:
    with sqlite3.connect(path) as connection:
        (integrity,) = connection.execute("PRAGMA integrity_check").fetchone()
        there = last == "undone" or bool(
            connection.execute("SELECT 1 FROM tally WHERE id = ?", (bytes.fromhex(last),)).fetchone()
        )
    connection.close()
    with open_season(path) as season:
        kept = season.log.count()
    return Kill(resumed_on, total, kept, there, integrity)
