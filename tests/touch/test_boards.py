"""The three boards with real touches, both ways up: what a tap writes, what it moves, and what stays."""

from datetime import date

import pytest
from kivy.core.window import Window
from pressing import keys_of, press

from evaltrack.rink.board_grid import aim_of
from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.player import Position
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season

LATE = slice(16, 19)
DONE, MISSED, UNSEEN = Outcome.DONE, Outcome.MISSED, Outcome.UNSEEN


both_ways_up = pytest.mark.parametrize(
    "window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True
)


@pytest.fixture
def window(request):
    """Turn the window when a test asks for it, and turn it back at its end."""
    before = Window.size
    Window.resize(*getattr(request, "param", before))
    yield
    Window.resize(*before)


@pytest.fixture
def bench(drive, season_path, window):
    """Return the driver of an app on the group's board, everyone here but three forwards."""
    driver = drive(season_path)
    desk = driver.app.desk
    here = [player for player in desk.players if player not in desk.players[LATE]]
    assert desk.begin(date(2026, 1, 20), here, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    return driver


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
        i for i, key in enumerate(board.keys) if title in (key.title, key.number) and i in board.layout.keys
    ]
    key = board.layout.keys[index]
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
    return {key.small: key.number for key in board_of(driver).keys if key.small in SLOTS}


SLOTS = ("Goalie", "Breakout D", "Line D", "Wall F", "Middle F", "Far F", "New D", "Old D")


def written(path):
    """Return the tallies in the file, in order, by number, skill and outcome."""
    with open_season(path) as season:
        numbers = {p.id: p.number for p in season.people.players()}
        return [(numbers[t.player], t.skill, t.outcome) for t in season.log.tallies()]


# the parts of a tile, and the boards


@both_ways_up
def test_a_finger_on_the_name_says_unseen_and_is_undone_like_any_other(bench, season_path):
    """The tab counts neither done nor missed; the tile and the strip show it, and undo takes it back."""
    board, screen = board_of(bench), screen_of(bench)
    tap(bench, 3, UNSEEN)
    face = board.faces[3]
    assert (face.done, face.missed, face.unseen) == (0, 0, 1)
    assert screen.ids.last.tallies[0] == (face.number, UNSEEN)
    assert screen.undoes == f"{face.number} unseen"
    assert written(season_path) == [(face.number, "outlet_pass", UNSEEN)]
    press(bench, "Undo")
    assert board.faces[3].unseen == 0
    assert written(season_path) == []


@both_ways_up
def test_another_board_and_back_is_one_tap_each_and_moves_no_tile(bench):
    """Group, rep, player and group again: every player's tile is where it was, with its counts."""
    tap(bench, 3, DONE)
    board = board_of(bench)
    before = dict(board.layout.tiles), list(board.faces)
    for title, kind in (("By rep", "rep"), ("Player", "player"), ("Group", "group")):
        press(bench, title)
        assert screen_of(bench).kind == kind
    assert (dict(board.layout.tiles), board.faces) == before


def test_pressure_is_sticky_on_every_board(bench):
    """Switched on once, it goes with the tallies of all three boards until it is switched off."""
    press(bench, "Pressure")
    for title in ("Group", "By rep", "Player"):
        press(bench, title)
        tap(bench, 0, DONE)
    press(bench, "Pressure")
    tap(bench, 0, DONE)
    assert [tally.pressure for tally in bench.app.desk.last(4)] == [False, True, True, True]


def test_what_is_watched_is_always_there_in_words(bench):
    """The head names skill and definition of the group's board; on the others each tile names its own."""
    screen, skills = screen_of(bench), bench.app.desk.skills.values()
    assert screen.words == ["Outlet pass", "reaches a team-mate who controls it"]
    captions = {skill.name: skill.caption for skill in skills}
    for title in ("By rep", "Player"):
        press(bench, title)
        assert screen.step == "2 against 1"
        told = [(face.name, face.caption) for face in board_of(bench).faces if not face.number]
        assert len(told) > 5
        assert told == [(name, captions[name]) for name, _ in told]


@both_ways_up
def test_keys_and_controls_are_large_enough_for_a_finger(bench):
    """On ten inches every button of each board is at least 9 mm a side, undo and the skills 11 mm high."""
    mm = 217 / max(Window.size)
    for title in ("Group", "By rep", "Player"):
        press(bench, title)
        keys = keys_of(bench)
        assert min(min(key.size) for key in keys) * mm >= 9
        undo = screen_of(bench).ids.foot.children[0]
        skills = list(screen_of(bench).chips._chips.values())
        assert min(key.height for key in [undo, *(skills if title == "Group" else [])]) * mm >= 11


@both_ways_up
def test_undo_is_on_the_side_of_the_hand_and_the_halves_stay(bench):
    """For the left hand undo and the controls change sides, done stays on the right; and back again."""
    driver, screen, board = bench, screen_of(bench), board_of(bench)
    middle = Window.width / 2

    def sides():
        undo, practice = screen.ids.foot.children[0], screen.ids.controls.children[0]
        if screen.desk.tablet.hand == "left":
            undo, practice = screen.ids.foot.children[-1], screen.ids.controls.children[-1]
        assert undo.title == "Undo"
        return undo.center_x > middle, practice.center_x > middle

    assert sides() == (True, True)
    for hand, expected in (("left", (False, False)), ("right", (True, True))):
        screen.desk.remember(hand=hand)
        screen.on_pre_enter()
        driver.settle()
        assert sides() == expected
        tap(driver, 4, DONE)
        assert driver.app.desk.last(1)[0].outcome is DONE
    assert board.faces[4].done == 2


def test_the_time_since_the_last_tally_is_told_with_a_quiet_mark_after_a_minute(bench, monkeypatch):
    """Seconds at first, minutes from the first one on, and quiet again only until the next tally."""
    desk, screen = bench.app.desk, screen_of(bench)
    since = next(w for w in screen.ids.foot.children if hasattr(w, "words"))
    assert since.words == "no tally yet"
    moment = desk.now()
    monkeypatch.setattr(desk, "_clock", lambda: moment)
    tap(bench, 0, DONE)
    for later, words in (
        (0, "0 s ago"),
        (59_999, "59 s ago"),
        (60_000, "quiet 1 min"),
        (7_300_000, "quiet 2 h"),
    ):
        monkeypatch.setattr(desk, "_clock", lambda later=later: moment + later)
        screen._tick()
        assert since.words == words
    tap(bench, 0, DONE)
    assert since.words == "0 s ago"
    press(bench, "Undo")
    assert since.words == "quiet 2 h"


def test_the_clock_of_the_board_is_drawn_at_most_once_a_second_and_only_in_front(bench):
    """It ticks with one interval of a second, which stops when another screen is in front."""
    screen = screen_of(bench)
    assert (screen._clock.timeout, screen._clock.is_triggered) == (1, 1)
    press(bench, "Practice")
    assert not screen._clock.is_triggered


# by rep


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


def test_undo_of_a_tally_that_began_a_rep_takes_the_rep_back_too(bench, season_path):
    """A mistaken tap on who comes next is one undo: tally gone, everyone where he was."""
    press(bench, "By rep")
    screen, board = screen_of(bench), board_of(bench)
    before = in_slots(bench)
    tap(bench, next(i for i in board.layout.tiles if screen.board._tiles[i].following), MISSED)
    assert in_slots(bench) != before
    press(bench, "Undo")
    assert (in_slots(bench), screen.words[0], written(season_path)) == (before, "Rep 1", [])


def test_the_next_rep_is_one_tap_and_so_is_the_way_back(bench):
    """The key in the head moves everyone on, the one beside it takes that back."""
    press(bench, "By rep")
    before = in_slots(bench)
    press(bench, "Next rep")
    after = in_slots(bench)
    assert after["Line D"] == before["Breakout D"]
    assert after["Wall F"] not in before.values()
    press(bench, "Back")
    assert in_slots(bench) == before


@both_ways_up
def test_a_wrong_player_is_two_taps_and_loses_no_tally(bench, season_path):
    """Tap the slot, tap the player: the next tally is his, the one before stays whose it was."""
    press(bench, "By rep")
    desk, wrong = bench.app.desk, in_slots(bench)["Breakout D"]
    player = next(p for p in desk.players if p.number == wrong)
    tap(bench, tile_of(bench, player, "outlet_pass"), DONE)
    tap_key(bench, wrong)
    right = desk.here()[4]
    tap_key(bench, right.number)
    assert in_slots(bench)["Breakout D"] == right.number
    tap(bench, tile_of(bench, right, "outlet_pass"), MISSED)
    assert written(season_path) == [(wrong, "outlet_pass", DONE), (right.number, "outlet_pass", MISSED)]


def test_who_could_be_in_a_slot_starts_with_the_line(bench):
    """The line of the slot's group comes first, in order; everyone here but the player himself is offered."""
    press(bench, "By rep")
    board, desk, there = board_of(bench), bench.app.desk, in_slots(bench)["Wall F"]
    line = screen_of(bench).board._line.rotation.lines[Position.FORWARD]
    tap_key(bench, there)
    offered = [key.number for key in board.keys[len(screen_of(bench).board._slots) + 1 :] if key.number]
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
    place = next(i for i, face in enumerate(board_of(bench).faces) if face.caption == "nobody: Breakout D")
    tap(bench, place, DONE)
    assert bench.app.desk.total == 0


@both_ways_up
def test_a_tap_on_a_tile_while_choosing_counts_and_ends_the_choice(bench):
    """No tap waits for an answer: the tiles above still count, and the row below is back."""
    press(bench, "By rep")
    before = len(board_of(bench).keys)
    tap_key(bench, in_slots(bench)["Breakout D"])
    assert len(board_of(bench).keys) > before
    tap(bench, 0, DONE)
    assert bench.app.desk.total == 1
    assert len(board_of(bench).keys) == before


def test_hurt_and_late_players_change_the_line_without_a_restart(bench):
    """Who is switched off leaves his slot at once; who comes late joins the line."""
    press(bench, "By rep")
    desk = bench.app.desk
    hurt = next(p for p in desk.players if p.number == in_slots(bench)["Wall F"])
    late = desk.players[LATE][0]
    press(bench, "Practice")
    for player in (hurt, late):
        press(bench, f"{player.number}  {player.name}")
    press(bench, "Back to the board")
    assert screen_of(bench).kind == "rep"
    assert hurt.number not in in_slots(bench).values()
    rotation = screen_of(bench).board._line.rotation
    assert hurt.id not in rotation.groups
    assert rotation.lines[late.position][-1] == late.id


def test_the_next_step_by_rep_is_one_tap(bench):
    """The slots of the next step stand on the board, and what is tallied there is of that step."""
    press(bench, "By rep")
    press(bench, "2 against 1")
    assert "Far F" in in_slots(bench)
    tap(bench, 1, DONE)
    assert bench.app.desk.last(1)[0].step == "three_on_one"


def test_a_rep_that_is_not_saved_moves_nobody(bench, season_path):
    """While the file is held by another program everyone stays in his slot, and the sentence is there."""
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


# one player


@both_ways_up
def test_a_tap_on_a_skill_of_one_player_is_one_try(bench, season_path):
    """Each tile is a skill of his position; another player is one tap."""
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


def test_a_player_who_left_takes_no_taps_on_his_own_board(bench):
    """His skills say that he is not here; the others can still be chosen."""
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


# after a kill


@pytest.mark.parametrize("kind", ["group", "rep", "player"])
def test_an_app_that_was_killed_opens_on_the_same_board(bench, drive, season_path, kind):
    """Same board, same rep, same slots and line, same player: nothing was told on the way out."""
    titles = {"group": "Group", "rep": "By rep", "player": "Player"}
    press(bench, "By rep")
    press(bench, "Next rep")
    tap_key(bench, in_slots(bench)["Wall F"])
    tap_key(bench, bench.app.desk.here()[-2].number)
    line = screen_of(bench).board._line.rotation.lines
    press(bench, "Player")
    tap_key(bench, bench.app.desk.here()[5].number)
    press(bench, titles[kind])
    tap(bench, 0, DONE)
    shown = board_of(bench).faces, board_of(bench).keys, screen_of(bench).words
    bench.close()
    again = drive(season_path)
    again.settle()
    assert again.app.screens.current == "board"
    assert screen_of(again).kind == kind
    assert (board_of(again).faces, board_of(again).keys, screen_of(again).words) == shown
    if kind == "rep":
        assert screen_of(again).board._line.rotation.lines == line
