"""Kill a tapping app at a random moment and look at what is left of its season file."""

import random
import signal
import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from child import PROCESSES, environment

from evaltrack.store.opening import open_season

_CHILD = PROCESSES / "tapping.py"


@dataclass(frozen=True)
class Kill:
    """What one kill left: how many shown tallies the log lacks, the counts, and the file's health.

    ``shown`` and ``kept`` count what was not undone: on the screen at the last, and in the file. ``copies``
    of the file alone were taken before, and so many of them are ``poor``: they lack something that was shown.
    """

    resumed_on: str
    lost: int
    shown: int
    kept: int
    integrity: str
    copies: int = 0
    poor: int = 0

    @property
    def harmless(self) -> bool:
        """Say whether nothing shown was lost; one tap or one undo may have been on its way."""
        return not (self.lost or self.poor) and abs(self.shown - self.kept) <= 1 and self.integrity == "ok"


def kill_once(path: Path, seed: int, folder: Path | None = None) -> Kill:
    """Let an app tap on this season file, kill it after a random number of shown taps, and look.

    With a ``folder`` the app rests now and then, and the season file is copied there and looked at too.
    """
    rng = random.Random(seed)
    child = subprocess.Popen(
        [sys.executable, str(_CHILD), str(path), str(seed), *([str(folder)] if folder else [])],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        env=environment(KIVY_LOG_MODE="PYTHON"),
    )
    resumed_on = child.stdout.readline().split()[1]
    lines = [child.stdout.readline() for _ in range(rng.randrange(3, 60))]
    child.send_signal(signal.SIGKILL)
    rest = child.communicate()[0].splitlines()
    told = [line.split() for line in lines + rest if len(line.split()) == 3]
    shown = [line for line in told if line[0] == "shown"]
    copies = [_is_poor(folder / line[1], told[:n]) for n, line in enumerate(told) if line[0] == "copied"]
    last = int(shown[-1][1]) if shown else None
    return _look(path, resumed_on, _ids(shown), last, copies)


def _ids(told: list[list[str]]) -> set[bytes]:
    return {bytes.fromhex(line[2]) for line in told if line[0] == "shown" and line[2] != "undone"}


def _is_poor(copy: Path, before: list[list[str]]) -> bool:
    """Say whether a copy of the file alone lacks what was shown before it was made, or counts otherwise."""
    with closing(sqlite3.connect(f"{copy.as_uri()}?immutable=1", uri=True)) as connection:
        sound = connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        lacks = _ids(before) - {row[0] for row in connection.execute("SELECT id FROM tally")}
    with open_season(copy) as season:
        kept = season.log.count()
    last = next((int(line[1]) for line in reversed(before) if line[0] == "shown"), kept)
    return bool(lacks) or not sound or kept != last


def _look(path: Path, resumed_on: str, ids: set[bytes], shown: int | None, copies: list[bool]) -> Kill:
    with closing(sqlite3.connect(path)) as connection:
        (integrity,) = connection.execute("PRAGMA integrity_check").fetchone()
        lost = ids - {row[0] for row in connection.execute("SELECT id FROM tally")}
    with open_season(path) as season:
        kept = season.log.count()
    last = kept if shown is None else shown
    return Kill(resumed_on, len(lost), last, kept, integrity, len(copies), sum(copies))
