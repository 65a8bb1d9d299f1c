"""Who plays both defence and forward, by finger: on the form, in a new roster, and on each board."""

from dataclasses import replace
from datetime import date

import pytest
from on_boards import board_of, both_ways_up, correct, in_slots, tap_key
from pressing import keys_of, press

from evaltrack.rink.player import Position
from evaltrack.store.opening import open_season

D, F = Position.DEFENCE, Position.FORWARD


def kept(path, number="5"):
    """Return a player as the file has them."""
    with open_season(path) as season:
        return next(player for player in season.people.players() if player.number == number)


@pytest.fixture
def both_path(season_path):
    """Return the season's file, in which 5, a defender, plays forward too."""
    with open_season(season_path) as season:
        player = next(player for player in season.people.players() if player.number == "5")
        season.people.change([replace(player, also=F)], date(2026, 1, 13), "t")
    return season_path


@both_ways_up
def test_the_form_makes_a_defender_a_forward_too_and_back(drive, season_path, window):
    """One key more; which of the two comes first is the key that was chosen, and the list says both."""
    driver = drive(season_path)
    press(driver, "Roster")
    press(driver, "5  Bo Tarnquist")
    form = driver.app.screens.current_screen
    press(driver, "Also forward")
    assert "A share goes by the steps that defenders get." in form.position_words
    press(driver, "Save")
    assert kept(season_path).position_text == "D/F"
    assert driver.app.screens.current_screen.summary == "20 players: 6 D, 12 F, 1 G, 1 D and F"
    (key,) = [key for key in keys_of(driver) if key.title == "5  Bo Tarnquist"]
    assert key.small == "defender and forward"
    press(driver, "5  Bo Tarnquist")
    assert (form.both, form.history.partition(" until")[0]) == (True, "position D")
    press(driver, "Forward")
    assert [key.title for key in keys_of(driver) if key.title.startswith("Also")] == ["Also defender"]
    press(driver, "Save")
    assert kept(season_path).position_text == "F/D"
    press(driver, "5  Bo Tarnquist")
    press(driver, "Also defender")
    press(driver, "Save")
    assert kept(season_path).position_text == "F"


def test_a_goalie_is_nothing_else(drive, season_path):
    """The key for the second group goes with the first, and what it said goes with it."""
    driver = drive(season_path)
    press(driver, "Roster")
    press(driver, "5  Bo Tarnquist")
    press(driver, "Also forward")
    press(driver, "Goalie")
    assert not [key for key in keys_of(driver) if key.title.startswith("Also")]
    press(driver, "Save")
    assert kept(season_path).position_text == "G"


def test_the_group_board_watches_skills_of_both(start_bench, both_path):
    """The wall puck is for forwards: of the defenders its tile is lit for the one who plays there too."""
    bench = start_bench(both_path)
    desk = bench.app.desk
    assert desk.watch(skill="wall_puck_feet")
    bench.settle()
    faces = {face.number: face.watched for face in board_of(bench).faces}
    defenders = [player.number for player in desk.here() if player.position is D]
    assert [number for number in defenders if faces[number]] == ["5"]


def test_the_player_board_has_the_skills_of_both(start_bench, both_path):
    """Every skill of a defender and every one of a forward, once, and the head says who it is."""
    bench = start_bench(both_path)
    press(bench, "Player")
    tap_key(bench, "5")
    desk, board = bench.app.desk, board_of(bench)
    wanted = [skill.name for skill in desk.watched_skills() if skill.suits(D) or skill.suits(F)]
    assert [face.name for face in board.faces] == wanted
    assert bench.app.screens.current_screen.words[1].startswith("defender and forward")


def test_by_rep_they_can_be_put_into_slots_of_both_groups(start_bench, both_path):
    """In the other group's slots they could be right after its own players; never in two slots at once."""
    driver = start_bench(both_path)
    press(driver, "By rep")
    bench = driver.app.screens.current_screen.board._bench
    player = next(p for p in driver.app.desk.players if p.number == "5")
    groups = bench.rotation.groups
    slot = next(s for s in bench.slots() if s.position in {D, F} - {groups[player.id]})
    could = bench.could_be(slot)
    own = [p for p in could if groups[p.id] is slot.position]
    assert could[: len(own) + 1] == [*own, player]
    correct(driver, slot.name, "5")
    assert in_slots(driver)[slot.name] == "5"
    for _ in range(12):
        press(driver, "Next rep")
        there = [number for number in in_slots(driver).values() if number]
        assert len(there) == len(set(there)) == len(bench.slots())
