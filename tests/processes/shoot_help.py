"""Open the help of every screen in a real window without a display, and save a picture of each page."""

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
from every_screen import show
from kivy.core.window import Window
from seasons_for_touch import demo_season
from set_clocks import TabletClock, start_on

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.tablet.tablet_screens import ScreenName

GUIDED = "team"  # on whose page the guide is printed


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.settle()
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def help_on(app: EvaltrackApp, name: str) -> None:
    """Take the page of one screen; of one of them also with the guide that was printed from it."""
    screen = show(DRIVER, name)
    screen.dispatch("on_help")
    picture(f"help-{name}")
    if name == GUIDED:
        screen.cover.dispatch("on_guide", "letter")
        DRIVER.wait(lambda: ".pdf" in screen.cover.told)
        picture("help-guide-printed")


with tempfile.TemporaryDirectory() as folder:
    keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
    DRIVER = Driver(EvaltrackApp(demo_season(Path(folder) / "season.db")))
    start_on(DRIVER, TabletClock(datetime(2026, 1, 20, 18, 30)))
    picture("hint-start")
    DRIVER.app.screen("start").go()
    for each in ScreenName:
        help_on(DRIVER.app, each)
    DRIVER.app.go("players")
    picture("hint-players")
    DRIVER.close()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
