"""Go through the end of a season in a real window without a display, and save a picture of every screen."""

import os
import sys
import tempfile
from datetime import datetime
from pathlib import Path

from evaltrack.touch.launch import prepare

prepare()

from kivy.config import Config

WIDTH, HEIGHT, LOOK, STEM = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3], sys.argv[4]
Config.set("graphics", "width", str(WIDTH))
Config.set("graphics", "height", str(HEIGHT))

from driver import Driver
from kivy.core.window import Window
from seasons_for_touch import demo_season
from set_clocks import TabletClock

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.touch.app import EvaltrackApp


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.settle()
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def reminded(app: EvaltrackApp) -> None:
    """Take home and the seasons when it is time to let names go."""
    app.desk._clock = TabletClock(datetime(2026, 8, 4, 18)).now
    for name in ("setup", "home"):
        app.go(name)
    picture("home-reminded")
    app.go("seasons")
    picture("seasons-reminded")


def next_season(app: EvaltrackApp) -> None:
    """Take the choice of who comes along."""
    app.go("next_season")
    screen = app.screens.get_screen("next_season")
    screen.turn(app.desk.players[3].id)
    screen.note(True)
    picture("next-season")


def the_end(app: EvaltrackApp) -> None:
    """Take the end of the season: what there is to do, what would go, and what went."""
    app.go("season_end")
    screen = app.screens.get_screen("season_end")
    picture("season-end")
    screen.ask()
    DRIVER.wait(lambda: not screen.busy, timeout=120)
    picture("season-end-question")
    screen.close()
    DRIVER.wait(lambda: not screen.busy, timeout=120)
    picture("season-end-closed")
    app.go("home")
    picture("home-closed")


with tempfile.TemporaryDirectory() as folder:
    keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
    DRIVER = Driver(EvaltrackApp(demo_season(Path(folder) / "lanterns.db")))
    reminded(DRIVER.app)
    next_season(DRIVER.app)
    the_end(DRIVER.app)
    DRIVER.close()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
