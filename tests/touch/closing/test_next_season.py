"""The season after by real touches: who comes along, in which class, and what is noted of last season."""

from datetime import date

import pytest
from pressing import keys_of, press
from seasons_for_touch import demo_season

from evaltrack.store.opening import open_season
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.worker.worker import Worker


@pytest.fixture
def shared_worker():
    """Work on a thread: the process that all tests share has the home folder of another one."""
    worker = Worker()
    worker._none_to_be_had = True
    patch = pytest.MonkeyPatch()
    patch.setattr(EvaltrackApp, "_settle", _settle)
    yield worker
    patch.undo()
    worker.close()


def _settle(*_) -> None:
    """Do nothing."""


def chosen(driver) -> list[str]:
    """Return what stands on the keys that are chosen."""
    return [key.title for key in keys_of(driver) if key.active]


def made(driver, screen) -> None:
    """Wait until the file is made and opened."""
    press(driver, "Make its file")
    driver.wait(lambda: not screen.busy, timeout=60)
    driver.settle()
    assert screen.words == ""
    assert driver.app.screens.current == "home"


def test_the_roster_comes_along_by_touch(drive, season_path):
    """But for who was tapped; the new season is open then, and says where its file is."""
    driver = drive(season_path)
    driver.app.go("seasons")
    press(driver, "Next season")
    screen = driver.app.screens.current_screen
    assert screen.count_words == "20 of 20 players"
    every = [f"{player.number} {player.name}" for player in driver.app.desk.players]
    assert chosen(driver) == ["Make its file", "12U", *every, "Begin without"]
    press(driver, "2 Zoë Łukasik")
    smalls = {key.title: key.small for key in keys_of(driver)}
    assert [smalls[one] for one in every] == ["stays behind"] + 19 * ["comes along"]
    press(driver, "5 Bo Tarnquist")
    press(driver, "5 Bo Tarnquist")
    assert screen.count_words == "19 of 20 players"
    press(driver, "14U")
    press(driver, "Note the last counts with each player")
    assert chosen(driver) == ["Make its file", "14U", *every[1:], "Note the last counts with each player"]
    press(driver, "Begin without")
    assert chosen(driver) == ["Make its file", "14U", *every[1:], "Begin without"]
    made(driver, screen)
    desk = driver.app.desk
    assert "Zoë Łukasik" not in {player.name for player in desk.players}
    assert (len(desk.players), desk.season.team.age_class) == (19, "14U")
    assert (
        desk.season.path.name
        == f"kettle-bay-lanterns-14u-{date.today().year + 1}-{str(date.today().year + 2)[2:]}.db"
    )
    assert str(desk.season.path) in desk.message
    assert len(open_season(season_path).people.players()) == 20


def test_last_counts_stand_with_the_player(drive, tmp_path):
    """On the player's page, until they are taken away there."""
    driver = drive(demo_season(tmp_path / "demo.db"))
    driver.app.go("season_end")
    press(driver, "Next season")
    screen = driver.app.screens.current_screen
    screen.note(True)
    made(driver, screen)
    desk = driver.app.desk
    player = next(one for one in desk.players if one.id in desk.season.player_comments.all())
    driver.app._to_player(None, player.number)
    driver.wait(lambda: driver.app.review.state in ("ready", "failed"), timeout=60)
    driver.settle()
    page = driver.app.screens.current_screen
    assert page.comment.startswith("Last season, up to ")
    assert " of " in page.comment
    press(driver, "Take it away")
    assert page.comment == ""
    assert player.id not in desk.season.player_comments.all()


def test_what_was_chosen_is_of_one_season(drive, season_path):
    """Back keeps it, and goes where one came from."""
    driver = drive(season_path)
    driver.app.go("seasons")
    press(driver, "Season’s end")
    press(driver, "Next season")
    screen = driver.app.screens.current_screen
    screen.turn(driver.app.desk.players[0].id)
    press(driver, "Back")
    assert driver.app.screens.current == "season_end"
    press(driver, "Next season")
    assert screen.count_words == "19 of 20 players"
    screen.choose_class("Pond B")
    driver.settle()
    assert [key.title for key in keys_of(driver)][2:5] == ["Pond B", "8U", "10U"]  # what is unusual stays
    assert "Pond B" in chosen(driver)
