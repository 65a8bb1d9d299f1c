"""Change drills in a real window without a display, and save a picture of every screen."""

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
from seasons_for_touch import demo_season

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.player import Position
from evaltrack.touch.app import EvaltrackApp


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.settle()
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def drills(app: EvaltrackApp) -> None:
    """Take the drills, one of them, a step on each surface, a slot, reps, and what is to be mended."""
    app.go("home")
    picture("drills-home")
    app.go("drills")
    picture("drills")
    path = ("breakout_attack",)
    app._to_drill(None, path)
    picture("drill")
    for key in ("two_on_one", "two_regroups"):
        app.go("drill")
        app._to_step(None, (*path, key))
        picture(f"step-{key}")
    screen = app.screen("step")
    for surface in ("half", "cross"):
        screen.draw_on(surface)
        picture(f"step-{surface}")
    app.drafting.throw_away()
    screen.show()
    screen.choose("new_d")
    picture("slot")
    screen.dispatch("on_back")
    screen.dispatch("on_watch")
    picture("reps")
    for _ in range(2):
        app.screen("reps").turn(1)
    picture("reps-third")
    app.go("drill")
    app._to_step(None, (*path, "two_on_one"))
    screen.choose("wall_f")
    DRIVER.settle()
    screen.ids.view.scroll_y = 0
    picture("slot-place")
    app.go("drill")
    app._to_step(None, ("small_area", "three_on_three"))
    picture("step-seven-slots")


def to_mend(app: EvaltrackApp) -> None:
    """Take a draft with something to mend at every level, a new drill, and the question on leaving."""
    app.drafting.draft.change(("small_area",), "the name", name="Small-area games")
    app.go("drills")
    picture("drills-not-saved")
    app.screen("drills").dispatch("on_back")
    picture("drills-leaving")
    app.screen("drills")._stay()
    step = ("breakout_attack", "two_on_one")
    draft = app.drafting.draft
    draft.change((*step, "line_d"), "position", position=Position.FORWARD)
    draft.take_out(("wall_work",))
    app._to_step(None, step)
    picture("step-to-mend")
    app.screen("step").choose("breakout_d")
    picture("slot-to-mend")
    app._to_drill(None, step[:1])
    picture("drill-to-mend")
    app.go("drills")
    picture("drills-to-mend")
    app.screen("drills").add()
    picture("drill-new")
    app._to_step(None, (*app.screen("drill").path, "new_1"))
    picture("step-new")


with tempfile.TemporaryDirectory() as folder:
    keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
    DRIVER = Driver(EvaltrackApp(None))
    DRIVER.app.desk.open(demo_season(Path(folder) / "season.db"))
    drills(DRIVER.app)
    to_mend(DRIVER.app)
    DRIVER.close()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
