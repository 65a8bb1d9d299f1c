"""The board by rep with real touches: slots, reps, corrections, who leaves and who comes."""

from dataclasses import replace
from datetime import date

import pytest
from on_boards import (
    board_of,
    both_ways_up,
    correct,
    in_slots,
    screen_of,
    tallied_in,
    tap,
    tap_key,
    tile_of,
    written,
)
from pressing import press

from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.player import Position
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season

DONE, MISSED = Outcome.DONE, Outcome.MISSED


@both_ways_up
def test_a_tap_by_rep_is_one_try_of_who_is_in_the_slot(bench, season_path):
    """The tally has the slot's player, the tile's skill and the rep; one tap, and the tile counts it."""
    press(bench, "By rep")
    slots = in_slots(bench)
    player = next(p for p in bench.app.desk.players if p.number == slots["Wall F"])
    place = tile_of(bench, player, "shot_on_net")
    tap(bench, place, MISSED)
    assert written(season_path) == [(player.number, "shot_on_net", MISSED)]
    assert board_of(bench).faces[place].missed == 1
    with open_season(season_path) as season:
        (rep,), (tally,) = season.reps.all("2026-01-20"), season.log.tallies()
    assert tally.rep == rep.id
    assert player.id in rep.slots.values()


@both_ways_up
def test_the_first_tally_of_who_comes_next_begins_the_next_rep(bench):
    """One tap on a tile of the row below tallies and moves everyone on; the tally stands in the new rep."""
    press(bench, "By rep")
    screen, board = screen_of(bench), board_of(bench)
    before = in_slots(bench)
    place = next(i for i in board.layout.tiles if screen.board._tiles[i].following)
    comes = board.faces[place].number
    tap(bench, place, DONE)
    after = in_slots(bench)
    assert (screen.words[0], after["Breakout D"]) == ("Rep 2", comes)
    assert after["Line D"] == before["Breakout D"]
    (tally,) = bench.app.desk.last(1)
    assert (bench.app.desk.player(tally.player).number, tally.skill) == (comes, "outlet_pass")
    assert board.faces[tile_of(bench, bench.app.desk.player(tally.player), "outlet_pass")].done == 1


def test_the_second_finger_means_what_stood_there_when_it_set_out(bench, monkeypatch):
    """Two fingers at the turn of a rep: neither is counted for a player whose number came up under it."""
    press(bench, "By rep")
    screen, board, desk = screen_of(bench), board_of(bench), bench.app.desk
    moment = desk.now()
    following = [i for i in board.layout.tiles if screen.board._tiles[i].following]
    shot = tile_of(
        bench, next(p for p in desk.players if p.number == in_slots(bench)["Wall F"]), "shot_on_net"
    )
    meant = [board.faces[i].number for i in following[:3:2]] + [in_slots(bench)["Wall F"]]
    for place, later in ((following[0], 0), (following[2], 30), (shot, 60)):
        monkeypatch.setattr(desk, "_clock", lambda later=later: moment + later)
        tap(bench, place, DONE)
    tallies = desk.last(3)[::-1]
    assert [desk.player(t.player).number for t in tallies] == meant
    assert tallies[0].rep == tallies[1].rep != tallies[2].rep
    assert screen.words[0] == "Rep 2"


def test_a_quick_second_tap_on_who_comes_next_is_his_too(bench, monkeypatch):
    """A double tap on the row below is two tallies of one player; after a glance it is the next one's."""
    press(bench, "By rep")
    screen, board, desk = screen_of(bench), board_of(bench), bench.app.desk
    place, moment = next(i for i in board.layout.tiles if screen.board._tiles[i].following), desk.now()
    comes = board.faces[place].number
    for later in (0, 150, 900):
        monkeypatch.setattr(desk, "_clock", lambda later=later: moment + later)
        tap(bench, place, MISSED)
    numbers = [desk.player(t.player).number for t in desk.last(3)[::-1]]
    assert numbers[:2] == [comes, comes]
    assert numbers[2] != comes
    assert screen.words[0] == "Rep 3"


def test_undo_of_a_tally_that_began_a_rep_takes_the_rep_back_too(bench, season_path):
    """A mistaken tap on who comes next is one undo: tally gone, everyone where they were."""
    press(bench, "By rep")
    screen, board = screen_of(bench), board_of(bench)
    before = in_slots(bench)
    tap(bench, next(i for i in board.layout.tiles if screen.board._tiles[i].following), MISSED)
    assert in_slots(bench) != before
    press(bench, "Undo")
    assert (in_slots(bench), screen.words[0], written(season_path)) == (before, "Rep 1", [])


def test_the_next_rep_is_one_tap_and_so_is_the_way_back(bench):
    """The key in the head moves everyone on, and undo takes that back as it takes back a tally."""
    press(bench, "By rep")
    before = in_slots(bench)
    press(bench, "Next rep")
    after = in_slots(bench)
    assert after["Line D"] == before["Breakout D"]
    assert after["Wall F"] not in before.values()
    press(bench, "Undo")
    assert in_slots(bench) == before


@both_ways_up
def test_a_wrong_player_is_two_taps_and_his_tallies_are_the_right_ones(bench, season_path):
    """Tap the slot, tap the player: what was tallied there in this rep is theirs, each the same try."""
    press(bench, "By rep")
    desk, wrong = bench.app.desk, in_slots(bench)["Breakout D"]
    player = next(p for p in desk.players if p.number == wrong)
    tap(bench, tile_of(bench, player, "outlet_pass"), DONE)
    (made,) = desk.last(1)
    correct(bench, "Breakout D", desk.here()[4].number)
    right = desk.here()[4]
    assert in_slots(bench)["Breakout D"] == right.number
    (moved,) = desk.last(1)
    assert replace(moved, player=made.player, id=made.id) == made
    assert board_of(bench).faces[tile_of(bench, right, "outlet_pass")].done == 1
    assert (
        desk.message == f"the tally made for {wrong} in this rep is now {right.number}'s; Undo takes it back"
    )
    tap(bench, tile_of(bench, right, "outlet_pass"), MISSED)
    assert written(season_path) == [
        (right.number, "outlet_pass", DONE),
        (right.number, "outlet_pass", MISSED),
    ]


def test_undo_gives_the_tallies_back_with_the_slot(bench, drive, season_path):
    """Who was corrected by mistake has their slot and tallies again, also in an app that was killed."""
    press(bench, "By rep")
    wrong, before = tallied_in(bench, "Breakout D", "outlet_pass", DONE), in_slots(bench)
    correct(bench, "Breakout D", "14")
    assert written(season_path) == [("14", "outlet_pass", DONE)]
    bench.close()
    again = drive(season_path)
    again.settle()
    press(again, "Undo")
    assert (in_slots(again), written(season_path)) == (before, [(wrong, "outlet_pass", DONE)])
    assert again.app.desk.message == f"the tally made for 14 in this rep is again {wrong}'s"


def test_undo_after_a_correction_takes_back_the_slot_and_then_the_tally(bench, season_path):
    """What was done last goes first, and undo says what that is; redo brings both back in their order."""
    press(bench, "By rep")
    wrong, screen = tallied_in(bench, "Breakout D", "outlet_pass", DONE), screen_of(bench)
    correct(bench, "Breakout D", "14")
    assert screen.undoes == "#14 in Breakout D"
    press(bench, "Undo")
    assert (written(season_path), screen.redoes) == ([(wrong, "outlet_pass", DONE)], "#14 in Breakout D")
    assert screen.undoes.startswith(f"#{wrong} ")
    press(bench, "Undo")
    assert (written(season_path), in_slots(bench)["Breakout D"]) == ([], wrong)
    press(bench, "Redo")
    assert written(season_path) == [(wrong, "outlet_pass", DONE)]
    press(bench, "Redo")
    assert (written(season_path), in_slots(bench)["Breakout D"]) == ([("14", "outlet_pass", DONE)], "14")
    assert screen.redoes == ""


def test_undo_of_a_corrected_tally_that_began_a_rep_goes_back_one_act_at_a_time(bench, season_path):
    """First the slot that was put right, then the tally with the rep that began with it."""
    press(bench, "By rep")
    screen, before = screen_of(bench), in_slots(bench)
    tap(bench, next(i for i in board_of(bench).layout.tiles if screen.board._tiles[i].following), MISSED)
    began = in_slots(bench), written(season_path)
    correct(bench, "Breakout D", "20")
    press(bench, "Undo")
    assert ((in_slots(bench), written(season_path)), screen.words[0]) == (began, "Rep 2")
    press(bench, "Undo")
    assert (written(season_path), in_slots(bench), screen.words[0]) == ([], before, "Rep 1")
    press(bench, "Redo")
    assert ((in_slots(bench), written(season_path)), screen.words[0]) == (began, "Rep 2")


def test_two_players_who_changed_places_change_their_tallies(bench, season_path):
    """Each slot's tallies go with the slot, and undo returns all of them."""
    press(bench, "By rep")
    one = tallied_in(bench, "Wall F", "shot_on_net", DONE)
    other = tallied_in(bench, "Middle F", "shot_on_net", MISSED)
    correct(bench, "Wall F", other)
    swapped = [(other, "shot_on_net", DONE), (one, "shot_on_net", MISSED)]
    assert written(season_path) == swapped
    press(bench, "Undo")
    assert written(season_path) == [(one, "shot_on_net", DONE), (other, "shot_on_net", MISSED)]


def test_a_correction_leaves_other_reps_other_slots_and_other_boards_alone(bench, season_path):
    """Only what was tallied in this slot in this rep changes hands: the rest was seen of that player."""
    press(bench, "By rep")
    first = tallied_in(bench, "Breakout D", "outlet_pass", DONE)
    press(bench, "Next rep")
    press(bench, "Group")
    place = next(i for i, f in enumerate(board_of(bench).faces) if f.number == in_rep(bench, "breakout_d"))
    tap(bench, place, MISSED)
    press(bench, "By rep")
    forward = tallied_in(bench, "Wall F", "shot_on_net", DONE)
    second = in_slots(bench)["Breakout D"]
    before = written(season_path)
    correct(bench, "Breakout D", "20")
    assert first != second
    assert written(season_path) == before
    assert before[1:] == [(second, "outlet_pass", MISSED), (forward, "shot_on_net", DONE)]
    assert bench.app.desk.message == ""


def in_rep(driver, slot):
    """Return the number of who is in a slot, while another board is in front."""
    rotation = screen_of(driver)._boards["rep"]._bench.rotation
    return driver.app.desk.player(rotation.slots[slot]).number


def test_who_leaves_after_his_try_keeps_his_tally(bench, season_path):
    """Switched off as hurt they make room in their slot, and what they did stays theirs."""
    press(bench, "By rep")
    number = tallied_in(bench, "Wall F", "shot_on_net", DONE)
    player = next(p for p in bench.app.desk.players if p.number == number)
    press(bench, "Practice")
    press(bench, f"{player.number}  {player.name}")
    press(bench, "Back to the board")
    assert in_slots(bench)["Wall F"] != number
    assert written(season_path) == [(number, "shot_on_net", DONE)]


def test_a_correction_that_is_not_saved_moves_neither_player_nor_tally(bench, season_path):
    """Slot and tallies are put right together or not at all."""
    press(bench, "By rep")
    wrong = tallied_in(bench, "Breakout D", "outlet_pass", DONE)
    with open_season(season_path) as other:
        other._connection.execute("BEGIN IMMEDIATE")
        correct(bench, "Breakout D", "14")
        assert "not saved" in bench.app.desk.message
        other._connection.execute("ROLLBACK")
    assert (in_slots(bench)["Breakout D"], written(season_path)) == (wrong, [(wrong, "outlet_pass", DONE)])
    correct(bench, "Breakout D", "14")
    assert written(season_path) == [("14", "outlet_pass", DONE)]


def test_who_could_be_in_a_slot_starts_with_the_line(bench):
    """The line of the slot's group comes first, in order; everyone here but the player himself is offered."""
    press(bench, "By rep")
    board, desk, there = board_of(bench), bench.app.desk, in_slots(bench)["Wall F"]
    line = screen_of(bench).board._bench.rotation.queues[Position.FORWARD]
    tap_key(bench, there)
    offered = [key.number for key in board.buttons[len(screen_of(bench).board._slots) + 1 :] if key.number]
    assert offered[: len(line)] == [desk.player(ident).number for ident in line]
    assert sorted(offered) == sorted(p.number for p in desk.here() if p.number != there)


def test_a_slot_can_be_left_empty_or_as_it_is(bench):
    """Nobody in a slot takes no taps and says so; leaving it changes nothing."""
    press(bench, "By rep")
    before = in_slots(bench)
    tap_key(bench, before["Breakout D"])
    tap_key(bench, "leave it")
    assert in_slots(bench) == before
    tap_key(bench, before["Breakout D"])
    tap_key(bench, "nobody")
    assert in_slots(bench)["Breakout D"] == ""
    faces = enumerate(board_of(bench).faces)
    place = next(i for i, face in faces if face.caption == "left empty: Breakout D")
    tap(bench, place, DONE)
    assert bench.app.desk.total == 0


@both_ways_up
def test_a_tap_on_a_tile_while_choosing_counts_and_ends_the_choice(bench):
    """No tap waits for an answer: the tiles above still count, and the row below is back."""
    press(bench, "By rep")
    before = len(board_of(bench).buttons)
    tap_key(bench, in_slots(bench)["Breakout D"])
    assert len(board_of(bench).buttons) > before
    tap(bench, 0, DONE)
    assert bench.app.desk.total == 1
    assert len(board_of(bench).buttons) == before


def test_hurt_and_late_players_change_the_line_without_a_restart(bench):
    """Who is switched off leaves their slot at once; who comes late joins the queue."""
    desk, late = bench.app.desk, bench.app.desk.players[16]
    assert desk.arrange([player for player in desk.players if player != late])
    press(bench, "By rep")
    hurt = next(p for p in desk.players if p.number == in_slots(bench)["Wall F"])
    press(bench, "Practice")
    for player in (hurt, late):
        press(bench, f"{player.number}  {player.name}")
    press(bench, "Back to the board")
    assert screen_of(bench).kind == "rep"
    assert hurt.number not in in_slots(bench).values()
    rotation = screen_of(bench).board._bench.rotation
    assert hurt.id not in rotation.groups
    assert rotation.queues[late.position][-1] == late.id


def test_the_next_step_by_rep_is_one_tap(bench):
    """The slots of the next step stand on the board, and what is tallied there is of that step."""
    press(bench, "By rep")
    press(bench, "2 against 1")
    assert "Far F" in in_slots(bench)
    tap(bench, 1, DONE)
    assert bench.app.desk.last(1)[0].step == "three_on_one"


def test_a_rep_that_is_not_saved_moves_nobody(bench, season_path):
    """While the file is held by another program everyone stays in their slot, and the sentence is there."""
    press(bench, "By rep")
    before = in_slots(bench)
    with open_season(season_path) as other:
        other._connection.execute("BEGIN IMMEDIATE")
        press(bench, "Next rep")
        assert in_slots(bench) == before
        assert "not saved" in bench.app.desk.message
        other._connection.execute("ROLLBACK")
    press(bench, "Next rep")
    assert in_slots(bench) != before


def test_a_step_without_slots_says_so_and_the_other_boards_go_on(bench):
    """A drill of the staff's own may name no slots: the board by rep is empty and tells where to tally."""
    desk = bench.app.desk
    bare = Drill("own", "Own drill", (Step("all", "All of it", ()),))
    desk.season.catalogue.write([], [bare])
    desk.drills = (*desk.drills, bare)
    press(bench, "By rep")
    assert desk.watch(drill="own", step="all")
    bench.settle()
    assert "has no slots" in screen_of(bench).words[1]
    bench.tap(board_of(bench))
    bench.key(273)
    press(bench, "Group")
    tap(bench, 0, DONE)
    assert desk.last(1)[0].step == "all"


def test_the_next_practice_lines_up_anew(bench):
    """After an end and a start on another day the board by rep begins with rep 1 of that practice."""
    desk = bench.app.desk
    press(bench, "By rep")
    press(bench, "Next rep")
    desk.end()
    assert desk.begin(date(2026, 1, 22), desk.players, "breakout_attack", "two_on_one", "Ines")
    bench.settle()
    assert (screen_of(bench).kind, screen_of(bench).words[0]) == ("rep", "Rep 1")
    tap(bench, 1, DONE)
    assert desk.total == 1


@pytest.mark.parametrize("kind", ["Group", "Player"])
def test_undo_from_another_board_takes_back_the_rep_that_its_tally_began(bench, kind):
    """The tally of who comes next began a rep; undone on another board, the board by rep is back too."""
    press(bench, "By rep")
    before = in_slots(bench)
    screen = screen_of(bench)
    place = next(place for place, tile in enumerate(screen.board._tiles) if tile.following)
    tap(bench, place, DONE)
    assert in_slots(bench) != before
    press(bench, kind)
    press(bench, "Undo")
    press(bench, "By rep")
    assert in_slots(bench) == before


@both_ways_up
def test_while_a_slot_is_put_right_the_head_asks_who_it_is(bench):
    """The list behind a plate has a question to it, which goes with the answer or with the plate again."""
    press(bench, "By rep")
    number, question = in_slots(bench)["Wall F"], "Who is Wall F?"
    tap_key(bench, number)
    assert question in said(bench)
    tap_key(bench, number)
    assert question not in said(bench)
    correct(bench, "Wall F", "17")
    assert question not in said(bench)
    assert "Rep 1" in said(bench)


def said(driver):
    """Return what stands in the head of the board."""
    return [part.text for part in screen_of(driver).ids.head.walk() if hasattr(part, "text")]
