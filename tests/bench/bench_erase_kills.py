"""Kill an erasure 50 times, each at another moment: the file has the player, or not a byte of the name.

python tests/bench/bench_erase_kills.py
"""

import os
import random
import shutil
import signal
import sys
import tempfile
import time
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1] / folder) for folder in ("worlds", "harness")]

from erasable_season import EARLIER, ZORA, noted
from erasing_killed import erase, is_there
from name_search import where_named

KILLS = 50


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
            if is_there(path):
                before += 1
                erase(path)
            else:
                after += 1
            bad += bool(where_named(place, ZORA.name, *EARLIER))
    print(
        f"erasing takes {took:.2f} s; {KILLS} kills: {before} before, {after} after, {bad} with the name left"
    )
    return int(bad > 0 or not before or not after)


def _timed(path: Path) -> float:
    began = time.perf_counter()
    erase(path)
    return time.perf_counter() - began


def _killed(path: Path, seconds: float) -> None:
    child = os.fork()
    if child == 0:
        try:
            erase(path)
        finally:
            os._exit(0)
    time.sleep(seconds)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)


if __name__ == "__main__":
    sys.exit(main())
