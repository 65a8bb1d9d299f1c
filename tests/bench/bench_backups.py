"""What a backup costs whoever taps, how long it takes, and what is left when it is killed at random moments.

Run it from the top of the checkout: ``python tests/bench/bench_backups.py [--taps 600] [--kills 50]``.
Taps are committed in turns with and without a backup beside them, as the app makes one after each practice.
"""

import argparse
import os
import random
import re
import statistics
import tempfile
import time
from collections import Counter
from functools import partial
from pathlib import Path

os.environ |= {"KIVY_NO_ARGS": "1", "KIVY_NO_CONSOLELOG": "1"}
import at_home  # noqa: F401
from backup_killing import kill_each
from seasons_for_touch import demo_season

from evaltrack.device import sealing
from evaltrack.device.backup_places import Why
from evaltrack.store.backups.keeping import keep_backup, write_backup
from evaltrack.store.backups.restoring import bring_back, opened_backup
from evaltrack.store.opening import open_season

WORDS = "kettle lantern slush"


def timed(what: str, work) -> None:
    """Print how long something takes, the median of three times."""
    took = []
    for _ in range(3):
        began = time.perf_counter()
        work()
        took.append(time.perf_counter() - began)
    print(f"{what}: {1000 * statistics.median(took):.0f} ms")


def times(path: Path) -> None:
    """Print how long each act takes with the demo season."""
    folder = path.parent
    with open_season(path) as season:
        print(f"the demo season: {season.log.count():,} tallies, {path.stat().st_size / 1e6:.1f} MB")
        timed("a backup", lambda: keep_backup(season, Why.ASKED))
        timed("a check", season.checks.findings)
        timed("a sealed backup", lambda: write_backup(season, folder / f"{time.time_ns()}.age", WORDS))
        kept = keep_backup(season, Why.ASKED)

    def restore() -> None:
        with opened_backup(kept) as backup:
            bring_back(backup, path)

    timed("bringing one back", restore)


def paired(path: Path, taps: int) -> None:
    """Print commits of taps with a backup beside them against those without, in turns."""
    from datetime import date

    from evaltrack.rink.tally import Outcome
    from evaltrack.touch.desk.desk import Desk
    from evaltrack.touch.worker.backup_tasks import back_up_now
    from evaltrack.touch.worker.worker import Worker

    desk, worker = Desk(), Worker()
    assert desk.open(path), desk.message
    desk.begin(date(2026, 1, 20), desk.players, desk.drills[0].key, desk.drills[0].steps[0].key, "Ines")
    took: dict[bool, list[float]] = {True: [], False: []}
    asked = []
    for nth in range(taps):
        beside = nth // 20 % 2 == 0
        if beside and nth % 20 == 0:
            began = time.thread_time()
            worker.ask(partial(back_up_now, path), len, len)
            asked.append(time.thread_time() - began)
        time.sleep(0.01)
        began = time.perf_counter()
        assert desk.tally(desk.players[nth % len(desk.players)].id, Outcome.DONE)
        took[beside].append(time.perf_counter() - began)
    worker.close()
    with_one, without = (statistics.median(took[beside]) * 1000 for beside in (True, False))
    late, usual = (statistics.quantiles(took[beside], n=100)[94] * 1000 for beside in (True, False))
    ratio = with_one / without
    print(f"tap to commit beside a backup {with_one:.2f} ms, without {without:.2f} ms: {ratio:.2f}")
    print(f"95 in 100 within {late:.2f} ms and {usual:.2f} ms: {late / usual:.2f}")
    print(f"to ask for one takes the screens' thread {1000 * max(asked):.2f} ms, of {len(asked)} the longest")
    desk.close()


def kills(path: Path, count: int, folder: Path) -> None:
    """Print what so many kills at random moments of a backup and of a restore leave."""
    chance = random.Random(1)
    with open_season(path) as season:
        before = season.log.count()
        source = keep_backup(season, Why.ASKED)
        keep = folder / "source.db"
        keep.write_bytes(source.read_bytes())
    for what, longest in (("backup", 0.15), ("restore", 0.8)):
        steps = [f"{chance.uniform(0.001, longest):.4f}" for _ in range(count)]
        place = folder / what
        place.mkdir()
        left = kill_each(what, steps, path, keep, place)
        ended = Counter(one.ended for one in left)
        wrong = [one.wrong for one in left if one.wrong or one.tallies != before]
        poor = sum(backup != before for one in left for backup in one.backups)
        print(f"{what}: {dict(ended)}, {len(wrong)} files wrong, {poor} backups that are not whole")
        for one in wrong[:3]:
            print(f"  {one}")


def opens_elsewhere() -> None:
    """Print whether another tool's own file is read where as much memory is allowed as it asks for."""
    import pyrage

    file = pyrage.passphrase.encrypt(b"gap at the line", WORDS)
    work = int(re.search(rb"-> scrypt \S+ (\d+)\n", file)[1])
    before, sealing._MOST_WORK = sealing._MOST_WORK, work
    same = sealing.opened(file, WORDS) == b"gap at the line"
    sealing._MOST_WORK = before
    print(
        f"a file of another tool, work factor {work}: {'read' if same else 'NOT read'} where that is allowed"
    )


def main() -> None:
    """Read the command line and print all of it."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--taps", type=int, default=600)
    parser.add_argument("--kills", type=int, default=50)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["EVALTRACK_HOME"] = str(Path(folder) / "home")
        path = demo_season(Path(folder) / "lanterns.db")
        times(path)
        opens_elsewhere()
        paired(path, options.taps)
        kills(path, options.kills, Path(folder))


if __name__ == "__main__":
    main()
