"""Packs written and joined: how long it takes, what tablets come to, what hostile packs do, what kills leave.

Run it from the top of the checkout: ``python tests/bench/bench_packs.py [--hostile 10000] [--worlds 100]
[--kills 50] [--tallies 6000 100000]``. Times are of whole processes, with one that only opens the season
beside them.
"""

import argparse
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

import at_home  # noqa: F401
from lanterns_season import DRILLS, OBSERVERS, PLAYERS, PRACTICES, SKILLS, TEAM, tally
from pack_damage import rows_of, tampered
from three_tablets import ACTS, ThreeTablets

from evaltrack.errors import EvaltrackError
from evaltrack.paper.tables.practices import read_held
from evaltrack.rink.ident import new_id
from evaltrack.rink.practice import Practice
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season
from evaltrack.store.packs.pack_file import read_pack

_ROOT = Path(__file__).resolve().parents[2]
_DAYS = [
    Practice(f"{2025 + m // 12}-{m % 12 + 1:02}-{d:02}", None) for m in range(8, 16) for d in range(1, 9)
]


def template(folder: Path) -> Path:
    """Make a season without a tally."""
    path = folder / "template.db"
    with create_season(path, **TEAM, players=PLAYERS, skills=SKILLS, drills=DRILLS) as season:
        season.practices.add(PRACTICES)
        for name in OBSERVERS:
            season.people.add_observer(name)
    return path


def with_tallies(path: Path, count: int) -> Path:
    """Fill a season with tallies of sixty practices."""
    from datetime import date

    days = [Practice(one.key, date.fromisoformat(one.key)) for one in _DAYS]
    players = [player.id for player in PLAYERS]
    with open_season(path) as season:
        season.log.add_many(
            days,
            [
                tally(n, practice=days[n % len(days)].key, player=players[n % 5], tablet="bench", id=new_id())
                for n in range(count)
            ],
        )
    return path


def speed(folder: Path, count: int) -> None:
    """Print how long whole processes take to pack and to join so many tallies, and what memory."""
    base = template(folder)
    one, other = (Path(shutil.copy(base, folder / f"{name}-{count}.db")) for name in ("one", "other"))
    with_tallies(one, count)
    pack = folder / f"{count}.pack"
    for name, words in (
        ("open only", ["practices", other]),
        ("pack", ["pack", one, "--out", pack]),
        ("join", ["join", other, pack]),
        ("join again", ["join", other, pack]),
    ):
        began, before = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([sys.executable, "-m", "evaltrack", *map(str, words)], check=True, capture_output=True)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        used = after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime
        wall = time.perf_counter() - began
        print(f"  {count:>7,} tallies  {name:<10}  {wall:6.2f} s, {used:5.2f} s of the processor")
    size, memory = pack.stat().st_size / 1000, after.ru_maxrss / 1000
    print(f"  {count:>7,} tallies  the pack has {size:,.0f} kB; most memory {memory:,.0f} MB")


def worlds(folder: Path, count: int) -> None:
    """Print what came of three tablets at random, so many times."""
    base, met, unequal = template(folder), Counter(), 0
    for seed in range(count):
        place = folder / str(seed)
        place.mkdir()
        world = ThreeTablets(base, place, random.Random(seed))
        for _ in range(60):
            world.act(world.chance.randrange(3), world.chance.choice(ACTS))
        world.settle()
        first, *others = world.dumps()
        tallies = {row[0] for row in first["tally"]} == {ident.bytes for ident in world.made}
        unequal += any(other != first for other in others) or not tallies or len(set(world.practices())) > 1
        met += world.met
        world.close()
        shutil.rmtree(place)
    print(f"  {count} seasons on three tablets: {unequal} unequal at the end; met {dict(met)}")


def hostile(folder: Path, count: int) -> None:
    """Print what came of so many packs changed by chance, each with a digest that goes with it."""
    base, chance, came, slowest = template(folder), random.Random(7), Counter(), 0.0
    place = folder / "hostile"
    place.mkdir()
    world = ThreeTablets(base, place, chance, (0, 0, 0))
    for _ in range(250):
        world.act(chance.randrange(3), chance.choice(ACTS))
    world.settle()
    content = world.tablets[0].season.packs.pack("A")
    fresh = folder / "fresh.db"
    for n in range(count):
        shutil.copy(base, fresh)
        with open_season(fresh) as season:
            before = rows_of(season) if n % 20 == 0 else None
            made, began = tampered(content, chance), time.process_time()
            try:
                season.packs.join([("a.pack", read_pack("a.pack", made))])
                read_held(season)
                came["taken in"] += 1
            except EvaltrackError as error:
                came["refused"] += 1
                came["no sentence"] += not str(error).isprintable() or len(str(error)) > 600
                came["changed all the same"] += before is not None and rows_of(season) != before
            except Exception as error:
                came[f"{type(error).__name__}: {str(error)[:60]}"] += 1
            slowest = max(slowest, time.process_time() - began)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000
    print(f"  {count:,} hostile packs: {dict(came)}; slowest {slowest:.2f} s, most memory {memory:,.0f} MB")
    world.close()


def kills(folder: Path, count: int) -> None:
    """Print what is left after a process was killed during a pack or a join, so many times each."""
    base = template(folder)
    one = with_tallies(Path(shutil.copy(base, folder / "killed.db")), 3000)
    full = folder / "full.pack"
    command = [sys.executable, "-m", "evaltrack"]
    whole = {}
    for name, words in (
        ("pack", [one, "--out", full]),
        ("join", [Path(shutil.copy(base, folder / "j.db")), full]),
    ):
        began = time.perf_counter()
        subprocess.run([*command, name, *map(str, words)], check=True, capture_output=True)
        whole[name] = time.perf_counter() - began
    chance, left = random.Random(11), Counter()
    for n in range(2 * count):
        other = Path(shutil.copy(base, folder / f"left-{n}.db"))
        target = folder / f"left-{n}.pack"
        words = ["join", other, full] if n % 2 else ["pack", one, "--out", target]
        child = subprocess.Popen(
            [*command, *map(str, words)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        time.sleep(chance.uniform(0.4, 1.3) * whole[words[0]])
        child.send_signal(signal.SIGKILL)
        child.wait()
        left[_state(n % 2, other, target)] += 1
    print(f"  {2 * count} kills: {dict(left)}")


def _state(joining: int, other: Path, target: Path) -> str:
    if not joining:
        return (
            "no pack"
            if not target.exists()
            else f"a pack, {read_pack('', target.read_bytes()).counts()['tally']} tallies"
        )
    with open_season(other) as season:
        return f"joined {season.log.count()}"


def main() -> None:
    """Do what was asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--hostile", type=int, default=10_000)
    parser.add_argument("--worlds", type=int, default=100)
    parser.add_argument("--kills", type=int, default=50)
    parser.add_argument("--tallies", type=int, nargs="*", default=[6_000, 100_000])
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        os.environ |= {"EVALTRACK_HOME": place, "PYTHONPATH": str(_ROOT)}
        for name, todo in (("hostile", hostile), ("worlds", worlds), ("kills", kills)):
            folder = Path(place, name)
            folder.mkdir()
            if count := getattr(asked, name):
                todo(folder, count)
        for count in asked.tallies:
            folder = Path(place, str(count))
            folder.mkdir()
            speed(folder, count)


if __name__ == "__main__":
    main()
