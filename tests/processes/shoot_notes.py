"""Take a family's page through its life in a real window without a display, with a picture of each step."""

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
from pressing import press
from seasons_for_touch import demo_season
from watched_for_notes import AFTER, watch

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.family_note import Agreed
from evaltrack.rink.note_life import NoteField
from evaltrack.touch.app import EvaltrackApp


def picture(name: str) -> None:
    """Save what the window shows."""
    DRIVER.settle()
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    taken = Path(Window.screenshot(name=f"{STEM}-{name}.png"))
    taken.rename(f"{STEM}-{name}.png")


def ready(app: EvaltrackApp):
    """Return the screen in front once its pages are there."""
    screen = app.screens.current_screen
    DRIVER.wait(lambda: not screen.waiting)
    DRIVER.settle()
    return screen


def pages(app: EvaltrackApp) -> None:
    """Take the list, a draft, a sentence that is changed, what may be picked, and a name too many."""
    app.notes_in_hand.today = lambda: date(2026, 1, 20)
    app.go("notes")
    ready(app)
    picture("notes-none")
    press(DRIVER, "Draft them")
    picture("notes")
    app._to_note(app.screens.current_screen, app.desk.players[3].id)
    note = ready(app)
    picture("note")
    note.open_editor("going_well.stop")
    DRIVER.frames(3)
    picture("note-sentence")
    note.close_editor()
    note.dispatch("on_choose", NoteField.NEXT_SKILLS)
    picture("note-picks")
    press(DRIVER, "Back")
    ready(app)
    note.say(
        NoteField.COACH_WORDS,
        f"First to every puck.\nCalls for it, as {app.desk.players[5].name} does.",
    )
    note.close_editor()
    picture("note-names-another")


def agreed(app: EvaltrackApp) -> None:
    """Take what is agreed, the page that was read, its history, and the look back in March."""
    note = app.screens.current_screen
    note.say(NoteField.COACH_WORDS, "First to every loose puck.")
    note.say(NoteField.COACH, "Ines Falk")
    note.say(NoteField.MEETING, "2026-01-20")
    note.add_thing()
    DRIVER.frames(3)
    note.agree(note.new_thing, Agreed("Ten passes off the garage wall", "His grandmother", date(2026, 3, 3)))
    note._show()
    picture("note-agreed")
    note.close_editor()
    note.mark_read()
    note.turn_discussed()
    picture("note-read")
    press(DRIVER, "History")
    picture("note-history")
    press(DRIVER, "Back")
    app.notes_in_hand.today = lambda: date(2026, 3, 4)
    watch(app.desk.season.path, AFTER, {"open_target": 6, "entry_wide": 4}, players=4)
    app.go("notes")
    ready(app)
    picture("notes-due")
    app._to_note(app.screens.current_screen, app.desk.players[3].id)
    ready(app).dispatch("on_look_back")
    picture("look-back")


with tempfile.TemporaryDirectory() as folder:
    keep_tablet(load_tablet(), dark=LOOK == "dark", observer="Ines")
    DRIVER = Driver(EvaltrackApp(demo_season(Path(folder) / "season.db")))
    picture("home-with-notes")
    pages(DRIVER.app)
    agreed(DRIVER.app)
    DRIVER.close()
os._exit(0)  # all is saved: how a software renderer and its threads are taken down is not ours to picture
