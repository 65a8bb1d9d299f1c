"""Make backups or bring one back, each in a process of its own that is ended in the middle.

python backing_up.py backup|restore BACKUP.db STEP SEASON.db HOME [STEP SEASON.db HOME ...]

A whole STEP kills the process at its so manyth act on a file, one with a point after so many seconds. HOME is
the app's folder. What comes of each is told on stdout: ``done`` or ``killed``.
"""

import os
import signal
import sys
from pathlib import Path

from evaltrack.device.backup_places import Why
from evaltrack.store.backups.keeping import keep_backup
from evaltrack.store.backups.restoring import bring_back, opened_backup
from evaltrack.store.opening import open_season

_ACTS = (
    "open",
    "sqlite3.connect",
    "os.rename",
    "os.remove",
    "os.mkdir",
    "os.link",
    "os.chmod",
    "os.truncate",
)


def kill_at(step: int) -> None:
    """Let this process kill itself at an act on a file."""
    left = [step]

    def count(event: str, _) -> None:
        if event in _ACTS:
            left[0] -= 1
            if left[0] == 0:
                os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(count)


def work(what: str, season: Path, backup: Path) -> None:
    """Do it once."""
    if what == "backup":
        with open_season(season) as opened:
            keep_backup(opened, Why.ASKED)
        return
    with opened_backup(backup) as opened:
        bring_back(opened, season)


def in_its_own_process(what: str, backup: str, step: str, season: str, home: str) -> str:
    """Fork, so that the imports are paid once, and return how it ended."""
    if (child := os.fork()) == 0:
        os.environ["EVALTRACK_HOME"] = home
        if "." in step:
            signal.signal(signal.SIGALRM, signal.SIG_DFL)  # which ends the process at once
            signal.setitimer(signal.ITIMER_REAL, float(step))
        else:
            kill_at(int(step))
        work(what, Path(season), Path(backup))
        os._exit(0)
    code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    return "done" if code == 0 else "killed" if code < 0 else f"failed {code}"


if __name__ == "__main__":
    kind, source, *rest = sys.argv[1:]
    for each in zip(rest[::3], rest[1::3], rest[2::3], strict=True):
        print(in_its_own_process(kind, source, *each), flush=True)
