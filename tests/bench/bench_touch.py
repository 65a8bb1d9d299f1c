"""Time from touch down to commit through the whole app, and from start to the first touch, as ratios.

    python tests/bench/bench_touch.py [--taps 2000] [--starts 7]

The commit is compared with a bare sqlite3 commit of the same row into the same kind of file on the same
disk, tap by tap in turn; the start with a bare Kivy window that shows one button, process by process in
turn. No display is needed: drawing goes to a window without pixels, so that software rendering, which no
tablet does, is not measured.
"""

import argparse
import ctypes.util
import os
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

_WINDOW = str(Path(__file__).parents[1] / "window")
sys.path.insert(0, _WINDOW)
os.environ["KIVY_LOG_MODE"] = "PYTHON"

_BARE = """
import sys; sys.path.insert(0, sys.argv[1])
if len(sys.argv) > 3: import headless; headless.install()
from kivy.app import App
from kivy.uix.button import Button
from driver import Driver
class Bare(App):
    def load_kv(self, *args, **kwargs): pass
    def build(self): return Button(text='one')
driver = Driver(Bare()); driver.tap((640, 400))
import os; os._exit(0)
"""
_OURS = """
import sys; sys.path.insert(0, sys.argv[1])
if len(sys.argv) > 3: import headless; headless.install()
from pathlib import Path
from evaltrack.touch.app import EvaltrackApp
from driver import Driver
driver = Driver(EvaltrackApp(Path(sys.argv[2]))); driver.tap((640, 400))
import os; os._exit(0 if driver.app.desk.total else 1)
"""


def main() -> None:
    """Print both ratios."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--taps", type=int, default=2000)
    parser.add_argument("--starts", type=int, default=7)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["EVALTRACK_HOME"] = folder
        path = Path(folder) / "season.db"
        time_commits(path, options.taps)
        time_starts(path, options.starts)


def time_commits(path: Path, taps: int) -> None:
    """Tap through the app and commit the same rows barely, in turn, and print the ratios."""
    import headless

    headless.install()
    from driver import Driver, Finger
    from seasons_for_touch import new_season

    from evaltrack.touch.app import EvaltrackApp

    driver = Driver(EvaltrackApp(new_season(path)))
    desk = driver.app.desk
    desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    board = driver.app.screens.current_screen.ids.board
    committed = _moments_of_commit(desk.season.log)
    bare = _bare_file(path.with_name("bare.db"))
    ours, theirs = [], []
    for number in range(taps):
        tile = board.layout.tile(number * 7 % len(board.faces))
        finger = Finger(tile.x + tile.width * 0.7, tile.y + tile.height / 2)
        start = time.perf_counter()
        finger.down()
        driver.frames(1)
        ours.append(committed[-1] - start)
        finger.up()
        driver.frames(1)
        theirs.append(_bare_commit(bare, desk.last(1)[0]))
    bare.close()
    assert desk.total == taps
    print(f"touch down to commit, {taps} taps, against a bare commit of the same row")
    for name, pick in (("median", 0.5), ("p99", 0.99)):
        a, b = _quantile(ours, pick), _quantile(theirs, pick)
        print(f"  {name}: {a * 1000:.3f} ms against {b * 1000:.3f} ms, ratio {a / b:.2f}")
    driver.close()


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
        " step, observer, rep, tablet, at)"
    )
    return connection


def _bare_commit(connection, tally) -> float:
    from evaltrack.store.log import _row

    row = _row(tally)
    start = time.perf_counter()
    connection.execute("INSERT INTO tally VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", row)
    return time.perf_counter() - start


def _quantile(values: list[float], share: float) -> float:
    return sorted(values)[int(share * (len(values) - 1))]


def time_starts(path: Path, starts: int) -> None:
    """Start a bare window and the app in turn, each in a fresh process up to its first touch."""
    print(f"start of a process to its first touch on the running drill, {starts} pairs")
    for kind, words in (((), "real window, software GL"), (("headless",), "window without pixels")):
        if not kind and not all(map(ctypes.util.find_library, ("GL", "EGL"))):
            print(f"  {words}: left out, there is no GL library")
            continue
        pairs = [(_run(_BARE, path, *kind), _run(_OURS, path, *kind)) for _ in range(starts + 1)][1:]
        bare, ours = (statistics.median(times) for times in zip(*pairs, strict=True))
        ratio = statistics.median(b / a for a, b in pairs)
        print(f"  {words}: {ours:.2f} s against {bare:.2f} s, median ratio of the pairs {ratio:.2f}")


def _run(code: str, path: Path, *kind: str) -> float:
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("KIVY", "DISPLAY"))}
    kept |= {"KIVY_NO_ARGS": "1", "KIVY_NO_CONFIG": "1", "KIVY_NO_FILELOG": "1"}
    kept |= {"SDL_VIDEODRIVER": "offscreen", "LIBGL_ALWAYS_SOFTWARE": "1"}
    command = [sys.executable, "-c", code, _WINDOW, str(path), *kind]
    start = time.perf_counter()
    subprocess.run(command, check=True, stderr=subprocess.DEVNULL, env=kept)
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
