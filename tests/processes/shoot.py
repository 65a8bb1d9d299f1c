"""Walk through the app in a real window without a display and save a picture of every screen."""

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
from pressing import press
from seasons_for_touch import demo_season
from set_clocks import TabletClock, start_on

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.tally import Outcome
from evaltrack.touch.app import EvaltrackApp


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.frames(3)
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def tap_some(app: EvaltrackApp) -> None:
    """Tap a stretch of a drill with real touches."""
    DRIVER.frames(3)
    board = app.screens.get_screen("board").ids.board
    for turn in range(64):
        tile = board.layout.tile((turn * 7 + turn // 9) % len(board.faces))
        right = (turn * 5) % 3 > 0
        DRIVER.tap((tile.x + tile.width * (0.75 if right else 0.25), tile.y + tile.height * 0.4), frames=0)
        DRIVER.frames(1)


def walk(app: EvaltrackApp) -> None:
    """Take every screen in turn."""
    picture("home")
    start_on(DRIVER, TabletClock(datetime(2010, 1, 1, 0, 7)))
    picture("start-which-day")
    clock = TabletClock(datetime(2026, 1, 20, 18, 30))
    app.desk._clock = clock.now
    start_on(DRIVER, clock)
    picture("start")
    app.screens.get_screen("start").go()
    tap_some(app)
    picture("board")
    gone = [p for p in app.desk.players if app.desk.attendance.get(p.id)][:-1]
    app.desk.arrange(gone)
    app.desk.watch(skill="wall_puck_feet", pressure=True)
    app.desk.tally(gone[3].id, Outcome.DONE)
    app.screens.get_screen("board")._follow()
    picture("board-pressure")
    app.go("start")
    picture("here")
    app.screens.get_screen("start").ask_to_end()
    picture("end")
    app.screens.get_screen("start").end()
    start_on(DRIVER, clock)
    picture("start-again")
    app.screens.get_screen("start").go()
    app.desk.leave_open()
    picture("home-left-open")
    app.screens.get_screen("home").practise()
    review(app)
    put_right(app)


def review(app: EvaltrackApp) -> None:
    """Take the screens after the bench, once the standings are there."""
    app.go("team")
    DRIVER.wait(lambda: app.review.state in ("ready", "failed"), timeout=120)
    picture("team")
    second_look(app)
    app._to_player(None, app.desk.players[3].number)
    picture("player")
    screen = app.screens.get_screen("player")
    DRIVER.tap(screen.ids.charts.children[-2])
    DRIVER.wait(lambda: screen.why)
    picture("player-why")


def second_look(app: EvaltrackApp) -> None:
    """Take a skill of the whole team, coverage, and what is told of two observers."""
    for key in ("gap_at_line", "stop"):
        app._to_skill(None, key)
        screen = app.screens.get_screen("skill")
        DRIVER.wait(lambda screen=screen: screen.team, timeout=60)
        picture(f"skill-{key}")
    for name in ("coverage", "agreement"):
        app.go(name)
        screen = app.screens.get_screen(name)
        DRIVER.wait(lambda screen=screen: not screen.waiting, timeout=60)
        picture(name)


def put_right(app: EvaltrackApp) -> None:
    """Take the practices, one of them, and its tallies on the way to another player."""
    app.go("practices")
    picture("practices")
    busiest = max(app.desk.season.log.counts().items(), key=lambda pair: pair[1])[0]
    app._to_held(None, busiest)
    picture("practice")
    app.screens.get_screen("practice").ask_for_day()
    picture("practice-which-day")
    app.screens.get_screen("practice").back()
    app._to_tallies(app.screens.get_screen("practice"))
    picture("tallies")
    screen = app.screens.get_screen("tallies")
    screen.choose(player=screen._stands[0].tally.player)
    picture("tallies-one-by-one")
    screen.ask("player")
    picture("tallies-whose")
    screen.ask_whether("player", app.desk.players[5].id)
    picture("tallies-preview")
    press(DRIVER, "Put it right")
    picture("practice-put-right")


def people(app: EvaltrackApp) -> None:
    """Take the roster and its form: empty, and with a number that another player wears."""
    app.go("players")
    picture("players")
    app._to_player_form(None, None)
    picture("player-new")
    one, other = app.desk.players[4:6]
    app._to_player_form(None, one)
    form = app.screens.get_screen("player_form")
    for digit in other.number:
        form.digit(digit)
    picture("player-swap")
    app._to_player_form(None, one)
    form.choose_position("D")
    form.choose_both()
    picture("player-both")
    app._to_player_form(None, one)
    form.choose_status("away")
    form.move_until(7)
    picture("player-away")


def set_up(app: EvaltrackApp) -> None:
    """Take the screens that set the tablet up, for a ten-inch panel, and the pad after wrong codes."""
    app.go("measure")
    measure = app.screens.get_screen("measure")
    measure.ids.outline.card = 85.6 * max(Window.size) / 218
    picture("measure")
    measure.keep()
    app.screens.get_screen("setup").dispatch("on_code")
    pad = app.screens.get_screen("code")
    type_code(pad, "24")
    picture("new-code")
    pad.latch.set_code("2468", lambda _: app.go("setup"))
    DRIVER.wait(lambda: app.screens.current == "setup")
    picture("setup")
    app.close_latch()
    picture("home-latched")
    app.go("team")
    for _ in range(3):
        type_code(pad, "1357")
        pad.enter()
        DRIVER.wait(lambda: pad.words)
    picture("code")


def type_code(pad, code: str) -> None:
    """Type the digits of a code."""
    for digit in code:
        pad.press(digit)


with tempfile.TemporaryDirectory() as folder:
    keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
    DRIVER = Driver(EvaltrackApp(None))
    picture("no-season")
    DRIVER.app.desk.open(demo_season(Path(folder) / "season.db"))
    DRIVER.app.go("home")
    walk(DRIVER.app)
    people(DRIVER.app)
    set_up(DRIVER.app)
    DRIVER.close()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
