"""Begin on an empty home folder in a real window without a display, and save a picture of every screen."""

import os
import sys
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
from set_clocks import TabletClock, start_on

from evaltrack.device.backup_places import backups_of
from evaltrack.device.recent_seasons import note_season
from evaltrack.device.season_places import seasons_folder
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.intake.roster_lines import RosterLine, pasted
from evaltrack.places import sample_roster
from evaltrack.touch.app import EvaltrackApp

BAD = "7,Bo Tarnquist,D\n07,Zoë Łukasik,F\n12,Seán O'Brien-Ó Sé,Rover\nO8,Kaan Yıldız,\n31,Ilze Kēniņa,G,14"


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.settle()
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def our_team(app: EvaltrackApp) -> None:
    """Take the two screens of a season that is put together: empty, with faults, small, full."""
    app.go("our_team")
    picture("our-team-empty")
    screen = app.screens.get_screen("our_team")
    screen.go_on()
    screen.ids.team.text, screen.ids.age_class.text = "Zoë's Łódź Kestrels", "10U"
    picture("our-team")
    screen.go_on()
    picture("roster-empty")
    roster, draft = app.screens.get_screen("roster"), app.season_draft
    draft.add([RosterLine("7", "Bo Tarnquist", "D")])
    roster.press("1")
    roster.press("4")
    roster.ids.name.text = "Per Håkansgård"
    roster._show()
    picture("roster-small")
    draft.empty()
    roster.leave_line()
    draft.add(pasted(BAD).lines)
    roster._edit(3)
    roster.note("D")
    picture("roster-faults")
    draft.empty()
    roster.leave_line()
    for times in range(2):
        text = (sample_roster() / "roster.csv").read_text("utf-8")
        draft.add(line._replace(number=f"{9 * times or ''}{line.number}") for line in pasted(text).lines)
    roster._show()
    picture("roster-full")
    roster.make()
    DRIVER.wait(lambda: app.screens.current == "home", timeout=120)
    picture("home-made")


def files(app: EvaltrackApp) -> None:
    """Take the choice of a file: a folder without one, and one with many."""
    folder = seasons_folder()
    (folder / "before").mkdir()
    app._to_season_file()
    app.screen("file").look_in(folder / "before")
    picture("file-empty")
    for number in range(12):
        (folder / f"kestrels-12u-20{number + 10}-{number + 11}.db").touch()
    app._to_season_file()
    picture("file-full")


def backups(app: EvaltrackApp) -> None:
    """Take the list of backups: none, some with one that is asked about, and the choice of a folder."""
    app.go("backups")
    picture("backups-none")
    screen = app.screens.get_screen("backups")
    for _ in range(2):
        screen.back_up()
        DRIVER.wait(lambda: not screen.busy, timeout=120)
    screen.write_to(str(seasons_folder()))
    DRIVER.wait(lambda: not screen.busy, timeout=120)
    picture("backups-written")
    screen._ask(backups_of(app.desk.season.ident)[-1])
    DRIVER.wait(lambda: not screen.busy, timeout=120)
    picture("backups-question")
    screen.to_folder()
    picture("backups-folder")


def known(app: EvaltrackApp) -> None:
    """Take the invented team while it is made and when it is there, and the list of those opened before."""
    app.go("seasons")
    screen = app.screens.get_screen("seasons")
    screen.look_round()
    DRIVER.wait(lambda: screen.share > 0.3)
    picture("seasons-making")
    DRIVER.wait(lambda: screen.manager.current == "home", timeout=120)
    picture("invented-home")
    app.go("start")
    picture("invented-start")
    app.go("team")
    DRIVER.wait(lambda: app.review.state in ("ready", "failed"), timeout=120)
    picture("invented-team")
    start_on(DRIVER, TabletClock(datetime(2026, 1, 14, 18, 30)))
    app.screen("start").go()
    picture("invented-board")
    note_season(seasons_folder() / "kestrels-12u-2010-11.db", "Zoë's Łódź Kestrels 12U")
    note_season(Path("/media/stick/lanterns-old.db"), "Kettle Bay Lanterns 10U")
    app.go("seasons")
    picture("seasons-some")
    for number in range(10, 20):
        note_season(seasons_folder() / f"kestrels-12u-20{number}-{number + 1}.db", f"Kestrels {number} 12U")
    app.go("home")
    app.go("seasons")
    picture("seasons-full")
    screen.open(Path("/media/stick/lanterns-old.db"))
    picture("seasons-moved")


keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
DRIVER = Driver(EvaltrackApp(None))
picture("seasons-first")
our_team(DRIVER.app)
backups(DRIVER.app)
files(DRIVER.app)
known(DRIVER.app)
DRIVER.close()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
