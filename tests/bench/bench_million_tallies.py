"""Make season files of 10,000 to a million tallies, then time their cells and `evaltrack standings`.

Run it from the top of the checkout: ``python tests/bench/bench_million_tallies.py [--most 1000000]
[--repeats 3] [--by-rep]``. The standings are a process of their own, measured whole: the median by the clock
and by the processor's time, and the peak memory. The baselines are the same on a hundredth and on a tenth of
the tallies. A practice runs one drill; an observer keeps to his skills. With ``--by-rep`` all tallies are
noted by rep, four in each, of which three have an opponent.
"""

import argparse
import os
import random
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import date, timedelta
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
import at_home  # noqa: F401

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.intake.roster import read_roster
from evaltrack.places import sample_roster
from evaltrack.rink.drill import Slot, drill_named
from evaltrack.rink.practice import Practice, Rep
from evaltrack.rink.rotation.rotation_fact import Change, RotationFact
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season

PRACTICES = 60
GOAL_SECONDS, GOAL_MEGABYTES = 5, 500
FIRST = date(2025, 9, 1)


def make(path: Path, count: int, by_rep: bool = False) -> None:
    """Make a season file with this many tallies, spread over players, skills, steps and practices."""
    skills = read_skills(sample_roster() / "skills.toml")
    drills = read_drills(sample_roster() / "drills.toml", skills)
    players = read_roster(sample_roster() / "roster.csv")
    days = [FIRST + timedelta(days=4 * i) for i in range(PRACTICES)]
    held = [Practice(day.isoformat(), day) for day in days]
    named = {"team": "Kettle Bay Lanterns", "age_class": "12U"}
    with create_season(path, **named, players=players, skills=skills, drills=drills) as season:
        for practice in held:
            if by_rep:
                season.practices.add([practice])
                tallies = _by_rep(season, practice.key, count // PRACTICES, players, drills)
            else:
                tallies = _tallies(practice.key, count // PRACTICES, players, skills, drills)
            season.log.add_many([practice], tallies)


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


def _by_rep(season, practice: str, count: int, players: list, drills: list) -> list[Tally]:
    """Keep the reps of the breakout, and return a tally of each skater's in them."""
    chance, made = random.Random(practice), []
    drill = drill_named(drills, "breakout_attack")
    step, groups = drill.steps[0], {p.id: p.position for p in players}
    skaters = [slot for slot in step.slots if slot.position != "G"]
    with season.together():
        for _ in range(count // len(skaters)):
            order = chance.sample(sorted(groups), len(groups))
            free = {slot.key: [p for p in order if groups[p] == slot.position] for slot in step.slots}
            stood = {"line_d": free["line_d"][0], "breakout_d": free["breakout_d"][1]}
            stood |= {"wall_f": free["wall_f"][0], "middle_f": free["middle_f"][1], "goal": free["goal"][0]}
            rep = Rep(practice, drill.key, step.key, stood)
            season.reps.begin(rep, RotationFact(practice, "", drill.key, step.key, Change.NEXT, rep.id))
            for slot in skaters:
                made.append(_seen_in(chance, rep, slot))
    return made


def _seen_in(chance: random.Random, rep: Rep, slot: Slot) -> Tally:
    outcome, pressure = chance.choice((Outcome.DONE, Outcome.MISSED)), chance.random() < 0.3
    whose = (rep.practice, rep.slots[slot.key], chance.choice(slot.skills), outcome, rep.drill, rep.step)
    return Tally(*whose, "Marit", pressure, rep=rep.id, slot=slot.key)


def cells(path: Path) -> tuple[int, float]:
    """Return how many cells the file gives, and in how many seconds."""
    with open_season(path) as season:
        start = time.perf_counter()
        return len(season.log.cells()), time.perf_counter() - start


def standings(path: Path) -> tuple[float, float, float]:
    """Return the seconds, the processor's seconds and the peak MB of `evaltrack standings`, whole process."""
    line = [sys.executable, "-m", "evaltrack", "standings", str(path), "--format", "csv"]
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    subprocess.run(line, check=True, stdout=subprocess.DEVNULL, env=environment, timeout=600)
    seconds, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    processor = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    # the peak is that of the largest process so far, so the small files have to be measured first
    return seconds, processor, after.ru_maxrss / 1024


def measure(path: Path, count: int, repeats: int, by_rep: bool) -> float:
    """Make a file of so many tallies, print a row of what it costs, and return the processor's seconds."""
    make(path, count, by_rep)
    number, reading = cells(path)
    runs = [standings(path) for _ in range(repeats)]
    seconds, processor, peak = (statistics.median(values) for values in zip(*runs, strict=True))
    size = path.stat().st_size / 1e6
    print(f"{count:>9,}  {size:7.1f}  {number:>7,}  {reading:7.2f}", end="")
    print(f"  {seconds:9.2f}  {processor:9.2f}  {peak:7.0f}", flush=True)
    return processor


def main() -> None:
    """Measure three sizes, each ten times the one before, and print what they cost."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--most", type=int, default=1_000_000)
    parser.add_argument("--repeats", type=int, default=3)
    parser.add_argument("--by-rep", action="store_true")
    known = parser.parse_args()
    print("                           cells            standings, the whole process")
    print("  tallies  file MB   number  seconds    seconds  processor  peak MB")
    with tempfile.TemporaryDirectory() as folder:
        counts = (known.most // 100, known.most // 10, known.most)
        took = [measure(Path(folder) / f"{count}.db", count, known.repeats, known.by_rep) for count in counts]
    print(
        f"ten times the tallies take {took[1] / took[0]:.1f}, then {took[2] / took[1]:.1f} times the work;",
        end="",
    )
    print(f" goal for the last: {GOAL_SECONDS} s, {GOAL_MEGABYTES} MB")


if __name__ == "__main__":
    main()
