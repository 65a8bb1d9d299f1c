"""A damaged season file keeps no app from starting: home comes, says what is wrong, and another file opens.

Cases: damage that opening reads, named or remembered; in what taking up the practice reads; with another
season in hand; damage that home, the start of a practice, the rotation or the standings meet first;
a file that comes back damaged.
"""

import os
import shutil
import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest
from hostile import with_value
from kivy.clock import Clock
from seasons_for_touch import new_season

from evaltrack.device.season_claim import SeasonClaim, is_claimed_here
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.tally import Outcome
from evaltrack.touch.desk.bench_rotation import BenchRotation
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.review.review import Review

TODAY = date(2026, 1, 13)
DAMAGED = "the season file is damaged"


def damage(path: Path, table: str, column: str, value: object) -> None:
    """Write a value over all of its like that no season file of ours holds."""
    with_value(table, column, value, everywhere=True)(path)


def count(path: Path) -> int:
    """Return how many tallies a file holds, by a connection of its own."""
    with closing(sqlite3.connect(path)) as file:
        return file.execute("SELECT count(*) FROM tally").fetchone()[0]


@pytest.fixture
def running(tmp_path) -> Path:
    """Return a closed season file in which a practice runs, with a rotation and a tally."""
    path = new_season(tmp_path / "running.db", 8)
    desk = Desk()
    assert desk.open(path)
    assert desk.begin(TODAY, desk.players, "breakout_attack", "two_on_one", "Ines")
    assert BenchRotation(desk).take_up()
    assert desk.tally(desk.players[0].id, Outcome.DONE)
    desk.close()
    return path


@pytest.fixture
def other(tmp_path) -> Path:
    """Return another season file, in order."""
    return new_season(tmp_path / "other.db", 5)


AT_THE_START = [
    ("player", "position", "E"),
    ("skill", "target", 9.5),
    ("slot", "skills", "none"),
    ("step", "drill", "none"),
    ("station", "skill", "none"),
    ("attendance", "player", bytes(15)),
    ("tally", "outcome", "dome"),
    ("tally", "id", b"x"),
]


@pytest.mark.parametrize("remembered", [False, True], ids=["named", "remembered"])
@pytest.mark.parametrize(("table", "column", "value"), AT_THE_START)
def test_the_app_starts_and_opens_another_file(drive, running, other, table, column, value, remembered):
    """Home is on the screen with a sentence, nothing half-read is in hand, the claim is left."""
    damage(running, table, column, value)
    keep_tablet(load_tablet(), season=str(running) if remembered else "")
    driver = drive(None if remembered else running)
    driver.settle()
    desk = driver.app.desk
    assert driver.app.screens.current == "home"
    assert DAMAGED in desk.message
    assert (desk.season, desk.practice, desk.station, desk.players) == (None, None, None, ())
    assert desk.refused == running
    assert desk.open(other)
    home = driver.app.screens.get_screen("home")
    home.on_pre_enter()
    assert desk.message == ""
    assert home.summary.startswith("5 players")


@pytest.mark.parametrize(("table", "column", "value"), AT_THE_START)
def test_another_season_in_hand(running, other, table, column, value):
    """A damaged file leaves the season before in hand, as it was, or none."""
    damage(running, table, column, value)
    desk = Desk()
    assert desk.open(other)
    before = desk.players
    assert not desk.open(running)
    assert DAMAGED in desk.message
    if desk.season:
        assert desk.season.path == other
        assert desk.players == before
        assert desk.begin(TODAY, desk.players, "breakout_attack", "two_on_one", "Ines")
    else:
        assert (desk.practice, desk.players, desk.left_open) == (None, (), None)
    desk.close()


def test_a_file_that_was_refused_is_claimed_by_nobody(running, tmp_path, monkeypatch):
    """Another window may open it at once."""
    damage(running, "tally", "outcome", "dome")
    desk = Desk()
    assert not desk.open(running)
    assert not is_claimed_here(running)
    assert SeasonClaim().take(running)


@pytest.mark.skipif(os.name == "nt", reason="names are no bytes there")
@pytest.mark.parametrize("sound", [True, False], ids=["sound", "damaged"])
def test_a_stray_byte_in_the_path(drive, running, sound):
    """A name that is no text is shown with a sign in its place, and keeps nobody from the season."""
    if not sound:
        damage(running, "player", "position", "E")
    driver = drive(running.rename(running.with_name("st\udcffay.db")))
    driver.settle()
    assert bool(driver.app.desk.practice) is sound
    driver.app.go("home")
    driver.settle()
    assert driver.app.screens.current == "home"
    assert (DAMAGED in driver.app.desk.message) is not sound


def test_damage_that_home_meets(drive, running):
    """Home says so in a sentence, and everything else on it works."""
    damage(running, "practice", "surface", "ice")
    with closing(sqlite3.connect(running, isolation_level=None)) as file:
        file.execute("PRAGMA ignore_check_constraints = ON")
        file.execute("INSERT INTO practice SELECT '2026-01-01', 'soon', 'full', NULL, NULL, 0")
        file.execute("UPDATE practice SET surface = 'full'")
    driver = drive(running)
    driver.app.go("home")
    driver.settle()
    assert driver.app.screens.current == "home"
    assert DAMAGED in driver.app.desk.message
    driver.app.go("start")
    driver.settle()
    assert driver.app.screens.current == "start"


def test_damage_that_the_line_meets(running):
    """The board by rep is not taken up, and says why."""
    damage(running, "line_fact", "rep", b"")
    desk = Desk()
    assert desk.open(running)
    assert not BenchRotation(desk).take_up()
    assert DAMAGED in desk.message
    desk.close()


def test_damage_that_the_standings_meet(running, shared_worker):
    """The standings say why there are none, and are tried again when the file changes."""
    with closing(sqlite3.connect(running, isolation_level=None)) as file:
        file.execute("INSERT INTO practice SELECT '2026-01-01', 'soon', 'full', NULL, 5, 0")
        file.execute("PRAGMA foreign_keys = OFF")
        file.execute(
            "INSERT INTO tally SELECT randomblob(16), '2026-01-01', player, skill, skill_version, outcome,"
            " pressure, drill, step, observer, NULL, 'file', at, NULL FROM tally"
        )
    desk = Desk()
    assert desk.open(running)
    review = Review(desk, shared_worker)
    review.refresh()
    while review.state == "working":
        Clock.tick()
    assert review.state == "failed"
    assert DAMAGED in review.words
    desk.close()


def test_a_file_that_comes_back_damaged(running, tmp_path):
    """Nothing is written into it; the practice stays on the screen, and each tap is told not to count."""
    back = Path(shutil.copy(running, tmp_path / "back.db"))
    damage(back, "attendance", "player", bytes(15))
    desk = Desk()
    assert desk.open(running)
    player, tallies = desk.players[0].id, count(back)
    for beside in list(running.parent.glob("running.db*")):
        beside.rename(tmp_path / f"gone-{beside.name}")
    assert desk.tally(player, Outcome.DONE) is None
    back.rename(running)
    for _ in range(2):
        assert desk.tally(player, Outcome.DONE) is None
        assert DAMAGED in desk.message
        assert desk.practice
        assert desk.count(player, Outcome.DONE) == 1
    assert count(running) == tallies
    desk.close()
