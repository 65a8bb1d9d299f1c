"""Kill a process while it makes a backup or brings one back, and look at what is left."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from child import PROCESSES, environment

from evaltrack.device.backup_places import backups_folder, backups_of
from evaltrack.errors import EvaltrackError
from evaltrack.store.backups.restoring import opened_backup
from evaltrack.store.opening import open_season

_CHILD = PROCESSES / "backing_up.py"


@dataclass(frozen=True)
class Left:
    """What one kill left: how the process ended, tallies in the file and in each backup, what is wrong."""

    ended: str
    tallies: int
    backups: tuple[int, ...]
    wrong: tuple[str, ...]


def kill_each(what: str, steps: Iterable[str], season: Path, backup: Path, folder: Path) -> list[Left]:
    """Kill one process at each step, each with a season file and an app's folder of its own, and look.

    Parameters
    ----------
    what : ``backup`` or ``restore``.
    steps : each the number of an act on a file, or seconds with a point.
    """
    command, places = [sys.executable, str(_CHILD), what, str(backup)], []
    for nth, step in enumerate(steps):
        home, path = folder / f"home-{nth}", folder / f"season-{nth}.db"
        for ending in ("", "-wal"):
            if os.path.exists(f"{season}{ending}"):
                shutil.copy(f"{season}{ending}", f"{path}{ending}")
        command += [step, str(path), str(home)]
        places.append((path, home))
    told = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=True, env=environment()).stdout
    return [_look(*place, ended, backup) for place, ended in zip(places, told.splitlines(), strict=True)]


def _look(path: Path, home: Path, ended: str, source: Path) -> Left:
    wrong = [ended] if ended.startswith("failed") else []
    before = os.environ.get("EVALTRACK_HOME", "")
    os.environ["EVALTRACK_HOME"] = str(home)
    try:
        with open_season(path) as season:
            tallies, ident = season.log.count(), season.ident
            wrong += season.checks.findings()
        counts = []
        for one in backups_of(ident):
            with opened_backup(one.path) as backup:
                counts.append(backup.log.count())
        with opened_backup(source):
            pass  # whoever comes next clears away
        if list(backups_folder().glob("opened*")):
            wrong.append("a copy was left behind")
        return Left(ended, tallies, tuple(counts), tuple(wrong))
    except EvaltrackError as error:
        return Left(ended, -1, (), (*wrong, str(error)))
    finally:
        os.environ["EVALTRACK_HOME"] = before
