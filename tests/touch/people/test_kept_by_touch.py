"""What is kept of a player, by real touches: the copy for the parents, the erasure with its receipt."""

import pytest
from name_search import where_named
from pressing import press
from seasons_for_touch import demo_season

from evaltrack.device.backup_places import Why, backups_of
from evaltrack.store.opening import open_season
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.worker.pack_tasks import write_pack
from evaltrack.touch.worker.worker import Worker


@pytest.fixture(scope="module")
def whole_season(tmp_path_factory):
    """Make the demo team's season once."""
    return demo_season(tmp_path_factory.mktemp("kept") / "lanterns.db")


@pytest.fixture
def shared_worker(monkeypatch):
    """Work on a thread: the process that all tests share has the home folder of another one."""
    worker = Worker()
    worker._none_to_be_had = True
    monkeypatch.setattr(EvaltrackApp, "_settle", _settle)
    yield worker
    worker.close()


def _settle(*_) -> None:
    """Do nothing."""


@pytest.fixture
def player(drive, whole_season, tmp_path):
    """Return the app with what is kept of one player in front, by touch; and the player."""
    with open_season(whole_season) as season:
        season.copies.write(tmp_path / "season.db")
    driver = drive(tmp_path / "season.db")
    one = driver.app.desk.players[4]
    driver.app._to_player_form(None, one)
    press(driver, "Copy, erase")
    return driver, one


def done(driver):
    """Wait for what was asked, and return the screen."""
    screen = driver.app.screens.current_screen
    driver.wait(lambda: not screen.busy, timeout=120)
    driver.settle()
    return screen


def lines(screen) -> list[str]:
    """Return every line that can be read."""
    return [line for part in screen.walk() for line in str(getattr(part, "text", "")).split("\n")]


def test_a_copy_for_the_parents(player, tmp_path):
    """It lies in a new folder that is named, and has no word of another child."""
    driver, one = player
    (tmp_path / "stick").mkdir()
    press(driver, "Write the copy")
    driver.app.screens.current_screen.look_in(tmp_path / "stick")
    press(driver, "Write it into this folder")
    screen = done(driver)
    (folder,) = (tmp_path / "stick").iterdir()
    assert str(folder) in screen.words
    assert where_named(folder, one.name)
    assert where_named(folder, *(other.name for other in driver.app.desk.players if other.id != one.id)) == []


def test_an_erasure_asks_once_and_leaves_a_receipt(player, tmp_path):
    """Before the answer nothing is changed; after it the name is in no byte, and what is out is listed."""
    driver, one = player
    desk = driver.app.desk
    ident = desk.season.ident
    assert "Written" in write_pack(desk.season.path, tmp_path, desk.tablet.id, "", None)
    press(driver, "What would go")
    screen = done(driver)
    assert any("would be erased" in line for line in lines(screen))
    assert any(".pack" in line and "with the name in it" in line for line in lines(screen))
    assert one in desk.players
    press(driver, "Keep the counts")
    done(driver)
    press(driver, "Leave it")
    assert one in desk.players
    press(driver, "What would go")
    done(driver)
    press(driver, "Erase for good")
    screen = done(driver)
    assert screen.erased
    assert any("is erased" in line for line in lines(screen))
    assert one.id not in {player.id for player in desk.players}
    path = desk.season.path
    press(driver, "To the roster")
    assert driver.app.screens.current == "players"
    assert [backup.why for backup in backups_of(ident)] == [Why.ERASURE]
    driver.app.desk.close()
    assert [found for found in where_named(path.parent, one.name) if not found.startswith(("season-",))] == []


def test_counts_can_stay_without_a_name(player):
    """The team's tallies are as many as before."""
    driver, _ = player
    desk = driver.app.desk
    before = len(desk.season.log.cells())
    press(driver, "What would go")
    done(driver)
    press(driver, "Keep the counts")
    done(driver)
    press(driver, "Erase for good")
    done(driver)
    assert len(desk.season.log.cells()) == before


def test_nobody_is_erased_while_a_practice_runs(player):
    """The board would show whom there is no more."""
    driver, one = player
    desk = driver.app.desk
    day = desk.season.practices.all()[-1].held_on
    assert desk.begin(day, desk.players, "breakout_attack", "two_on_one", "Ines")
    press(driver, "What would go")
    assert "practice runs" in driver.app.screens.current_screen.words
    assert one in desk.players
