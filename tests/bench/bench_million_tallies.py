"""Make a season file of a million tallies, then time its cells and `evaltrack standings` on it.

Run it from the top of the checkout: ``python tests/bench/bench_million_tallies.py [TALLIES]``. The
standings are a process of their own, measured whole: by the clock, by the processor's time, by its peak
memory. The baseline is the same on a tenth of the tallies. A practice runs one drill; an observer keeps to
his skills.
"""

import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from datetime import date, timedelta
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.intake.roster import read_roster
from evaltrack.places import sample_roster
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.opening import create_season, open_season

PRACTICES = 60
FIRST = date(2025, 9, 1)


def make(path: Path, count: int) -> None:
    """Make a season file with this many tallies, spread over players, skills, steps and practices."""
    skills = read_skills(sample_roster() / "skills.toml")
    drills = read_drills(sample_roster() / "drills.toml", skills)
    players = read_roster(sample_roster() / "roster.csv")
    days = [FIRST + timedelta(days=4 * i) for i in range(PRACTICES)]
    held = [Practice(day.isoformat(), day) for day in days]
    named = {"team": "Kettle Bay Lanterns", "age_class": "12U"}
    with create_season(path, **named, players=players, skills=skills, drills=drills) as season:
        for practice in held:
            season.log.add_many(
                [practice], _tallies(practice.key, count // PRACTICES, players, skills, drills)
            )


def _tallies(practice: str, count: int, players: list, skills: list, drills: list):
    chance = random.Random(practice)
    drill = chance.choice(drills)
    suited = {p.id: [s.key for s in skills if s.suits(p.position)] for p in players}
    observers = {skill.key: chance.choice(("Marit", "Edda")) for skill in skills}
    for _ in range(count):
        player = chance.choice(players).id
        skill = chance.choice(suited[player])
        yield Tally(
            practice=practice,
            player=player,
            skill=skill,
            outcome=chance.choice((Outcome.DONE, Outcome.MISSED)),
            drill=drill.key,
            step=chance.choice(drill.steps).key,
            observer=observers[skill],
            pressure=chance.random() < 0.3,
        )


def cells(path: Path) -> tuple[int, float]:
    """Return how many cells the file gives, and in how many seconds."""
    with open_season(path) as season:
        start = time.perf_counter()
        return len(season.log.cells()), time.perf_counter() - start


def standings(path: Path) -> str:
    """Say what `evaltrack standings` costs on the file, the whole process."""
    line = [sys.executable, "-m", "evaltrack", "standings", str(path), "--format", "csv"]
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    subprocess.run(line, check=True, stdout=subprocess.DEVNULL, env=environment, timeout=600)
    seconds, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    processor = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    # the peak is that of the largest process so far, so the small file has to be measured first
    return f"{seconds:.2f} s, {processor:.2f} s of processor time, {after.ru_maxrss / 1024:.0f} MB"


def main() -> None:
    """Measure both sizes and print what they cost."""
    most = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    with tempfile.TemporaryDirectory() as folder:
        for count in (most // 10, most):
            path = Path(folder) / f"{count}.db"
            make(path, count)
            number, seconds = cells(path)
            print(f"{count:>9,} tallies, {path.stat().st_size / 1e6:.0f} MB")
            print(f"          {number} cells in {seconds:.2f} s")
            print(f"          standings, whole process: {standings(path)}", flush=True)


if __name__ == "__main__":
    main()
