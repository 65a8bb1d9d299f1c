"""How soon a tally is in the standings, what a warm start saves, and whether the screen stutters meanwhile.

    python tests/bench/bench_live.py [--tallies 100000] [--waits 40] [--taps 600] [--minutes 2]

First each fit sets out from the last one, and then from nothing, on the same file. Then the whole app runs,
without pixels, at 60 turns a second, with real touches on its board: each tally is waited for until the
standings have it; and taps are made with the standings following as the app does, with new ones asked for
after every tap, which is the most that can be, and without, block by block in turn.
Drawing by software, which no tablet does, is not measured, nor is the wait for the next turn after a touch,
which is the same for both. The process beside the app gives way to all others: on a machine that has other
things to do the times grow, and ratios and the processor's own time say more.
"""

import argparse
import os
import random
import statistics
import tempfile
import time
from datetime import date
from pathlib import Path

import at_home  # noqa: F401

os.environ["KIVY_LOG_MODE"] = "PYTHON"
os.environ["OPENBLAS_NUM_THREADS"] = "1"  # as in the process beside the app

import headless

headless.install()

from bench_million_tallies import make
from driver import Driver, Finger
from seasons_for_touch import demo_season

from evaltrack.analysis.standings.standing import COLUMNS
from evaltrack.touch.app import EvaltrackApp
from evaltrack.words.wording import direction_words, is_firm, level_words, told

FIGURES = COLUMNS[7:17]
FRAME = 1 / 60


def main() -> None:
    """Print all three parts."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--tallies", type=int, default=100_000, help="in the large season")
    parser.add_argument("--waits", type=int, default=40, help="tallies that are waited for, one by one")
    parser.add_argument("--taps", type=int, default=600, help="in the burst of 20 a second")
    parser.add_argument("--minutes", type=float, default=2, help="of 8 taps a minute")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["EVALTRACK_HOME"] = folder
        demo, large = Path(folder) / "demo.db", Path(folder) / "large.db"
        demo_season(demo)
        make(large, options.tallies)
        for path in (demo, large):
            compare_starts(path, min(options.waits, 12))
            app = Bench(path)
            time_standings(app, options.waits)
            if path is demo:
                compare_taps(app, "20 a second", 20, options.taps)
                compare_taps(app, "8 a minute", 8 / 60, round(8 * options.minutes))
            app.driver.close()


class Bench:
    """The app on its board in a practice, and a finger for it."""

    def __init__(self, path: Path):
        self.driver = Driver(EvaltrackApp(path))
        self.desk = self.driver.app.desk
        self.desk.begin(date(2026, 3, 3), self.desk.players, "breakout_attack", "two_on_one", "Ines")
        self.driver.app.go("board")
        self.driver.settle()
        self.board = next(w for w in self.driver.app.screens.current_screen.walk() if hasattr(w, "layout"))
        self.review = self.driver.app.review
        self.committed = 0.0
        self.desk.bind(on_tallied=self._note)
        self.chance = random.Random(1)
        self.turned = time.perf_counter()

    def _note(self, *_) -> None:
        self.committed = time.perf_counter()

    def turn(self) -> tuple[float, float]:
        """Sleep until the next turn is due and do it: how late it began, and how long it took."""
        due = self.turned + FRAME
        time.sleep(max(0.0, due - time.perf_counter()))
        start = time.perf_counter()
        self.driver.frames(1)
        self.turned = max(due, start)
        return start - due, time.perf_counter() - start

    def tap(self) -> tuple[float, float]:
        """Put a finger on a tile: how long until its tally was on disk, and until its frame was drawn."""
        place = self.chance.choice([n for n, face in enumerate(self.board.faces) if face and face.here])
        tile = self.board.layout.tile(place)
        finger = Finger(tile.x + tile.width * self.chance.choice((0.3, 0.7)), tile.y + tile.height / 2)
        start = time.perf_counter()
        finger.down()
        self.driver.frames(1)
        drawn = time.perf_counter()
        finger.up()
        assert start < self.committed < drawn, self.desk.message
        return self.committed - start, drawn - start

    def wait(self, condition) -> None:
        """Turn until the condition holds."""
        end = time.perf_counter() + 600
        while not condition():
            assert time.perf_counter() < end, "timed out"
            self.turn()

    @property
    def tries(self) -> int:
        """The tries in the standings at hand."""
        return sum(one.tries for one in self.review.standings)


def time_standings(bench: Bench, count: int) -> None:
    """Print the time from a tally's commit to standings that have it, for the first one and for others."""
    before = bench.desk.season.log.count()
    bench.tap()
    bench.review.follow()
    bench.wait(lambda: bench.review.state == "ready")
    cold = time.perf_counter() - bench.committed
    times = []
    for _ in range(count):
        tries = bench.tries
        bench.tap()
        bench.wait(lambda tries=tries: bench.tries > tries)
        times.append(time.perf_counter() - bench.committed)
    print(
        f"  from a tally's commit to standings on the screens' side that have it, {before:,} tallies before"
    )
    print(f"    the first, with the start of the process: {cold:.2f} s")
    median, late = statistics.median(times), _quantile(times, 0.99)
    print(f"    then {count}: median {median:.3f} s, p99 {late:.3f} s (goal 1 s)", flush=True)


def compare_starts(path: Path, count: int) -> None:
    """Print what standings cost from where the last came to rest and from nothing, and whether they agree."""
    from dataclasses import replace

    from evaltrack.analysis.standings.live import LiveStandings
    from evaltrack.analysis.standings.standings import read_standings
    from evaltrack.rink.ident import new_id
    from evaltrack.store.opening import open_season

    live, clocks = LiveStandings(), {"by the clock": time.perf_counter, "of the processor": time.process_time}
    live.read(path)
    spent, apart, other = {}, 0.0, 0
    with open_season(path) as season:
        tallies = season.log.tallies(practice=season.practices.all()[-2].key)
        print(f"\n{season.log.count():,} tallies, {count} times one more")
        for number in range(count):
            season.log.add(replace(random.Random(number).choice(tallies), id=new_id()))
            warm = _timed(spent, "warm", clocks, lambda: live.read(path)[1])
            cold = _timed(spent, "cold", clocks, lambda: read_standings(season))
            for ours, theirs in zip(warm, cold, strict=True):
                apart = max(apart, *(abs(getattr(ours, name) - getattr(theirs, name)) for name in FIGURES))
                other += _words(ours) != _words(theirs)
    for name in clocks:
        warm_times, cold_times = spent["warm", name], spent["cold", name]
        ratio = statistics.median(w / c for w, c in zip(warm_times, cold_times, strict=True))
        medians = f"{statistics.median(warm_times):.3f} s, cold {statistics.median(cold_times):.3f} s"
        print(f"  standings, warm {medians} {name}: median ratio of the pairs {ratio:.2f}")
    print(f"  largest difference of any share or chance {apart:.0e};", end=" ")
    print(f"{other} of {count * len(warm)} standings in other words", flush=True)


def _timed(spent: dict, kind: str, clocks: dict, work):
    before = {name: clock() for name, clock in clocks.items()}
    result = work()
    for name, clock in clocks.items():
        spent.setdefault((kind, name), []).append(clock() - before[name])
    return result


def _words(one) -> tuple:
    """Return what the screens say of a standing."""
    said = (told(one), one.call, one.trend)
    return (*said, level_words(one), direction_words(one)) if is_firm(one) else said


def compare_taps(bench: Bench, name: str, rate: float, count: int) -> None:
    """Tap in each way, block by block in turn, and print what was waited for."""
    ways = {
        "following": bench.review._follow,
        "always asked": lambda *_: bench.review.refresh(),
        "without": lambda *_: None,
    }
    found = {way: ([], [], [], []) for way in ways}
    blocks = max(1, min(10, count // 4))
    bench.desk.unbind(changed=bench.review._follow)
    for block in range(len(ways) * blocks):
        way = list(ways)[block % len(ways)]
        bench.wait(lambda: bench.review.state == "ready")
        bench.desk.bind(changed=ways[way])
        _block(bench, rate, count // blocks, *found[way])
        bench.desk.unbind(changed=ways[way])
    bench.desk.bind(changed=bench.review._follow)
    print(f"\ntaps at {name}, {len(found['without'][0])} in each way: {' / '.join(ways)}, in ms")
    parts = ("touch to commit", "touch to its frame drawn", "work in a turn", "turn begun too late by")
    for part, words in enumerate(parts):
        for pick, share in (("median", 0.5), ("p99", 0.99), ("longest", 1.0)):
            times = [_quantile(found[way][part], share) * 1000 for way in ways]
            ratios = " and ".join(f"{one / times[-1]:.2f}" for one in times[:-1])
            print(
                f"  {words}, {pick}: {' / '.join(f'{one:.2f}' for one in times)}, ratios {ratios}", flush=True
            )


def _block(
    bench: Bench, rate: float, count: int, commits: list, frames: list, turns: list, late: list
) -> None:
    due = time.perf_counter()
    for _ in range(count):
        due += bench.chance.expovariate(rate)
        while time.perf_counter() < due:
            lateness, took = bench.turn()
            late.append(lateness)
            turns.append(took)
        commit, frame = bench.tap()
        commits.append(commit)
        frames.append(frame)


def _quantile(values: list[float], share: float) -> float:
    return sorted(values)[round(share * (len(values) - 1))]


if __name__ == "__main__":
    main()
