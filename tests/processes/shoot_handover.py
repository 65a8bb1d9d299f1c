"""Hand over between two tablets in a real window without a display, and save a picture of each stage."""

import os
import shutil
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
from seasons_for_touch import demo_season
from two_tablets import TabletProcess

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.touch.app import EvaltrackApp


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.settle()
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def apart(app: EvaltrackApp) -> str:
    """Take the choice, the pad, and a code with a wrong try; return where the code is to be typed."""
    press(DRIVER, "Two tablets")
    picture("handover")
    press(DRIVER, "Type a code")
    screen = app.screens.current_screen
    for sign in "192.168.43.1":
        screen._pad.press(sign)
    screen._pad.choose(True)
    for sign in "4711":
        screen._pad.press(sign)
    picture("handover-pad")
    press(DRIVER, "Not now")
    app.handover.give("127.0.0.1")
    DRIVER.wait(lambda: app.handover.code)
    address, app.handover.address = app.handover.address, "192.168.43.1"
    picture("handover-code")
    return address


def together(app: EvaltrackApp, other: TabletProcess, address: str) -> None:
    """Take both together, and what came of it."""
    other.hear("ready")
    other.say("tap", 0.05)
    other.say("join", address, app.handover.code)
    DRIVER.wait(
        lambda: app.handover.course.stage == "together" and app.handover.course.taken > 20, timeout=60
    )
    picture("handover-together")
    other.say("tap", 0)
    press(DRIVER, "End it")
    DRIVER.wait(lambda: not app.handover.running, timeout=60)
    picture("handover-ended")


with tempfile.TemporaryDirectory() as folder:
    keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
    path = demo_season(Path(folder) / "season.db")
    OTHER = TabletProcess(Path(shutil.copy(path, Path(folder) / "other.db")), Path(folder) / "other")
    DRIVER = Driver(EvaltrackApp(path))
    together(DRIVER.app, OTHER, apart(DRIVER.app))
    OTHER.end()
    DRIVER.close()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
