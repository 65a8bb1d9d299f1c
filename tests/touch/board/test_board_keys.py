"""Every board from a keyboard alone, with real key events."""

from datetime import date

import pytest
from driver import Finger
from kivy.graphics import Line

from evaltrack.rink.tally import Outcome
from evaltrack.touch.board import board_keys

DONE, MISSED, UNSEEN = Outcome.DONE, Outcome.MISSED, Outcome.UNSEEN
UP, DOWN, RIGHT, LEFT, ENTER, BACKSPACE, TAB = 273, 274, 275, 276, 13, 8, 9


def screen_of(driver):
    return driver.app.screens.get_screen("board")


def type_keys(driver, *keys):
    """TapButton keys one after the other: letters and digits by themselves, others by their codes."""
    for key in keys:
        if isinstance(key, int):
            driver.key(key)
        else:
            driver.key(ord(key), key)


def made(driver, count):
    """Return the last tallies, the oldest first: number, skill, outcome."""
    desk = driver.app.desk
    return [(desk.player(t.player).number, t.skill, t.outcome) for t in desk.last(count)[::-1]]


def test_arrows_and_letters_tally_on_the_group_board(bench):
    """The first key shows the focus on the first tile; D, M and U count there and nowhere else."""
    board = screen_of(bench).ids.board
    type_keys(bench, "d")
    assert bench.app.desk.total == 0  # nobody means a tile that they have not seen in focus
    assert board.focus.tile == 0
    type_keys(bench, "d", RIGHT, "m", DOWN, "u", LEFT, UP, "d")
    numbers = [board.faces[place].number for place in (0, 1, 6, 0)]
    assert made(bench, 4) == list(
        zip(numbers, ["outlet_pass"] * 4, [DONE, MISSED, UNSEEN, DONE], strict=True)
    )


def test_the_focus_stops_at_the_edges(bench):
    """Beyond the last tile in any direction the focus stays where it is, on a tile."""
    board = screen_of(bench).ids.board
    for key, corner in ((RIGHT, 4), (DOWN, 19), (LEFT, 15), (UP, 0)):
        type_keys(bench, *[key] * 7)
        assert board.focus.tile == corner


@pytest.mark.parametrize(
    ("key", "shown"), [("u", "tile"), ("d", "tile"), (ENTER, "button"), (RIGHT, "button")]
)
def test_the_first_key_on_the_board_by_rep_shows_where_the_keyboard_is(bench, key, shown):
    """Whatever is pressed first, a frame appears, nothing is tallied and nobody is moved."""
    screen = screen_of(bench)
    type_keys(bench, "2", key)
    focus = screen.ids.board.focus
    assert (getattr(focus, shown), bench.app.desk.total, screen.board.choosing) == (0, 0, "")
    type_keys(bench, "d")
    assert bench.app.desk.total == (1 if shown == "tile" else 0)
    type_keys(bench, "d")
    assert bench.app.desk.total == (2 if shown == "tile" else 1)  # from a plate to the tile beside it


def test_the_focus_stays_on_players_and_within_the_window(drive, season_path):
    """Places kept for late ones are passed over, and no part of the frame is drawn outside the board."""
    driver = drive(season_path)
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players[:12], "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    board = screen_of(driver).ids.board
    for key in [RIGHT, DOWN, DOWN, DOWN, RIGHT, RIGHT, UP, LEFT, LEFT, LEFT, UP, *[RIGHT] * 5]:
        type_keys(driver, key)
        assert board.focus.tile in range(12)
        (line,) = [mark for mark in board._focus_group.children if isinstance(mark, Line)]
        rect = board.focus.rect
        x, y, width, height = line.rounded_rectangle[:4]
        assert min(x - rect.x, y - rect.y) >= line.width
        assert min(rect.right - x - width, rect.top - y - height) >= line.width


def test_undo_pressure_step_and_skill_have_keys(bench):
    """Z and Backspace undo, P switches the pressure, S goes to the next step, K to the next skill."""
    desk = bench.app.desk
    type_keys(bench, RIGHT, "d", "d", "d", "z", BACKSPACE)
    assert desk.total == 1
    type_keys(bench, "p", "k", "d")
    (tally,) = desk.last(1)
    assert (tally.pressure, tally.skill) == (True, desk.step.skills[1])
    type_keys(bench, "s", "d")
    assert desk.last(1)[0].step == "three_on_one"


def test_the_board_by_rep_is_worked_without_a_finger(bench):
    """2 shows it; a tile is tallied, N begins a rep, Z undoes and R redoes it, Enter corrects a slot."""
    screen = screen_of(bench)
    type_keys(bench, "2", RIGHT, RIGHT, "m")
    goalie = screen.board._bench.rotation.slots["goal"]
    assert made(bench, 1) == [(bench.app.desk.player(goalie).number, "set_before_shot", MISSED)]
    type_keys(bench, "n")
    assert screen.words[0] == "Rep 2"
    type_keys(bench, "z")
    assert screen.words[0] == "Rep 1"
    type_keys(bench, "r")
    assert screen.words[0] == "Rep 2"
    type_keys(bench, "z")
    assert screen.words[0] == "Rep 1"
    type_keys(bench, RIGHT, ENTER)  # the plate of the breakout D
    assert screen.board.choosing == "breakout_d"
    waiting = screen.board._bench.could_be(screen.board._chosen_slot())[0]
    type_keys(bench, DOWN, DOWN, LEFT, LEFT, LEFT, LEFT, LEFT, ENTER)
    assert screen.board._bench.rotation.slots["breakout_d"] == waiting.id
    assert screen.board.choosing == ""


def test_the_board_of_one_player_is_worked_without_a_finger(bench):
    """3 shows it; arrows reach skills and players, Enter takes another player, 1 goes back to the group."""
    screen, desk = screen_of(bench), bench.app.desk
    type_keys(bench, "3", RIGHT, "d", DOWN, DOWN, DOWN, ENTER, UP, UP, UP, "m")
    assert made(bench, 2) == [("2", "outlet_pass", DONE), ("5", "outlet_pass", MISSED)]
    assert screen.words[0].startswith("5 ")
    type_keys(bench, "1")
    assert (screen.kind, desk.total) == ("group", 2)


def test_letters_with_ctrl_or_on_another_screen_tally_nothing(bench):
    """Ctrl+D is no tally, and on the practice screen the keys of the board are not heard."""
    type_keys(bench, RIGHT)
    bench.key(ord("d"), None, ["ctrl"])
    bench.app.go("start")
    type_keys(bench, "d", "m", "n", "2")
    assert bench.app.desk.total == 0
    assert screen_of(bench).kind == "group"
    bench.app.go("board")
    type_keys(bench, "d")
    assert bench.app.desk.total == 1


def test_tab_walks_over_the_buttons_and_enter_is_theirs(bench):
    """With a button focused, Enter presses it and not the tile or button of the board in focus."""
    type_keys(bench, RIGHT, TAB)
    focused = [key for key in screen_of(bench).walk() if getattr(key, "focused", False)]
    assert len(focused) == 1
    type_keys(bench, *[TAB] * 12)
    (focused,) = [key for key in screen_of(bench).walk() if getattr(key, "focused", False)]
    while focused.title != "By rep":
        type_keys(bench, TAB)
        (focused,) = [key for key in screen_of(bench).walk() if getattr(key, "focused", False)]
    type_keys(bench, ENTER)
    assert screen_of(bench).kind == "rep"


def test_one_thing_at_a_time_is_in_focus(bench):
    """Tab takes the frame off the board, an arrow or a letter the ring off a key: Enter is never in doubt."""
    screen, ring = screen_of(bench), bench.app._focus._ring
    for key in (RIGHT, "d"):
        type_keys(bench, RIGHT, TAB)
        bench.settle()
        assert screen.ids.board.focus is None
        assert ring.place
        type_keys(bench, key)
        bench.settle()
        assert screen.ids.board.focus.tile == 0
        assert not ring.place
        assert not [one for one in screen.walk() if getattr(one, "focused", False)]
    assert bench.app.desk.total == 0


@pytest.mark.parametrize("key", [ENTER, 32])
def test_enter_on_a_tile_tells_the_letters(bench, key):
    """A tile has three answers: Enter guesses none of them, and says which letters they have."""
    type_keys(bench, RIGHT, key)
    assert bench.app.desk.total == 0
    assert bench.app.desk.message == board_keys.LETTERS


def test_a_finger_hides_the_focus(bench):
    """Whoever taps does not look for a frame round some other tile."""
    board = screen_of(bench).ids.board
    type_keys(bench, RIGHT)
    assert board.focus is not None
    tile = board.layout.tile(7)
    Finger(tile.x + 20, tile.y + 20).down().up()
    bench.frames(2)
    assert board.focus is None
