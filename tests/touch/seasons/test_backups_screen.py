"""Backups under real touches: one after each practice by itself, one when asked, and one brought back."""

import shutil
import time
from datetime import date

import pytest
from pressing import keys_of, press
from seasons_for_touch import new_season

from evaltrack.device.backup_places import Why, backups_of, copies_elsewhere
from evaltrack.device.sealing import is_sealed, opened
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.worker.worker import Worker

DAY = date(2026, 1, 20)


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
def own_process(drive, season_path):
    """Return the app with a process of its own beside it, which has come up."""
    driver, answered = drive(season_path), []
    driver.app.worker = Worker()
    driver.app.worker.ask(dict, answered.append, answered.append)
    driver.wait(lambda: answered, timeout=60)
    assert driver.app.worker._process
    yield driver
    driver.app.worker.close()


def practise(driver, tallies: int) -> None:
    """Hold a practice with so many tallies, and end it."""
    desk = driver.app.desk
    assert desk.begin(DAY, desk.players, "breakout_attack", "two_on_one", "Ines")
    for nth in range(tallies):
        assert desk.tally(desk.players[nth % 20].id, Outcome.DONE)
    desk.end()


def kept(driver) -> list:
    return backups_of(driver.app.desk.season.ident)


def to_backups(driver):
    """Have the list of backups in front."""
    driver.app.go("seasons")
    press(driver, "Backups")
    return driver.app.screens.current_screen


def done(driver, screen) -> str:
    """Wait until what was asked is done, and return what the screen says of it."""
    driver.wait(lambda: not screen.busy, timeout=60)
    driver.settle()
    return screen.words


def test_a_practice_that_ends_is_backed_up_and_nobody_waits(own_process, season_path):
    """The backup holds every tally; ending the practice costs the screens' thread no copying of a file."""
    driver = own_process
    practise(driver, 30)
    driver.wait(lambda: len(kept(driver)) == 1, timeout=60)
    (backup,) = kept(driver)
    assert backup.why is Why.PRACTICE
    copy = shutil.copy(backup.path, season_path.with_name("copy.db"))
    with open_season(copy) as season:
        assert season.log.count() == 30
        assert season.checks.findings() == []
    began = time.thread_time()
    driver.app.back_up_soon()
    assert time.thread_time() - began < 0.02


def test_nothing_new_makes_no_backup(drive, season_path):
    """The same season twice is one backup; a season without a single practice is one too, of its roster."""
    driver = drive(season_path)
    for _ in range(3):
        driver.app.back_up_soon()
    done_in_turn = []
    driver.app.worker.ask(dict, done_in_turn.append, done_in_turn.append)
    driver.wait(lambda: done_in_turn, timeout=60)
    assert len(kept(driver)) == 1


def test_a_start_makes_up_for_one_but_not_under_a_practice(drive, season_path):
    """The app may have been closed before the backup was made; whoever taps comes first."""
    driver = drive(season_path)
    desk, asked = driver.app.desk, []
    driver.app.worker.ask = lambda *work: asked.append(work)
    driver.app.back_up_at_start()
    assert len(asked) == 1
    desk.begin(DAY, desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.back_up_at_start()
    assert len(asked) == 1
    desk.end()
    assert len(asked) == 2


def test_a_backup_is_brought_back_after_one_question(drive, season_path):
    """It says what would be gone, asks once, keeps what was there, and the tablet goes on under a new id."""
    driver = drive(season_path)
    screen = to_backups(driver)
    press(driver, "Back up now")
    assert "Backed up" in done(driver, screen)
    driver.app.go("home")
    practise(driver, 12)
    driver.wait(lambda: len(kept(driver)) == 2, timeout=60)
    before = driver.app.desk.tablet.id
    screen = to_backups(driver)
    keys = [key for key in keys_of(driver) if key.title == "Bring back"]
    driver.tap(keys[-1])
    done(driver, screen)
    assert screen.tells("12 tallies are newer and would be gone.")
    assert screen.tells("1 practice is newer and would be gone.")
    assert driver.app.desk.season.log.count() == 12
    press(driver, "Bring it back")
    assert "The backup is back" in done(driver, screen)
    assert driver.app.desk.season.log.count() == 0
    assert driver.app.desk.tablet.id == load_tablet().id != before
    newest = kept(driver)[0]
    assert newest.why is Why.RESTORE
    driver.tap(next(key for key in keys_of(driver) if key.title == "Bring back"))
    done(driver, screen)
    press(driver, "Bring it back")
    done(driver, screen)
    assert driver.app.desk.season.log.count() == 12


def test_a_window_that_was_open_takes_up_the_new_id_with_the_season(drive, season_path, tmp_path):
    """One that had another season in hand while a backup was brought back must not go on under the old id."""
    driver = drive(new_season(tmp_path / "other.db"))
    new = keep_tablet(load_tablet(), id="abc123").id
    assert driver.app.desk.tablet.id != new
    assert driver.app.desk.open(season_path)
    assert driver.app.desk.tablet.id == new


def test_a_question_that_is_left_changes_nothing(drive, season_path):
    driver = drive(season_path)
    screen = to_backups(driver)
    press(driver, "Back up now")
    done(driver, screen)
    press(driver, "Bring back")
    done(driver, screen)
    press(driver, "Leave it")
    assert not screen.asking
    assert len(kept(driver)) == 1


def test_none_is_brought_back_under_a_practice_that_runs(drive, season_path):
    """Whoever taps on must not lose the file under his fingers."""
    driver = drive(season_path)
    screen = to_backups(driver)
    press(driver, "Back up now")
    done(driver, screen)
    desk = driver.app.desk
    desk.begin(DAY, desk.players, "breakout_attack", "two_on_one", "Ines")
    press(driver, "Bring back")
    assert "End it first" in screen.words


@pytest.mark.parametrize("passphrase", ["", "kettle lantern slush"])
def test_a_backup_goes_to_a_chosen_folder(drive, season_path, tmp_path, passphrase):
    """Under a passphrase it is sealed, and without one it says that everybody can read it."""
    driver, stick = drive(season_path), tmp_path / "stick"
    stick.mkdir()
    screen = to_backups(driver)
    screen.ids.passphrase.text = passphrase
    press(driver, "Back up to a folder")
    driver.app.screen("file").look_in(stick)
    driver.settle()
    press(driver, "Write it into this folder")
    said = done(driver, screen)
    (written,) = stick.iterdir()
    content = written.read_bytes()
    assert is_sealed(content) == bool(passphrase)
    assert ("passphrase" in said) == bool(passphrase)
    whole = opened(content, passphrase) if passphrase else content
    assert whole.startswith(b"SQLite format 3\x00")
    assert screen.ids.passphrase.text == ""
    (known,) = copies_elsewhere(driver.app.desk.season.ident)
    assert (known.path, known.sealed) == (written, bool(passphrase))


def test_a_short_passphrase_is_told_before_a_folder_is_chosen(drive, season_path):
    driver = drive(season_path)
    screen = to_backups(driver)
    screen.ids.passphrase.text = "short"
    press(driver, "Back up to a folder")
    assert driver.app.screens.current == "backups"
    assert "at least 8" in screen.words


def test_the_file_is_checked(drive, season_path):
    driver = drive(season_path)
    screen = to_backups(driver)
    press(driver, "Check the season file")
    assert "is whole" in done(driver, screen)


def test_the_invented_team_is_not_backed_up_by_itself(drive, tmp_path):
    """It can be made anew whenever somebody likes."""
    from evaltrack.store.season_file import INVENTED

    path = new_season(tmp_path / "invented.db")
    driver = drive(path)
    driver.app.desk.invented = True
    practise(driver, 3)
    asked = []
    driver.app.worker.ask(dict, asked.append, asked.append)
    driver.wait(lambda: asked, timeout=60)
    assert kept(driver) == backups_of(INVENTED) == []
