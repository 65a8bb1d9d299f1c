"""An app with its sound on that is tapped once; says what a sound device that writes to a file has heard.

python clicking.py SEASON.db HEARD.raw
"""

import sys
import time
from datetime import date
from pathlib import Path

import headless

headless.install()

from driver import Driver

from evaltrack.touch.app import EvaltrackApp


def main(season: str, heard: str) -> None:
    """Start a practice, tap a tile, and listen before and after."""
    driver = Driver(EvaltrackApp(Path(season)))
    desk = driver.app.desk
    desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    driver.app._follow_settings()
    file = Path(heard)
    driver.wait(lambda: file.exists() and file.stat().st_size > 20_000)
    before = any(file.read_bytes())
    tile = driver.app.screens.current_screen.ids.board.layout.tile(0)
    driver.tap((tile.x + 9, tile.y + 9))
    assert desk.total == 1
    end = time.monotonic() + 5
    while not any(file.read_bytes()) and time.monotonic() < end:
        driver.frames(1)
    print(
        f"{'heard' if before else 'silent'} before, {'heard' if any(file.read_bytes()) else 'silent'} after"
    )


if __name__ == "__main__":
    main(*sys.argv[1:])
