"""Time from touch down to commit, and of the whole round of the screen's thread, with the click on and off.

    python tests/bench/bench_feedback.py [--taps 1000]

Rounds of taps alternate between on and off in one process on one season file, so that the machine's moods
fall on both alike. The click goes to a sound device that plays into the void at the pace of a real one; what
a device's own driver costs is not in it. No display is needed.
"""

import argparse
import os
import statistics
import tempfile
import time
from datetime import date
from pathlib import Path

import at_home  # noqa: F401

os.environ |= {"KIVY_LOG_MODE": "PYTHON", "KIVY_AUDIO": "sdl2", "SDL_AUDIODRIVER": "dummy"}

import headless

headless.install()

from driver import Driver, Finger
from seasons_for_touch import new_season

from evaltrack.touch.app import EvaltrackApp

PLAYERS = 20


def main() -> None:
    """Print the medians and their ratio."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--taps", type=int, default=1000, help="taps with the click, and as many without")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["EVALTRACK_HOME"] = folder
        driver = bench(Path(folder) / "season.db")
        times = {on: ([], []) for on in (True, False)}
        for number in range(2 * options.taps):
            on = number // PLAYERS % 2 == 0  # round by round of all tiles, so that both tap the same ones
            for kept, took in zip(times[on], tap(driver, number, on), strict=True):
                kept.append(took)
        assert driver.app.desk.total == 2 * options.taps
        driver.close()
    for place, name in enumerate(("touch down to commit", "the whole round of the tap")):
        on, off = (statistics.median(times[state][place]) for state in (True, False))
        print(f"{name}: {on * 1000:.3f} ms with the click, {off * 1000:.3f} ms without, ratio {on / off:.2f}")


def bench(path: Path) -> Driver:
    """Start the app on the board, ready to click."""
    driver = Driver(EvaltrackApp(new_season(path, PLAYERS)))
    desk = driver.app.desk
    desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    assert driver.app.feedback.can_click, "there is no sound provider here"
    driver.committed = _moments_of_commit(desk.season.log)
    return driver


def tap(driver, number: int, on: bool) -> tuple[float, float]:
    """Tap once, and return the seconds until the commit and until the round is over."""
    desk = driver.app.desk
    desk.keep(sound=on)
    driver.app.feedback.follow()
    tile = driver.app.screens.current_screen.ids.board.layout.tile(number * 7 % PLAYERS)
    finger = Finger(tile.x + tile.width * 0.7, tile.y + tile.height * 0.4)
    start = time.perf_counter()
    finger.down()
    driver.frames(1)
    over = time.perf_counter()
    finger.up()
    driver.frames(1)
    return driver.committed[-1] - start, over - start


def _moments_of_commit(log) -> list[float]:
    moments, add = [], log.add

    def timed(tally):
        add(tally)
        moments.append(time.perf_counter())

    log.add = timed
    return moments


if __name__ == "__main__":
    main()
