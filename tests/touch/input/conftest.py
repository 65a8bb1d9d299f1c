"""The demo team's season in the app, every screen of which is walked through."""

import shutil

import pytest
from made_standings import AnsweringThread, standings_for
from seasons_for_touch import demo_season

from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.review.review import Review


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
