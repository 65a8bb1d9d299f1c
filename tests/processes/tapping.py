"""An app that is tapped until it is killed; each tally that the screen shows is printed first.

python tapping.py SEASON.db SEED [FOLDER]

With a folder the app is paused, sent home or its practice ended now and then, and the season file alone,
without what lies beside it, copied there each time.
"""

import random
import subprocess
import sys
from datetime import date
from pathlib import Path

import headless

headless.install()

from driver import Driver

from evaltrack.touch.app import EvaltrackApp


def main(path: str, seed: str, folder: str = "") -> None:
    """Start a practice, or go on with the one that runs, and tap at random for ever on all three boards."""
    rng = random.Random(int(seed))
    driver = Driver(EvaltrackApp(Path(path)))
    desk = driver.app.desk
    if not desk.practice:
        assert desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines"), (
            desk.message
        )
        driver.app.go("board")
    driver.settle()
    screen = driver.app.screens.get_screen(driver.app.screens.current)
    print("on", driver.app.screens.current, desk.total, flush=True)
    while True:
        what = rng.random()
        if folder and what < 0.06:
            how = rng.choice((rest_paused, rest_at_home, rest_ended))
            copy = Path(folder) / f"{seed}-{desk.total}-{rng.getrandbits(32):08x}.db"
            how(driver, lambda copy=copy: copy_alone(path, copy))
            print("copied", copy.name, desk.season.log.count(), flush=True)
        elif what < 0.1 and desk.total:
            screen.undo()
            driver.frames(1)
            print("shown", desk.total, "undone", flush=True)
        elif what < 0.15:
            screen.choose(rng.choice(("group", "rep", "player")))
            driver.settle()
        elif what < 0.2:
            screen.next_rep()
            driver.frames(1)
        else:
            tap(driver, screen.ids.board, rng)
            if desk.total:
                print("shown", desk.total, desk.last(1)[0].id.hex, flush=True)


def copy_alone(path: str, copy: Path) -> None:
    """Copy a file by another program: closing it in this process would drop the locks of SQLite on it."""
    program = "import shutil, sys; shutil.copy(*sys.argv[1:])"
    subprocess.run([sys.executable, "-S", "-c", program, path, copy], check=True)


def rest_paused(driver: Driver, copy) -> None:
    """Pause the app, as a tablet does when another app comes in front, and go on."""
    driver.app.on_pause()
    copy()
    driver.app.on_resume()


def rest_at_home(driver: Driver, copy) -> None:
    """Go home while the practice runs, and back to the board."""
    driver.app.go("home")
    copy()
    driver.app.go("board")
    driver.settle()


def rest_ended(driver: Driver, copy) -> None:
    """End the practice, and go on with it."""
    desk = driver.app.desk
    at = desk.practice.held_on, desk.players, desk.station.drill, desk.station.step, desk.station.observer
    driver.app.go("start")
    driver.app.screens.current_screen.end()
    copy()
    assert desk.begin(*at), desk.message
    driver.app.go("board")
    driver.settle()


def tap(driver: Driver, board, rng: random.Random) -> None:
    """Tap somewhere on one of the tiles that are there."""
    tile = rng.choice(list(board.layout.tiles.values()))
    driver.tap((tile.x + tile.width * rng.random(), tile.y + tile.height * rng.random()), frames=1)


if __name__ == "__main__":
    main(*sys.argv[1:])
