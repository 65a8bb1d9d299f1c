"""The board of one player with real touches."""

import pytest
from on_boards import board_of, both_ways_up, screen_of, tap, tap_key, written
from pressing import press

from evaltrack.rink.player import Position
from evaltrack.rink.tally import Outcome

DONE, MISSED = Outcome.DONE, Outcome.MISSED


@both_ways_up
def test_a_tap_on_a_skill_of_one_player_is_one_try(bench, season_path):
    """Each tile is a skill of their position; another player is one tap."""
    press(bench, "Player")
    board, desk = board_of(bench), bench.app.desk
    first, other = desk.here()[0], desk.here()[-1]
    names = {skill.name for skill in desk.skills.values() if skill.suits(first.position)}
    assert {face.name for face in board.faces} == names
    tap(bench, 0, DONE)
    tap_key(bench, other.number)
    assert screen_of(bench).words[0] == f"{other.number}  {other.name}"
    tap(bench, 1, MISSED)
    made = [
        desk.watched_skills()[0].key,
        next(s.key for s in desk.skills.values() if s.name == board.faces[1].name),
    ]
    assert written(season_path) == [(first.number, made[0], DONE), (other.number, made[1], MISSED)]


@both_ways_up
@pytest.mark.parametrize("first", [0, -1], ids=["defender first", "goalie first"])
def test_each_player_has_the_skills_of_his_own_position(bench, season_path, first):
    """Whoever was watched before, the tiles and what is tallied on them are those of the player chosen."""
    press(bench, "Player")
    desk, board = bench.app.desk, board_of(bench)
    forward = next(player for player in desk.here() if player.position is Position.FORWARD)
    made = []
    for player in (desk.here()[first], forward, desk.here()[-1], desk.here()[0], forward):
        tap_key(bench, player.number)
        suited = [skill for skill in desk.watched_skills() if skill.suits(player.position)]
        assert [face.name for face in board.faces] == [skill.name for skill in suited]
        assert sorted(board.layout.tiles)[: len(suited)] == list(range(len(suited)))
        tap(bench, len(suited) - 1, DONE)
        made.append((player.number, suited[-1].key, DONE))
        assert board.faces[len(suited) - 1].done == made.count(made[-1])
    assert written(season_path) == made


def test_the_skills_of_the_new_step_come_first_for_the_player_chosen_before(bench):
    """After another player and another step the tiles follow the step; another board and back keeps them."""
    press(bench, "Player")
    desk, board = bench.app.desk, board_of(bench)
    goalie = desk.here()[-1]
    tap_key(bench, goalie.number)
    for change in (desk.next_step, lambda: press(bench, "Group"), lambda: press(bench, "Player")):
        change()
        bench.settle()
    suited = [skill.name for skill in desk.watched_skills() if skill.suits(goalie.position)]
    assert [face.name for face in board.faces] == suited


def test_a_player_who_left_takes_no_taps_on_his_own_board(bench):
    """Their skills say that they are not here; the others can still be chosen."""
    press(bench, "Player")
    desk = bench.app.desk
    first = desk.here()[0]
    assert desk.arrange(desk.here()[1:])
    bench.settle()
    assert screen_of(bench).words[0].startswith(f"{first.number} ")
    tap(bench, 0, DONE)
    assert desk.total == 0
    tap_key(bench, desk.here()[0].number)
    tap(bench, 0, DONE)
    assert desk.total == 1
