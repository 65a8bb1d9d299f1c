"""Time from touch down to commit through the whole app, and from start to the first touch, as ratios.

    python tests/bench/bench_touch.py [--taps 2000] [--starts 7] [--returns 7]

The commit is compared with a bare sqlite3 commit of the same row into the same kind of file on the same
disk, tap by tap in turn; the start with a bare Kivy window that shows one button, process by process in
turn. No display is needed. ``starts.py`` says how software rendering, which no tablet does, is told apart.
"""

import argparse
import os
import sqlite3
import tempfile
import time
from datetime import date
from pathlib import Path

import at_home  # noqa: F401

os.environ["KIVY_LOG_MODE"] = "PYTHON"

from starts import time_returns, time_starts


def main() -> None:
    """Print the ratios."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--taps", type=int, default=2000)
    parser.add_argument("--starts", type=int, default=7)
    parser.add_argument("--returns", type=int, default=7)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["EVALTRACK_HOME"] = folder
        path = Path(folder) / "season.db"
        time_commits(path, options.taps)
        time_starts(path.with_name("starts.db"), options.starts)
        time_returns(path.with_name("starts.db"), options.returns)


def time_commits(path: Path, taps: int) -> None:
    """Tap through the app and commit the same rows barely, in turn, and print the ratios."""
    import headless

    headless.install()
    from driver import Driver
    from seasons_for_touch import new_season

    from evaltrack.touch.app import EvaltrackApp

    driver = Driver(EvaltrackApp(new_season(path)))
    desk = driver.app.desk
    desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    committed = _moments_of_commit(desk.season.log)
    bare = _bare_file(path.with_name("bare.db"))
    _tap(driver, 0, committed)
    ours, theirs = [], []
    for number in range(1, taps):
        # each goes first in turn: whoever comes second may wait for the disk's work for the other
        if number % 2:
            theirs.append(_bare_commit(bare, desk.last(1)[0]))
        ours.append(_tap(driver, number, committed))
        if not number % 2:
            theirs.append(_bare_commit(bare, desk.last(1)[0]))
    bare.close()
    assert desk.total == taps
    driver.close()
    _print_commits(ours, theirs)


def _tap(driver, number: int, committed: list[float]) -> float:
    """Tap a tile and return the seconds from touch down to the commit."""
    from driver import Finger

    board = driver.app.screens.current_screen.ids.board
    tile = board.layout.tile(number * 7 % len(board.faces))
    finger = Finger(tile.x + tile.width * 0.75, tile.y + tile.height * 0.4)
    start = time.perf_counter()
    finger.down()
    driver.frames(1)
    finger.up()
    driver.frames(1)
    return committed[-1] - start


def _print_commits(ours: list[float], theirs: list[float]) -> None:
    print(f"touch down to commit, {len(ours)} taps, against a bare commit of the same row")
    for name, pick in (("median", 0.5), ("p99", 0.99)):
        a, b = _quantile(ours, pick), _quantile(theirs, pick)
        print(f"  {name}: {a * 1000:.3f} ms against {b * 1000:.3f} ms, ratio {a / b:.2f}")


def _moments_of_commit(log) -> list[float]:
    moments, add = [], log.add

    def timed(tally):
        add(tally)
        moments.append(time.perf_counter())

    log.add = timed
    return moments


def _bare_file(path: Path) -> sqlite3.Connection:
    """Return a file with one plain table, without keys, indexes or rules, as durable as ours."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute(
        "CREATE TABLE tally (id, practice, player, skill, skill_version, outcome, pressure, drill,"
        " step, observer, rep, slot, tablet, at)"
    )
    return connection


def _bare_commit(connection, tally) -> float:
    from evaltrack.store.log import _row

    row = _row(tally)
    start = time.perf_counter()
    connection.execute("INSERT INTO tally VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", row)
    return time.perf_counter() - start


def _quantile(values: list[float], share: float) -> float:
    return sorted(values)[int(share * (len(values) - 1))]


if __name__ == "__main__":
    main()
