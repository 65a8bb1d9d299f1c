"""A limited player is marked wherever a finger may mean them: a status in words, and no diagnosis."""

from dataclasses import replace
from datetime import date

import pytest
from on_boards import board_of, both_ways_up, screen_of, tap
from pressing import press
from seasons_for_touch import new_season, roster

from evaltrack.rink.player import Status
from evaltrack.rink.tally import Outcome


@pytest.fixture
def limited(drive, tmp_path, window):
    """Return the driver of an app on the board, and the numbers of those who are limited."""
    players = [replace(p, status=Status.LIMITED) if i in (1, 8) else p for i, p in enumerate(roster(20))]
    driver = drive(new_season(tmp_path / "season.db", players))
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    return driver, {player.number for player in players if player.status is Status.LIMITED}


def marked(shown, words):
    """Return the numbers on tiles or keys that say this."""
    return {one.number for one in shown if words in (one.limit, getattr(one, "small", ""))}


@both_ways_up
def test_a_limited_player_is_marked_on_each_board(limited):
    """Where players of two slots meet it says no contact, elsewhere limited; others have no mark."""
    driver, numbers = limited
    desk, board = driver.app.desk, board_of(driver)
    for drill, step, words in (
        ("breakout_attack", "two_on_one", "no contact"),
        ("stops_starts", "on_lines", "limited"),
    ):
        assert desk.run(drill, step)
        press(driver, "Group")
        assert marked(board.faces, words) == numbers
        press(driver, "Player")
        assert marked(board.buttons, words) == numbers
        press(driver, "By rep")
        seen = set()
        for _ in range(20):
            for shown in (board.buttons, [face for face in board.faces if face]):
                marks = {one.number: one.limit for one in shown if one.number}
                assert {number for number, mark in marks.items() if mark} == numbers & set(marks)
                assert set(marks.values()) <= {"", words}
                seen |= numbers & set(marks)
            press(driver, "Next rep")
        assert seen == numbers


def test_the_mark_takes_no_tap(limited):
    """A finger on it is a missed try, as anywhere on that half."""
    driver, numbers = limited
    board = board_of(driver)
    place = next(i for i, face in enumerate(board.faces) if face.number in numbers)
    tile = board.layout.tile(place)
    driver.tap((tile.x + 12, tile.top - 12))
    (tally,) = driver.app.desk.last(1)
    assert (driver.app.desk.player(tally.player).number in numbers, tally.outcome) == (True, Outcome.MISSED)


def test_the_board_of_one_player_says_it_in_its_head(limited):
    """The words above the tiles name it."""
    driver, numbers = limited
    press(driver, "Player")
    board = board_of(driver)
    index = next(i for i, key in enumerate(board.buttons) if key.number in numbers)
    screen_of(driver).press(index)
    assert "no contact" in screen_of(driver).words[1].split(", ")
    tap(driver, 0, Outcome.DONE)
    assert driver.app.desk.total == 1
