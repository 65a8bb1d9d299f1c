"""Plan a practice in a real window without a display, and save a picture of every screen on the way."""

import os
import sys
import tempfile
from datetime import date
from pathlib import Path

from evaltrack.touch.launch import prepare

prepare()

from kivy.config import Config

WIDTH, HEIGHT, LOOK, STEM = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3], sys.argv[4]
Config.set("graphics", "width", str(WIDTH))
Config.set("graphics", "height", str(HEIGHT))

from driver import Driver
from kivy.core.window import Window
from planned_cards import plan_for
from pressing import press
from seasons_for_touch import demo_season

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.touch.app import EvaltrackApp


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.settle()
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def plan(app: EvaltrackApp) -> None:
    """Take the calendar, what is asked for, and the plan: as it is, with a reason, a player, a swap."""
    app.go("calendar")
    press(DRIVER, "Add it")
    press(DRIVER, "Add it")
    picture("calendar")
    press(DRIVER, "Back")
    picture("plan-asked")
    app.go("wishes")
    screen, players = app.screen("wishes"), [player.id for player in app.desk.players]
    for one, other in ((0, 1), (1, 2)):
        screen.take(players[one])
        screen.take(players[other])
    screen.take(players[3])
    picture("plan-wishes")
    app.plan_in_hand.change(plan_for(app.desk))
    app.go("plan")
    picture("plan")
    screen = app.screen("plan")
    screen.show_reason(2)
    screen.choose(app.plan_in_hand.card.groups[0][0])
    picture("plan-player")
    screen.swap(2)
    picture("plan-swap")
    screen.ids.view.scroll_y = 0
    picture("plan-end")


def bench(app: EvaltrackApp) -> None:
    """Take the start from a plan, the board with its marks, the blocks in mid-practice, and what was done."""
    press(DRIVER, "Start it")
    start = app.screen("start")
    start._settle(date.today())
    picture("plan-start")
    assert app.desk.begin(date.today(), app.desk.players, start.drill, start.step, "Ines")
    app.desk.watch(skill=app.desk.plan.blocks[2].watch)
    app.go("board")
    picture("plan-board")
    app.go("start")
    picture("plan-blocks")
    key = app.desk.practice.key
    app.desk.end()
    app._to_held(None, key)
    picture("plan-done")


with tempfile.TemporaryDirectory() as folder:
    keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
    DRIVER = Driver(EvaltrackApp(demo_season(Path(folder) / "season.db")))
    plan(DRIVER.app)
    bench(DRIVER.app)
    DRIVER.close()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
