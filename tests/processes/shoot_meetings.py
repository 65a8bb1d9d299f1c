"""Make an evening of meetings in a real window without a display, and save a picture of every screen."""

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
from invented_evenings import evening_for
from kivy.core.window import Window
from pressing import press
from seasons_for_touch import demo_season

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.meeting_evening import MeetingWishKind
from evaltrack.touch.app import EvaltrackApp


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.settle()
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def asked(app: EvaltrackApp) -> None:
    """Take what an evening is to be, and a wish on its way."""
    press(DRIVER, "Meetings")
    screen = app.screens.current_screen
    for what in ("tables", "break", "end"):
        screen.move(what, 1)
    picture("meetings-asked")
    press(DRIVER, "Add a wish")
    screen = app.screens.current_screen
    screen._choose_player(app.desk.players[2].id)
    screen._choose_kind(MeetingWishKind.NOT_BEFORE)
    picture("meetings-wish")


def evening(app: EvaltrackApp) -> None:
    """Take the list with a remark, a tick and half a swap, and two cards: as it is, and its end."""
    meetings, players = app.meetings_in_hand, app.desk.players
    meetings.keep(evening_for(players))
    meetings.tick(players[0].id)
    meetings.remarks = ["Not met: 14 at 18:00. It does not go with: 7 at 18:00; 7 at table 1; 14 at table 1."]
    app.go("meetings")
    app.screens.current_screen.swap(players[5].id)
    picture("meetings")
    app.screens.current_screen.ids.view.scroll_y = 0
    picture("meetings-end")
    app._to_cue_card(None, players[3].id)
    DRIVER.wait(lambda: app.review.state in ("ready", "failed"), timeout=120)
    picture("cue-card")
    app.screens.current_screen.ids.view.scroll_y = 0
    picture("cue-card-end")
    app.go("evening")
    picture("meetings-change")


with tempfile.TemporaryDirectory() as folder:
    keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
    DRIVER = Driver(EvaltrackApp(demo_season(Path(folder) / "season.db")))
    asked(DRIVER.app)
    evening(DRIVER.app)
    DRIVER.close()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
