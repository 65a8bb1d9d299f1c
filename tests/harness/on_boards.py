"""Tapping the board in front, and reading off it and out of the season file what came of it."""

import pytest

from evaltrack.rink.board_grid import aim_of
from evaltrack.store.opening import open_season

SLOTS = ("Goalie", "Breakout D", "Line D", "Wall F", "Middle F", "Far F", "New D", "Old D")

both_ways_up = pytest.mark.parametrize(
    "window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True
)


def screen_of(driver):
    return driver.app.screens.get_screen("board")


def board_of(driver):
    return screen_of(driver).ids.board


def tap(driver, place, outcome):
    """Tap the part of a tile for an outcome."""
    driver.tap(aim_of(board_of(driver).layout.tile(place), outcome))


def tap_key(driver, title):
    """Tap the key on the board that has this title, or this number."""
    board = board_of(driver)
    (index,) = [
        i
        for i, key in enumerate(board.buttons)
        if title in (key.title, key.number) and i in board.layout.buttons
    ]
    key = board.layout.buttons[index]
    driver.tap((key.x + key.width / 2, key.y + key.height / 2))


def tile_of(driver, player, skill):
    """Return the place of the tile of this rep for a player and a skill."""
    screen = screen_of(driver)
    (place,) = [
        place
        for place, tile in enumerate(screen.board._tiles)
        if not tile.following and tile.skill == skill and screen.board._player(tile) == player.id
    ]
    return place


def in_slots(driver):
    """Return what the plates of the slots show: slot and number."""
    return {key.small: key.number for key in board_of(driver).buttons if key.small in SLOTS}


def written(path):
    """Return the tallies in the file, in order, by number, skill and outcome."""
    with open_season(path) as season:
        numbers = {p.id: p.number for p in season.people.players()}
        return [(numbers[t.player], t.skill, t.outcome) for t in season.log.tallies()]


def correct(driver, slot, number):
    """Put a player into a slot with two taps."""
    board = board_of(driver)
    tap_key(driver, in_slots(driver)[slot])
    # the plates come first; a player who is in another slot stands on its plate too
    key = board.layout.buttons[max(i for i in board.layout.buttons if board.buttons[i].number == number)]
    driver.tap((key.x + key.width / 2, key.y + key.height / 2))


def tallied_in(driver, slot, skill, outcome):
    """Tap a tile of whoever is in a slot, and return his number."""
    number = in_slots(driver)[slot]
    player = next(p for p in driver.app.desk.players if p.number == number)
    tap(driver, tile_of(driver, player, skill), outcome)
    return number


def by_number(driver, number):
    """Return the player of a number."""
    return next(player for player in driver.app.desk.players if player.number == number)


def key_titled(driver, title, small=None):
    """Tap the key of the choice with this title, and this small line where several have it."""
    board = board_of(driver)
    (index,) = [
        i
        for i in board.layout.buttons
        if board.buttons[i].title == title and small in (None, board.buttons[i].small)
    ]
    key = board.layout.buttons[index]
    driver.tap((key.x + key.width / 2, key.y + key.height / 2))
