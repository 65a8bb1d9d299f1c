"""Off the ice and late by rep, in two taps: a plate, and a key that says what happens. Real touches."""

from on_boards import (
    board_of,
    both_ways_up,
    by_number,
    in_slots,
    key_titled,
    screen_of,
    tallied_in,
    tap_key,
    written,
)
from pressing import press

from evaltrack.rink.player import Position
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season
from evaltrack.touch.desk.bench_rotation import WENT_OFF

DONE = Outcome.DONE


@both_ways_up
def test_hurt_is_two_taps_and_nothing_brings_them_back(bench, drive, season_path):
    """Plate, off the ice: the slot fills from the line, tallies stay theirs; neither undo nor a
    restart puts them in again."""
    press(bench, "By rep")
    hurt = tallied_in(bench, "Wall F", "shot_on_net", DONE)
    (first, *_) = screen_of(bench).board._bench.rotation.queues[Position.FORWARD]
    tap_key(bench, hurt)
    key_titled(bench, "off the ice", f"{hurt} goes now")
    desk = bench.app.desk
    assert desk.message == WENT_OFF.format(number=hurt)
    assert by_number(bench, hurt) not in desk.here()
    assert in_slots(bench)["Wall F"] == desk.player(first).number
    assert (screen_of(bench).board.can_go_back, screen_of(bench).board.choosing) == (False, "")
    press(bench, "Undo")
    bench.key(ord("z"), "z")
    assert hurt not in in_slots(bench).values()
    press(bench, "Next rep")
    press(bench, "Undo")
    bench.close()
    again = drive(season_path)
    again.settle()
    assert hurt not in in_slots(again).values()
    assert by_number(again, hurt).id not in screen_of(again).board._bench.rotation.groups
    for _ in range(12):
        press(again, "Next rep")
        assert hurt not in in_slots(again).values()


@both_ways_up
def test_late_is_two_taps(bench, season_path):
    """Plate, a player who is not here: they are here now, have the next free place, and stand in the slot."""
    desk, late = bench.app.desk, bench.app.desk.players[16]
    assert desk.arrange([player for player in desk.players if player != late])
    press(bench, "By rep")
    made_for = tallied_in(bench, "Wall F", "shot_on_net", DONE)
    tap_key(bench, made_for)
    key = next(k for k in board_of(bench).buttons if k.number == late.number)
    assert key.small == "comes now"
    key_titled(bench, key.title, "comes now")
    assert in_slots(bench)["Wall F"] == late.number
    assert late in desk.here()
    # as with any slot that is put right: who was seen there was never the other one
    assert written(season_path) == [(late.number, "shot_on_net", DONE)]
    press(bench, "Undo")
    assert written(season_path) == [(made_for, "shot_on_net", DONE)]
    assert (in_slots(bench)["Wall F"], late in desk.here()) == (made_for, True)


def test_who_was_hurt_comes_again_in_two_taps(bench):
    """Off the ice and back into the same slot, on the place they had."""
    press(bench, "By rep")
    desk, number = bench.app.desk, in_slots(bench)["Goalie"]
    place = desk.attendance[by_number(bench, number).id].place
    tap_key(bench, number)
    key_titled(bench, "off the ice")
    assert in_slots(bench)["Goalie"] == ""
    tap_key(bench, "no goalie waits")
    key_titled(bench, next(k.title for k in board_of(bench).buttons if k.number == number), "comes now")
    assert in_slots(bench)["Goalie"] == number
    assert desk.attendance[by_number(bench, number).id].place == place


@both_ways_up
def test_an_empty_slot_says_why(bench):
    """Left empty on purpose, or nobody waits: it stands on its plate and its tiles, also of the next rep."""
    press(bench, "By rep")
    tap_key(bench, in_slots(bench)["Wall F"])
    key_titled(bench, "nobody")
    tap_key(bench, in_slots(bench)["Goalie"])
    key_titled(bench, "off the ice")
    board = board_of(bench)
    titles = {key.small: key.title for key in board.buttons}
    assert (titles["Wall F"], titles["Goalie"]) == ("left empty", "no goalie waits")
    captions = [face.caption for face in board.faces if not face.here]
    assert captions == ["no goalie waits: Goalie", *["left empty: Wall F"] * 3]


def test_an_off_that_is_not_saved_changes_nothing(bench, season_path):
    """While another program holds the file, whoever goes off the ice stays where the screen shows them."""
    press(bench, "By rep")
    before = in_slots(bench)
    with open_season(season_path) as other:
        other._connection.execute("BEGIN IMMEDIATE")
        tap_key(bench, before["Wall F"])
        key_titled(bench, "off the ice")
        assert "not saved" in bench.app.desk.message
        other._connection.execute("ROLLBACK")
    assert in_slots(bench) == before
