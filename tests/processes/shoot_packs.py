"""Take packs and a season on loan in a real window without a display, and save a picture of each screen."""

import sys
import tempfile
from datetime import date, timedelta
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

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.ident import now_ms
from evaltrack.rink.loan import LentNames
from evaltrack.rink.tally import Outcome
from evaltrack.store.lending import lend
from evaltrack.store.opening import open_season
from evaltrack.touch.app import EvaltrackApp

UNTIL = date.today() + timedelta(7)


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.settle()
    DRIVER.frames(3)
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def done() -> None:
    """Wait for what is done beside the app."""
    screen = DRIVER.app.screens.current_screen
    DRIVER.wait(lambda: not screen.busy, timeout=120)


def on_loan(folder: Path) -> Path:
    """Take the loan: its first screen, a board, given back, over, and the question before it is deleted."""
    app, desk = DRIVER.app, DRIVER.app.desk
    picture("loan-first")
    assert desk.begin(date.today(), desk.players, "breakout_attack", "two_on_one", "Helper")
    for nth in range(23):
        assert desk.tally(desk.players[nth % 17].id, Outcome.DONE)
    app.go("board")
    picture("loan-board")
    app.go("home")
    app.screens.current_screen.give_into(str(folder))
    done()
    picture("loan-given")
    desk.end()
    press(DRIVER, "Delete this loan")
    picture("loan-delete")
    desk._clock = lambda: now_ms() + 9 * 24 * 3_600_000
    app.go("seasons")
    app.go("home")
    picture("loan-over")
    desk._clock = now_ms
    return next(folder.glob("*.pack"))


def packs(folder: Path, pack: Path) -> None:
    """Take the screens of whoever lends: the lending, a pack that would come in and one that came."""
    app = DRIVER.app
    app.go("seasons")
    picture("packs-seasons")
    app.go("lend")
    picture("packs-lend")
    app.screens.current_screen.lend_into(str(folder))
    done()
    picture("packs-lent")
    app.go("packs")
    press(DRIVER, "Six new words")
    app.screens.current_screen.look_into(str(pack))
    done()
    picture("packs-asked")
    press(DRIVER, "Take it in")
    done()
    picture("packs-taken-in")
    app._to_player_form(None, app.desk.players[4])
    picture("packs-player")
    press(DRIVER, "Copy, erase")
    picture("packs-kept")
    press(DRIVER, "What would go")
    done()
    picture("packs-would-go")
    press(DRIVER, "Erase for good")
    done()
    picture("packs-erased")


with tempfile.TemporaryDirectory() as name:
    keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
    HOME = Path(name)
    (HOME / "stick").mkdir()
    LENDER = demo_season(HOME / "season.db")
    with open_season(LENDER) as season:
        lend(season, HOME / "loan.db", LentNames.FIRST, UNTIL)
        lend(season, HOME / "numbers.db", LentNames.NONE, UNTIL)
    DRIVER = Driver(EvaltrackApp(HOME / "loan.db"))
    taken = on_loan(HOME / "stick")
    DRIVER.app.desk.open(LENDER)
    packs(HOME / "stick", taken)
    DRIVER.app.desk.open(HOME / "numbers.db")
    DRIVER.app.go("start")
    picture("loan-numbers-start")
    DESK = DRIVER.app.desk
    DESK.begin(date.today(), DESK.players, "breakout_attack", "two_on_one", "Helper")
    DRIVER.app.go("board")
    picture("loan-numbers-board")
    DRIVER.close()
