"""Take every section of the season in a real window without a display, and save a picture of each."""

import os
import sys
import tempfile
from pathlib import Path

from evaltrack.touch.launch import prepare

prepare()

from kivy.config import Config

WIDTH, HEIGHT, LOOK, STEM = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3], sys.argv[4]
Config.set("graphics", "width", str(WIDTH))
Config.set("graphics", "height", str(HEIGHT))

from driver import Driver
from kivy.core.window import Window
from pressing import press
from seasons_for_touch import demo_season, new_season

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.language import tr
from evaltrack.touch.app import EvaltrackApp
from evaltrack.words.season import NO_PRACTICE


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.settle()
    DRIVER.frames(3)
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def sections(app: EvaltrackApp) -> None:
    """Take all sections of a whole season, and a picture that was saved."""
    app.go("season")
    screen = app.screens.get_screen("season")
    DRIVER.wait(lambda: not screen.empty, timeout=120)
    for name in ("The team", "Targets", "Steps and pressure", "Attendance", "Tallies"):
        press(DRIVER, name)
        picture(f"season-{name.lower().replace(' ', '-')}")
    press(DRIVER, "Save as picture")
    DRIVER.wait(lambda: not screen.saving, timeout=120)
    picture("season-saved")


with tempfile.TemporaryDirectory() as folder:
    keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
    DRIVER = Driver(EvaltrackApp(new_season(Path(folder) / "empty.db")))
    DRIVER.app.go("season")
    DRIVER.wait(lambda: tr(NO_PRACTICE) in DRIVER.app.screens.get_screen("season").empty, timeout=120)
    picture("season-empty")
    DRIVER.app.desk.open(demo_season(Path(folder) / "season.db"))
    DRIVER.app.go("home")
    picture("season-home")
    sections(DRIVER.app)
    DRIVER.close()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
