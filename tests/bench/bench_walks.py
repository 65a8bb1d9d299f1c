"""Random walks through every screen of the app: fingers, keys and words, on a window without a display.

    python tests/bench/bench_walks.py [--walks 100] [--touches 200] [--seed 1]

Each walk begins on another screen of the demo team's season, and every fifth in an empty home. After each the
season file must be whole and what the app had in hand, and its log may only have grown. Ends with 1 when an
exception came anywhere, something was half written, or a screen was never met.
"""

import argparse
import logging
import os
import shutil
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from random import Random

import at_home  # noqa: F401

os.environ["KIVY_LOG_MODE"] = "PYTHON"
os.environ["EVALTRACK_HOME"] = tempfile.mkdtemp(prefix="evaltrack-walks-")

import headless

headless.install()

from driver import Driver
from kivy.core.window import Window
from made_standings import AnsweringThread, standings_for
from random_walk import WITHOUT_SEASON, Walk, facts_of, whole
from seasons_for_touch import demo_season

from evaltrack.device.season_places import seasons_folder
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.review.review import Review
from evaltrack.touch.seasons import file_screen
from evaltrack.touch.tablet.tablet_screens import ScreenName

SIZES = ((1280, 800), (800, 1280))


def main() -> None:
    """Walk, print what was met and what went wrong, and end with 1 when anything did."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--walks", type=int, default=100)
    parser.add_argument("--touches", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    logging.getLogger("evaltrack").setLevel(logging.CRITICAL + 1)  # faults are counted, not logged
    met, faults, start = Counter(), [], time.monotonic()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        demo = demo_season(Path(folder) / "demo.db")
        for number in range(options.walks):
            walked, wrong = _walk(Path(folder) / str(number), demo, number, options)
            met += walked
            faults += wrong
            for fault in wrong:
                print(f"walk {number}: {fault}", flush=True)
            if (number + 1) % 10 == 0:
                _tell(number + 1, met, faults, time.monotonic() - start)
    missing = set(ScreenName) - set(met)
    if missing:
        print(f"never met: {', '.join(sorted(missing))}")
    sys.exit(1 if faults or missing else 0)


def _walk(folder: Path, demo: Path, number: int, options) -> tuple[Counter, list[str]]:
    """Walk once in a home of its own, and return the touches on each screen and what went wrong."""
    folder.mkdir()
    os.environ["EVALTRACK_HOME"] = str(folder / "home")
    file_screen.home = lambda: folder
    Window.resize(*SIZES[number % 2])
    empty = number % 5 == 4
    path = None if empty else Path(shutil.copy(demo, folder / "season.db"))
    before = facts_of(path) if path else {}
    app = EvaltrackApp(path)
    driver = Driver(app)
    desk = app.desk
    made = AnsweringThread(lambda _: standings_for(desk.players, list(desk.skills.values())))
    app.review = Review(desk, made)
    walk = Walk(driver, Random(f"{options.seed} {number}"))
    names = WITHOUT_SEASON if empty else list(ScreenName)
    walk.go(options.touches, names[number % len(names)])
    driver.wait(lambda: not getattr(app.screens.current_screen, "making", False))
    driver.close()
    wrong = whole(path, before) if path else []
    for made in seasons_folder().glob("*.db"):
        wrong += whole(made, {})
    return walk.met, walk.faults + wrong


def _tell(walks: int, met: Counter, faults: list[str], seconds: float) -> None:
    """Print how far it is, what was met and how much went wrong."""
    touches = ", ".join(f"{name} {met[name]}" for name in ScreenName)
    print(
        f"{walks} walks, {met.total()} touches in {seconds:.0f} s, {len(faults)} faults; {touches}",
        flush=True,
    )


if __name__ == "__main__":
    main()
