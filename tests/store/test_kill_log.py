"""A tally that was shown is on disk, whenever the process is killed."""

import os
import random
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest
from child import environment

from evaltrack.store.opening import open_season

KILLS = 15
MOST_TALLIES = 120

OBSERVER = """
import os, sys
from lanterns_season import tally
from evaltrack.store.opening import open_season
season = open_season(sys.argv[1])
for n in range(int(sys.argv[2]), 10**9):
    season.log.add(tally(n))
    if n % 10 == 0:
        season.write_back()  # so that kills fall within that too
    os.write(1, b"%d\\n" % n)
"""


@pytest.mark.skipif(os.name == "nt", reason="Windows has no SIGKILL")
def test_no_shown_tally_is_lost_when_the_process_is_killed(season_path):
    """Fifteen kills at seeded moments: all that was reported is there, at most one more, no damage."""
    chance = random.Random(20251004)
    shown: set[int] = set()
    for kill in range(KILLS):
        shown |= _tap_and_kill(season_path, (kill + 1) * 100_000, chance)
        with open_season(season_path) as season:
            found = {tally.id.int - 1000 for tally in season.log.tallies()}
        assert shown <= found
        assert len(found - shown) <= kill + 1  # committed, and killed before it was reported
    with closing(sqlite3.connect(season_path)) as other:
        assert other.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert other.execute("PRAGMA foreign_key_check").fetchall() == []


def _tap_and_kill(path: Path, first: int, chance: random.Random) -> set[int]:
    """Let a process tally until a moment of chance, kill it, and return what it reported."""
    command = [sys.executable, "-c", OBSERVER, path, str(first)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, env=environment()) as observer:
        lines = [observer.stdout.readline() for _ in range(chance.randint(1, MOST_TALLIES))]
        moment = time.perf_counter() + chance.uniform(0, 0.002)  # somewhere within the next tallies
        while time.perf_counter() < moment:
            pass
        observer.kill()
        lines += observer.stdout.readlines()
    assert observer.returncode == -9
    return {int(line) for line in lines if line.endswith(b"\n")}
