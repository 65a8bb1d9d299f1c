"""A season to tap in, and a driver for the app."""

import gc
import itertools
import logging
import shutil
from datetime import date
from pathlib import Path

import pytest
from driver import Driver, end_timers
from kivy.core.window import Window
from kivy.metrics import Metrics
from made_standings import AnsweringThread, standings_for
from seasons_for_touch import demo_season, new_season

from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.review.review import Review
from evaltrack.touch.widgets import glyphs
from evaltrack.touch.worker.worker import Worker

_freeze = gc.freeze
gc.freeze = lambda: None  # an app freezes what it is made of after its first seconds, and here no app stays
_drives = itertools.count(1)
_AT_LAST = 250  # tests after which those few apps are let go of too that something still held at its look


def _let_go() -> None:
    """Let go of the app of the test before: its widgets still answer new sizes of words, and slowly."""
    end_timers()  # an answer that came after its end waits for the next frame
    if next(_drives) % _AT_LAST == 0:
        gc.unfreeze()
    gc.collect()
    _freeze()  # what other tests and modules made most of all: it is not searched again for the next app


@pytest.fixture(scope="session")
def season_template(tmp_path_factory):
    """Keep a season with 20 players, the shipped catalogue and no tallies, to be copied."""
    return new_season(tmp_path_factory.mktemp("template") / "season.db")


@pytest.fixture
def season_path(season_template, tmp_path):
    """Return the path of a season with 20 players, the shipped catalogue and no tallies."""
    return Path(shutil.copy(season_template, tmp_path / "season.db"))


@pytest.fixture
def faults():
    """Collect what the app logs of faults that it survived."""
    found = []
    listener = logging.Handler(logging.ERROR)
    listener.emit = found.append
    logging.getLogger("evaltrack").addHandler(listener)
    yield found
    logging.getLogger("evaltrack").removeHandler(listener)


class _SharedWorker(Worker):
    """One process for all apps: one for each would take seconds. A closed app has no answers any more."""

    def __init__(self):
        super().__init__()
        self._asked = []

    def ask(self, work, done, failed, heard=None):
        """Ask as ever; who is to hear of it is let go of with the app."""
        hearers = [done, failed, heard]
        self._asked.append(hearers)

        def hearer(which):
            return lambda what: hearers[which](what) if hearers else None

        super().ask(work, hearer(0), hearer(1), hearer(2) if heard else None)

    def close(self):
        """Go on with what was begun, for nobody; what was not begun is not done."""
        while not self._tasks.empty():
            self._tasks.get()
        for hearers in self._asked:
            hearers.clear()
        self._asked.clear()


@pytest.fixture(scope="session")
def shared_worker():
    """Return the one process beside all apps."""
    worker = _SharedWorker()
    yield worker
    Worker.close(worker)


@pytest.fixture
def drive(faults, shared_worker):
    """Return a function that starts the app on a season file and gives its driver."""
    _let_go()
    drivers = []

    def start(path=None, app=None):
        app = app or EvaltrackApp(path)
        app.worker = shared_worker
        driver = Driver(app)
        drivers.append(driver)
        return driver

    yield start
    for driver in drivers:
        driver.close()
    # the app survives a fault in a screen, so that only the log tells of it
    assert [fault.getMessage() for fault in faults] == []


@pytest.fixture
def start_bench(drive):
    """Return a function that starts the app on a season file and a practice, everyone here."""

    def start(path):
        driver = drive(path)
        desk = driver.app.desk
        assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
        driver.app.go("board")
        driver.settle()
        return driver

    return start


@pytest.fixture
def window(request):
    """Turn the window when a test asks for it, and turn it back at its end."""
    before = Window.size
    Window.resize(*getattr(request, "param", before))
    yield
    Window.resize(*before)


@pytest.fixture
def bench(drive, season_path, window):
    """Return the driver of an app on the board, everyone here."""
    driver = drive(season_path)
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    return driver


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory):
    """Return the demo team's season file, made once."""
    return demo_season(tmp_path_factory.mktemp("demo") / "lanterns.db")


@pytest.fixture
def start_demo(drive, demo_file, tmp_path, window):
    """Return a function that starts the app in the demo team's season, with standings at once."""

    def start():
        driver = drive(app=EvaltrackApp(shutil.copy(demo_file, tmp_path / "season.db")))
        desk = driver.app.desk
        made = AnsweringThread(lambda _: standings_for(desk.players, list(desk.skills.values())))
        driver.app.review = Review(desk, made)
        return driver

    return start


@pytest.fixture
def demo(start_demo):
    """Return the driver of an app in the demo team's season."""
    return start_demo()


@pytest.fixture
def larger_words(request):
    """Have words as large as a test asks for, and as they were at its end."""
    glyphs.forget()
    Metrics.fontscale = request.param
    yield request.param
    Metrics.fontscale = 1.0
    glyphs.forget()
