"""When the app lets the season file rest: a copy of the file alone is whole then."""

from datetime import date

import pytest

from evaltrack.rink.tally import Outcome
from evaltrack.touch import app as app_module

TODAY = date(2026, 1, 13)


@pytest.fixture
def monotonic(monkeypatch):
    """Return the app's clock of quiet, set by the test."""
    now = [1000.0]
    monkeypatch.setattr(app_module, "monotonic", lambda: now[0])
    return now


@pytest.fixture
def board(drive, season_path, monotonic):
    """Return the driver of an app on the board, with three taps that wait."""
    driver = drive(season_path)
    desk = driver.app.desk
    assert desk.begin(TODAY, desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    tap(driver, 3)
    return driver


def tap(driver, count: int) -> None:
    """Tally so many times, and let the app look."""
    for _ in range(count):
        assert driver.app.desk.tally(driver.app.desk.players[0].id, Outcome.DONE)
    driver.app._rest()


def waits(driver) -> bool:
    return driver.app.desk.season.waiting > 0


def rests(driver) -> None:
    """Let the app look until nothing waits; a look comes to nothing while work beside it reads the file."""
    driver.wait(lambda: driver.app._rest() or not waits(driver))


def test_while_taps_come_they_wait_for_no_disk(board, monotonic):
    """Between taps nothing is written back; in a pause between two drills all of it is."""
    assert waits(board)
    monotonic[0] += 10
    board.app._rest()
    assert waits(board)
    tap(board, 1)
    monotonic[0] += 10
    board.app._rest()
    assert waits(board)
    monotonic[0] += 10
    rests(board)


def test_a_long_run_of_taps_is_written_back_in_between(board):
    """The journal does not grow with the practice: at no time do more than 250 writes wait."""
    waiting = []
    for _ in range(30):
        tap(board, 10)
        waiting.append(board.app.desk.season.waiting)
    assert max(waiting) < 250
    assert min(waiting[20:]) < 50


@pytest.mark.parametrize("how", ["home", "pause", "start"])
def test_off_the_boards_nothing_waits(board, how):
    """At home, when another app comes in front, and a moment after the practice screen has come."""
    if how == "pause":
        board.app.on_pause()
    else:
        board.app.go(how)
        if how == "start":
            rests(board)
    assert not waits(board)
