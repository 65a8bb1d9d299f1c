"""The three boards with real touches, both ways up: what all of them share."""

from datetime import date

import pytest
from kivy.core.window import Window
from on_boards import board_of, both_ways_up, in_slots, screen_of, tap, tap_key, written
from pressing import keys_of, press
from seasons_for_touch import new_season

from evaltrack.rink.tally import Outcome

DONE, UNSEEN = Outcome.DONE, Outcome.UNSEEN


@both_ways_up
def test_a_finger_on_the_name_says_unseen_and_is_undone_like_any_other(bench, season_path):
    """The tab counts neither done nor missed; the tile and the strip show it, and undo takes it back."""
    board, screen = board_of(bench), screen_of(bench)
    tap(bench, 3, UNSEEN)
    face = board.faces[3]
    assert (face.done, face.missed, face.unseen) == (0, 0, 1)
    assert screen.ids.last.tallies[0] == (face.number, UNSEEN, False)
    assert screen.undoes == f"#{face.number} {face.name} unseen"
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


@both_ways_up
@pytest.mark.parametrize(("players", "here"), [(20, 16), (20, 9), (17, 12)])
def test_a_late_player_moves_nobody(drive, tmp_path, window, players, here):
    """One comes late, and then all the others: on no board does anyone's tile or key move."""
    driver = drive(new_season(tmp_path / "late.db", players))
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players[:here], "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    press(driver, "Player")
    board = board_of(driver)
    keys = [board.layout.buttons[place] for place in range(here)]
    press(driver, "Group")
    before = [(board.layout.tile(place), board.faces[place].number) for place in range(here)]
    for late in (desk.players[here : here + 1], desk.players[here + 1 :]):
        press(driver, "Practice")
        for player in late:
            press(driver, f"{player.number}  {player.name}")
        press(driver, "Back to the board")
        assert [(board.layout.tile(p), board.faces[p].number) for p in range(here)] == before
        place = len(board.faces) - 1
        tap(driver, place, DONE)
        assert (board.faces[place].number, board.faces[place].done) == (late[-1].number, 1)
    assert len(board.faces) == players
    press(driver, "Player")
    assert [board.layout.buttons[place] for place in range(here)] == keys


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
        skills = list(screen_of(bench)._controls.chips._chips.values())
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
        (60_000, "nothing for 1 min"),
        (7_300_000, "nothing for 2 h"),
    ):
        monkeypatch.setattr(desk, "_clock", lambda later=later: moment + later)
        screen._tick()
        assert since.words == words
    tap(bench, 0, DONE)
    assert since.words == "0 s ago"
    press(bench, "Undo")
    assert since.words == "nothing for 2 h"


def test_the_clock_of_the_board_is_drawn_at_most_once_a_second_and_only_in_front(bench):
    """It ticks with one interval of a second, which stops when another screen is in front."""
    screen = screen_of(bench)
    assert (screen._clock.timeout, screen._clock.is_triggered) == (1, 1)
    press(bench, "Practice")
    assert not screen._clock.is_triggered


@pytest.mark.parametrize("kind", ["group", "rep", "player"])
def test_an_app_that_was_killed_opens_on_the_same_board(bench, drive, season_path, kind):
    """Same board, same rep, same slots and line, same player: nothing was told on the way out."""
    titles = {"group": "Group", "rep": "By rep", "player": "Player"}
    press(bench, "By rep")
    press(bench, "Next rep")
    tap_key(bench, in_slots(bench)["Wall F"])
    tap_key(bench, bench.app.desk.here()[-2].number)
    line = screen_of(bench).board._bench.rotation.queues
    press(bench, "Player")
    tap_key(bench, bench.app.desk.here()[5].number)
    press(bench, titles[kind])
    tap(bench, 0, DONE)
    shown = board_of(bench).faces, board_of(bench).buttons, screen_of(bench).words
    bench.close()
    again = drive(season_path)
    again.settle()
    assert again.app.screens.current == "board"
    assert screen_of(again).kind == kind
    assert (board_of(again).faces, board_of(again).buttons, screen_of(again).words) == shown
    if kind == "rep":
        assert screen_of(again).board._bench.rotation.queues == line
