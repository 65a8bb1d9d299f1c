"""Whatever is touched, typed and pressed on every screen: no fault, and nothing half written."""

from pathlib import Path
from random import Random

import pytest
from kivy.clock import Clock
from random_walk import WITHOUT_SEASON, Walk, facts_of, whole

from evaltrack.device.season_places import seasons_folder
from evaltrack.touch.seasons import file_screen
from evaltrack.touch.tablet.tablet_screens import ScreenName

TOUCHES = 50


@pytest.mark.parametrize("seed", range(3))
def test_random_walks_through_a_season_leave_it_whole(demo, tmp_path, monkeypatch, seed):
    """The demo team's season, from three screens on: no exception, the file whole, its log only longer."""
    monkeypatch.setattr(file_screen, "home", lambda: tmp_path)
    path = Path(demo.app.desk.season.path)
    before = facts_of(path)
    walk = Walk(demo, Random(seed))
    walk.go(TOUCHES, list(ScreenName)[seed * 6])
    assert walk.faults == []
    demo.close()
    assert whole(path, before) == []


def test_a_random_walk_without_a_season_leaves_nothing_half_made(drive, tmp_path, monkeypatch):
    """An empty home: no exception, and each season file that comes of it is whole."""
    monkeypatch.setattr(file_screen, "home", lambda: tmp_path)
    driver = drive()
    walk = Walk(driver, Random(1))
    walk.go(TOUCHES, WITHOUT_SEASON[0])
    driver.wait(lambda: not getattr(driver.app.screens.current_screen, "making", False))
    assert walk.faults == []
    driver.close()
    for path in seasons_folder().glob("*.db"):
        assert whole(path, {}) == []


def test_a_walk_sees_what_the_app_survives(demo):
    """A fault in a screen, which the app tells of and lives on with, is a fault of the walk."""
    Clock.schedule_once(lambda _: 1 / 0, 0)
    walk = Walk(demo, Random(0))
    walk.go(1, ScreenName.HOME)
    assert ["ZeroDivisionError" in fault for fault in walk.faults] == [True]
