"""A season to tap in, and a driver for the app."""

import pytest
from driver import Driver
from seasons_for_touch import new_season

from evaltrack.touch.app import EvaltrackApp


@pytest.fixture
def season_path(tmp_path):
    """Return the path of a season with 20 players, the shipped catalogue and no tallies."""
    return new_season(tmp_path / "season.db")


@pytest.fixture
def drive():
    """Return a function that starts the app on a season file and gives its driver."""
    drivers = []

    def start(path=None, app=None):
        driver = Driver(app or EvaltrackApp(path))
        drivers.append(driver)
        return driver

    yield start
    for driver in drivers:
        driver.close()
