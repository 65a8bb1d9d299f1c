"""Kill a tapping app at a random moment and look at what is left of its season file."""

import os
import random
import signal
import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from evaltrack.store.opening import open_season

_CHILD = Path(__file__).with_name("tapping.py")


@dataclass(frozen=True)
class Kill:
    """What one kill left: how many shown tallies the log lacks, the counts, and the file's health.

    ``shown`` and ``kept`` count what was not undone: on the screen at the last, and in the file.
    """

    resumed_on: str
    lost: int
    shown: int
    kept: int
    integrity: str

    @property
    def harmless(self) -> bool:
        """Say whether nothing shown was lost; one tap or one undo may have been on its way."""
        return not self.lost and abs(self.shown - self.kept) <= 1 and self.integrity == "ok"


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
    ids = {bytes.fromhex(line[2]) for line in shown if line[2] != "undone"}
    return _look(path, resumed_on, ids, int(shown[-1][1]))


def _look(path: Path, resumed_on: str, ids: set[bytes], shown: int) -> Kill:
    with closing(sqlite3.connect(path)) as connection:
        (integrity,) = connection.execute("PRAGMA integrity_check").fetchone()
        lost = ids - {row[0] for row in connection.execute("SELECT id FROM tally")}
    with open_season(path) as season:
        kept = season.log.count()
    return Kill(resumed_on, len(lost), shown, kept, integrity)
