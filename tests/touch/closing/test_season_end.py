"""The end of a season under real touches: how long names are kept, and the reminder that blocks nothing."""

from datetime import date, datetime, timedelta

import pytest
from pressing import keys_of, press
from seasons_for_touch import demo_season
from set_clocks import TabletClock

from evaltrack.rink.practice import Practice
from evaltrack.store.opening import open_season

LAST = date(2026, 3, 14)
USUAL = LAST + timedelta(weeks=48)


@pytest.fixture
def path(season_path):
    with open_season(season_path) as season:
        season.practices.add([Practice(LAST.isoformat(), LAST)])
    return season_path


def on(driver, day: date) -> None:
    """Set the tablet's clock to the evening of a day, and come home."""
    driver.app.desk._clock = TabletClock(datetime(day.year, day.month, day.day, 18)).now
    for name in ("setup", "home"):
        driver.app.go(name)
    driver.settle()


def test_home_reminds_from_two_weeks_before(drive, path):
    """One line with the key that leads on; a clock that stands before the last practice reminds of nothing."""
    driver = drive(path)
    home = driver.app.screens.get_screen("home")
    for day in (USUAL - timedelta(weeks=2, days=1), date(2010, 1, 1)):
        on(driver, day)
        assert home.reminder == ""
        assert "Season’s end" not in [key.title for key in keys_of(driver)]
    on(driver, USUAL - timedelta(weeks=2))
    assert home.reminder == "Children’s data of this season are kept until Saturday 13 February 2027."
    on(driver, date(2031, 1, 1))
    assert "if the clock of this tablet (Wednesday 1 January 2031) is right" in home.reminder
    press(driver, "Season’s end")
    assert driver.app.screens.current == "season_end"
    press(driver, "Back")
    assert driver.app.screens.current == "home"


def test_the_boards_go_on(drive, path):
    """A reminder that is years old stands in nobody's way to a practice."""
    driver = drive(path)
    on(driver, date(2031, 1, 1))
    press(driver, "Start a practice")
    assert driver.app.screens.current == "start"


def test_the_day_is_moved_by_touch(drive, path):
    """From Set-up; a day before the last practice is refused in a sentence, and the day stays."""
    driver = drive(path)
    driver.app.go("setup")
    assert "Saturday 13 February 2027" in driver.app.screens.current_screen.kept_words
    press(driver, "Season’s end")
    screen = driver.app.screens.current_screen
    press(driver, "A week earlier")
    press(driver, "4 weeks later")
    life = driver.app.desk.season.life
    assert life.retention().until == USUAL + timedelta(weeks=3)
    assert "6 March 2027" in screen.ids.body.children[-2].text
    for _ in range(13):
        screen.move(-4)
    assert "still ran" in driver.app.desk.message
    assert life.retention().until == USUAL + timedelta(weeks=3 - 4 * 12)
    press(driver, "Back")
    assert driver.app.screens.current == "setup"


def test_nothing_is_said_of_the_invented_team(drive, tmp_path):
    """Nobody's names are in it."""
    driver = drive(demo_season(tmp_path / "demo.db"))
    on(driver, date(2031, 1, 1))
    assert driver.app.screens.get_screen("home").reminder == ""
    driver.app.go("seasons")
    driver.settle()
    assert driver.app.screens.current_screen.reminder == ""
