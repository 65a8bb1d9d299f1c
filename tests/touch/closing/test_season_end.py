"""The end of a season under real touches: how long names are kept, and the reminder that blocks nothing."""

import sqlite3
from contextlib import closing
from datetime import date, datetime, timedelta

import pytest
from name_search import where_named
from pressing import keys_of, press
from seasons_for_touch import new_season
from set_clocks import TabletClock
from words_seen import faults

from evaltrack.device.season_places import parents_folder
from evaltrack.device.tablet import WordSize
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season
from evaltrack.store.season_file import INVENTED
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.widgets.sheet import Line
from evaltrack.touch.worker.worker import Worker

LAST = date(2026, 3, 14)
PORTRAIT = 800, 1280
USUAL = LAST + timedelta(weeks=48)


@pytest.fixture
def shared_worker():
    """Work on a thread: the process that all tests share has the home folder of another one."""
    worker = Worker()
    worker._none_to_be_had = True
    patch = pytest.MonkeyPatch()
    patch.setattr(EvaltrackApp, "_settle", _settle)  # a start makes a backup of its own
    yield worker
    patch.undo()
    worker.close()


def _settle(*_) -> None:
    """Do nothing."""


@pytest.fixture
def path(tmp_path):
    """Return a season of six players, of which the last practice was in March."""
    path = new_season(tmp_path / "season.db", 6)
    with open_season(path) as season:
        season.practices.add([Practice(LAST.isoformat(), LAST)])
    return path


def on(driver, day: date) -> None:
    """Set the tablet's clock to the evening of a day, and come home."""
    driver.app.desk._clock = TabletClock(datetime(day.year, day.month, day.day, 18)).now
    for name in ("setup", "home"):
        driver.app.go(name)
    driver.settle()


def test_home_reminds_from_two_weeks_before(drive, path):
    """One line with the key that leads on; a clock before the last practice reminds of nothing."""
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
    life = driver.app.desk.season.life
    for key, weeks in (
        ("A week later", 1),
        ("4 weeks earlier", -3),
        ("A week earlier", -4),
        ("4 weeks later", 0),
    ):
        press(driver, key)
        assert life.retention().until == USUAL + timedelta(weeks=weeks)
    screen.move(3)
    assert "6 March 2027" in [one.text for one in screen.ids.body.children if isinstance(one, Line)][-1]
    for _ in range(13):
        screen.move(-4)
    assert "still ran" in driver.app.desk.message
    assert life.retention().until == USUAL + timedelta(weeks=3 - 4 * 12)
    press(driver, "Back")
    assert driver.app.screens.current == "setup"


def test_nothing_is_said_of_the_invented_team(drive, path):
    """Nobody's names are in it."""
    with closing(sqlite3.connect(path)) as file, file:
        file.execute("UPDATE season SET id = ?", (INVENTED.bytes,))
    driver = drive(path)
    on(driver, date(2031, 1, 1))
    assert driver.app.screens.get_screen("home").reminder == ""
    driver.app.go("seasons")
    driver.settle()
    assert driver.app.screens.current_screen.reminder == ""


def to_the_end(driver):
    """Have the end of the season in front, and return its screen."""
    driver.app.go("seasons")
    press(driver, "Season’s end")
    return driver.app.screens.current_screen


def done(driver, screen) -> list[str]:
    """Wait until what was asked is done, and return all that stands on the screen."""
    driver.wait(lambda: not screen.busy, timeout=60)
    driver.settle()
    return [screen.words, *(line.text for line in screen.ids.body.children if isinstance(line, Line))]


def test_it_asks_once_and_can_be_left(drive, path, shared_worker):
    """What would go is said first; leaving it changes nothing, and the season is in hand as before."""
    driver = drive(path)
    screen = to_the_end(driver)
    usual = [key.title for key in keys_of(driver)]
    assert usual == ["Back", "4 weeks earlier", "A week earlier", "A week later", "4 weeks later",
                     "Copies for parents", "Next season", "See what would go", "?"]  # fmt: skip
    press(driver, "See what would go")
    said = " ".join(done(driver, screen))
    asked = [(key.title, key.active) for key in keys_of(driver)]
    assert asked == [("Back", False), ("Leave it", True), ("Close the season", False), ("?", False)]
    assert "birth years of 6 players" in said
    assert "cannot be undone" in said
    assert "These stay: 0 tallies of 1 practice" in said
    press(driver, "Leave it")
    assert len(driver.app.desk.players) == 6
    assert [key.title for key in keys_of(driver)] == usual
    assert "Close this season for good?" not in done(driver, screen)


def test_the_names_go_and_the_counts_stay(drive, path, shared_worker):
    """Afterwards the screen says whom to ask, home says that it was closed, and no name is in the folder."""
    driver = drive(path)
    desk = driver.app.desk
    names = [player.name for player in desk.players]
    assert desk.begin(LAST, desk.players, "breakout_attack", "two_on_one", "Ines")
    for player in desk.players:
        assert desk.tally(player.id, Outcome.DONE)
    screen = to_the_end(driver)
    screen.ask()
    assert "A practice runs" in screen.words
    desk.end()
    screen.ask()
    done(driver, screen)
    press(driver, "Close the season")
    said = " ".join(done(driver, screen))
    assert "It has forgotten 6 players" in said
    assert "6 tallies of 1 practice" in said
    assert (desk.players, desk.tablet.observer) == ((), "")
    assert desk.season.log.count() == 6
    driver.app.go("home")
    driver.settle()
    assert driver.app.screens.current_screen.reminder.startswith("This season was closed on ")
    desk.rest()
    assert where_named(path.parent, *names) == []


def test_parents_get_copies_first(drive, path, shared_worker):
    """A folder for each child, of which nobody else's name is in it."""
    driver = drive(path)
    screen = to_the_end(driver)
    press(driver, "Copies for parents")
    assert "Copies for the parents of 6 players are in" in done(driver, screen)[0]
    folders = sorted(parents_folder(path.resolve()).iterdir())
    assert len(folders) == 6
    players = driver.app.desk.players
    for player in (players[0], players[4]):
        (own,) = [one for one in folders if one.name.startswith(f"{player.number}-")]
        others = [other.name for other in players if other is not player]
        assert where_named(own, player.name)
        assert where_named(own, *others) == []


@pytest.mark.parametrize("window", [PORTRAIT], indirect=True)
def test_a_reminder_pushes_nothing_out_of_the_window(window, drive, path):
    """Also upright with the largest words, where it takes the place of the counts."""
    driver = drive(path)
    driver.app.desk.keep(words=WordSize.LARGEST)
    driver.app.words.follow()
    on(driver, date(2031, 1, 1))
    home = driver.app.screens.current_screen
    assert home.tight
    assert faults(home) == []
    keys = {key.title: key for key in keys_of(driver)}
    end, set_up = keys["Season’s end"], keys["Set-up"]
    assert end.to_window(0, end.top)[1] <= set_up.to_window(0, set_up.y)[1]
