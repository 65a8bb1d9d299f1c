"""The screens after the bench while somebody tallies: the whole app, a real file, the process beside it."""

import gc
import shutil
import subprocess
import sys
import weakref
from datetime import date
from pathlib import Path

import pytest
from child import environment
from kivy.core.window import Window
from kivy.graphics import InstructionGroup
from seasons_for_touch import demo_season

from evaltrack.rink.tally import Outcome
from evaltrack.touch import app as app_module
from evaltrack.touch.review import review as review_module

_ADD = """
import sys
from pathlib import Path
from seasons_for_touch import more_tries
more_tries(Path(sys.argv[1]), int(sys.argv[2]))
"""


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Return the path of a demo season to copy."""
    return demo_season(tmp_path_factory.mktemp("demo") / "demo.db")


@pytest.fixture
def live(drive, demo, tmp_path, monkeypatch):
    """Return the driver of an app on the demo season, which has settled and has its standings."""
    monkeypatch.setattr(app_module, "_SETTLED", 0)
    monkeypatch.setattr(review_module, "_POLL", 0.02)
    monkeypatch.setattr(gc, "freeze", lambda: None)  # the other tests' trees must stay collectable
    driver = drive(Path(shutil.copy(demo, tmp_path)))
    driver.wait(lambda: driver.app.review.state == "ready", timeout=60)
    return driver


def other_program_tallies(driver, count=5):
    """Let a process of its own add tries to the season file, and return when they are there.

    The app stands still meanwhile: a look amid a commit sees the journal as it stays, and the old tries.
    """
    path = str(driver.app.desk.season.path)
    subprocess.run([sys.executable, "-c", _ADD, path, str(count)], check=True, env=environment())


def shown(driver, name):
    """Go to a screen and return it."""
    driver.app.go(name)
    driver.settle()
    return driver.app.screens.get_screen(name)


def tries(standings):
    return sum(one.tries for one in standings)


def tap(driver, place=0):
    """Tap the done half of a tile on the board in front."""
    board = next(w for w in driver.app.screens.current_screen.walk() if hasattr(w, "layout"))
    tile = board.layout.tile(place)
    driver.tap((tile.x + tile.width * 0.75, tile.y + tile.height / 2))


def test_tap_at_the_board_is_in_the_standings_before_anybody_looks(live):
    """The app follows by itself: after a tap the standings grow by a try while the board is in front."""
    desk, review = live.app.desk, live.app.review
    before = tries(review.standings)
    desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    shown(live, "board")
    tap(live)
    assert desk.total == 1
    live.wait(lambda: tries(review.standings) == before + 1, timeout=30)


def test_team_board_on_show_follows_another_program(live):
    """What is loaded meanwhile comes up in the rows, with nobody touching the screen."""
    screen = shown(live, "team")
    before = screen.summary
    other_program_tallies(live)
    live.wait(lambda: screen.summary != before, timeout=30)
    assert screen.ids.rows.table.cells


def test_charts_on_show_stay_where_they_are(live):
    """Newer standings are drawn in the same charts, and a page that was scrolled stays as it was."""
    review = live.app.review
    most = max({one.player for one in review.standings}, key=lambda number: len(review.of(number)))
    screen = shown(live, "player")
    screen.number = most
    Window.resize(1280, 500)
    try:
        live.settle()
        charts, before = list(screen.ids.charts.children), tries(review.of(most))
        screen.ids.view.scroll_y = 0.4
        desk = live.app.desk
        desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
        desk.watch(skill=charts[0].skill.key)
        desk.tally(next(p for p in desk.players if p.number == most).id, Outcome.DONE)
        live.wait(lambda: tries(chart.standing for chart in charts) == before + 1, timeout=30)
        assert list(screen.ids.charts.children) == charts
        assert screen.ids.view.scroll_y == 0.4
    finally:
        Window.resize(1280, 800)
        live.frames(2)


def test_hidden_screen_draws_nothing_until_it_is_shown(live):
    """Behind the home screen the team board keeps its rows; shown again, it has the new tries at once."""
    screen = shown(live, "team")
    shown(live, "home")
    before, review = screen.ids.rows.table, live.app.review
    count = tries(review.standings)
    other_program_tallies(live)
    review.refresh()
    live.wait(lambda: tries(review.standings) == count + 5, timeout=30)
    live.settle()
    assert screen.ids.rows.table is before
    shown(live, "team")
    assert f"{count + 5:,} tries" in screen.summary


def drawn(group):
    """Return weak references to all that is drawn in a group of instructions.

    Not a look at all objects there are: a thread that takes standings in meanwhile makes tuples piece by
    piece, and whoever else holds one of them breaks it.
    """
    parts = [weakref.ref(part) for part in group.children]
    for part in group.children:
        if isinstance(part, InstructionGroup):
            parts += drawn(part)
    return parts


def test_drawing_anew_leaves_nothing_to_the_garbage_collector(live):
    """Old drawings are taken apart at once: thousands of them collected later would stop the screen."""
    screen = shown(live, "team")
    rows = screen.ids.rows.picture
    gc.disable()
    try:
        old = []
        for _ in range(3):
            old += drawn(rows.canvas)
            rows.property("rows").dispatch(rows)
            live.frames(2)
        assert len(old) > 1000
        assert sum(part() is not None for part in old) < 100
    finally:
        gc.enable()


_APP = """
import sys
import headless; headless.install()
from pathlib import Path
from driver import Driver
from evaltrack.touch.app import EvaltrackApp
driver = Driver(EvaltrackApp(Path(sys.argv[1])))
driver.app.go("team")
review = driver.app.review
driver.wait(lambda: review.state == "ready", timeout=60)
heavy = {"sqlite_utils", "pandas", "numpy", "scipy", "matplotlib", "typst"}
print(len(review.standings) > 100, sorted(heavy & set(sys.modules)))
"""


def test_team_board_needs_no_heavy_module_in_the_app(demo, tmp_path):
    """The screens' process shows the standings of a season without ever loading what works them out."""
    line = [sys.executable, "-c", _APP, shutil.copy(demo, tmp_path)]
    run = subprocess.run(line, capture_output=True, text=True, check=True, env=environment())
    assert run.stdout.split("\n")[-2] == "True []"
