"""Kill the closing of a season 50 times, each at another moment: everybody is there, or not a byte of a name.

python tests/bench/bench_close_kills.py
"""

import os
import random
import shutil
import signal
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1] / folder) for folder in ("worlds", "harness")]

from erasable_season import EARLIER, ZORA, noted
from lanterns_season import PLAYERS
from name_search import where_named

from evaltrack.store.opening import open_season

KILLS = 50
NAMES = (ZORA.name, *EARLIER, *(player.name for player in PLAYERS))


def main() -> int:
    """Print how many kills left which state, and fail when one left another."""
    chance, before, after, bad = random.Random(3), 0, 0, 0
    with tempfile.TemporaryDirectory() as folder:
        os.environ["EVALTRACK_HOME"] = folder
        whole = noted(Path(folder) / "whole.db", tallies=5000, practices=20)
        took = _timed(Path(shutil.copy(whole, Path(folder) / "timed.db")))
        for nth in range(KILLS):
            place = Path(folder) / f"{nth}"
            place.mkdir()
            path = Path(shutil.copy(whole, place / "lanterns.db"))
            _killed(path, chance.uniform(0, 1.15 * took))
            if _is_whole(path):
                before += 1
                close(path)
            else:
                after += 1
            bad += bool(where_named(place, *NAMES))
    print(
        f"closing takes {took:.2f} s; {KILLS} kills: {before} before, {after} after, {bad} with a name left"
    )
    return int(bad > 0 or not before or not after)


def close(path: Path) -> None:
    """Close the season."""
    with open_season(path) as season:
        season.forget(date(2026, 4, 10), "bench")


def _is_whole(path: Path) -> bool:
    """Say whether everybody is there with all tallies, or nobody with as many; fail on anything else."""
    with open_season(path) as season:
        there, count = len(season.people.everyone()), season.log.count()
        assert there in (0, len(PLAYERS) + 1), there
        assert (count, bool(season.life.closed()), season.checks.findings()) == (4998, not there, [])
    return bool(there)


def _timed(path: Path) -> float:
    began = time.perf_counter()
    close(path)
    return time.perf_counter() - began


def _killed(path: Path, seconds: float) -> None:
    child = os.fork()
    if child == 0:
        try:
            close(path)
        finally:
            os._exit(0)
    time.sleep(seconds)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)


if __name__ == "__main__":
    sys.exit(main())
