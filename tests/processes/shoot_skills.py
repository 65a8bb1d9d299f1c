"""Change the skills in a real window without a display, and save a picture of every screen on the way."""

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
from seasons_for_touch import demo_season, small_catalogue

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.touch.app import EvaltrackApp


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.settle()
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def small(app: EvaltrackApp) -> None:
    """Take a season of three skills without a tally, and one of them while a practice runs."""
    app.go("skills")
    picture("skills-small")
    one = next(iter(app.desk.skills.values()))
    app._to_skill_form(None, one)
    app.screen("skill_form").ask_to_retire()
    picture("skill-refused")
    drill = app.desk.drills[0]
    app.desk.begin(date(2026, 1, 20), app.desk.players, drill.key, drill.steps[0].key, "Ines")
    app._to_skill_form(None, one)
    picture("skill-while-it-runs")
    app.desk.end()


def full(app: EvaltrackApp) -> None:
    """Take the demo's skills: the list, an empty form, a full one, one with a complaint, its questions."""
    app.go("skills")
    picture("skills")
    app._to_skill_form(None, None)
    picture("skill-new")
    app.go("team")
    DRIVER.wait(lambda: app.review.state in ("ready", "failed"), timeout=120)
    outlet, form = app.desk.skills["outlet_pass"], app.screen("skill_form")
    app._to_skill_form(None, outlet)
    form._step(-1)
    picture("skill")
    form._turn("D")
    form._turn("F")
    picture("skill-refused-for-whom")
    app._to_skill_form(None, outlet)
    form._write("done", "The team-mate has it on the blade.")
    form.dispatch("on_back")
    picture("skill-not-saved")
    form.dispatch("on_back")
    form.save()
    picture("skill-what-it-means")
    app._to_skill_form(None, outlet)
    form.ask_to_retire()
    picture("skill-retiring")
    form._retire()
    skills = app.screen("skills")
    skills.write_out()
    DRIVER.wait(lambda: not skills.writing)
    skills.ids.skills.show_last()
    picture("skills-retired")
    app._to_skill_form(None, outlet)
    picture("skill-retired")


with tempfile.TemporaryDirectory() as folder:
    keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
    DRIVER = Driver(EvaltrackApp(small_catalogue(Path(folder) / "small.db")))
    small(DRIVER.app)
    DRIVER.app.desk.open(demo_season(Path(folder) / "season.db"))
    full(DRIVER.app)
    DRIVER.close()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
