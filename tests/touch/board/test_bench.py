"""Tapping a practice through the whole app with real touches."""

from collections import Counter
from datetime import date

import pytest
from driver import Finger
from kivy.base import ExceptionManager
from seasons_for_touch import demo_season, made_on

from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season


def start_practice(driver):
    """Start a practice with everyone who is likely here, in the first drill and step."""
    made_on(driver.app.desk.season.path, date(2025, 9, 1))
    start = driver.app.screen("start")
    start._today = lambda: date(2026, 1, 20)
    driver.app.go("start")
    press(driver, start, "Start")
    assert driver.app.screens.current == "board", driver.app.desk.message
    return driver


@pytest.fixture
def bench(drive, season_path):
    """Return the driver of an app on the board, everyone here, watching the outlet pass."""
    return start_practice(drive(season_path))


def press(driver, screen, title):
    """Tap the button with this title."""
    driver.settle()
    (button,) = [w for w in screen.walk() if getattr(w, "title", None) == title and not w.disabled]
    driver.tap(button)
    driver.settle()


def board_of(driver):
    """Return the board widget that is shown."""
    return driver.app.screens.get_screen("board").ids.board


def spot(board, place, outcome):
    """Return a point within the half of a tile."""
    tile = board.layout.tile(place)
    return tile.x + tile.width * (0.75 if outcome is Outcome.DONE else 0.25), tile.y + tile.height / 2


def written(path):
    """Count what the file holds by player number and outcome."""
    with open_season(path) as season:
        numbers = {p.id: p.number for p in season.people.players()}
        return Counter((numbers[t.player], t.outcome) for t in season.log.tallies())


def test_a_practice_of_the_demo_team_stands_in_the_file_as_it_was_tapped(drive, tmp_path):
    """A hundred taps over all tiles and both halves are in the file, in order, and on the tiles."""
    path = demo_season(tmp_path / "demo.db")
    driver = start_practice(drive(path))
    board, here = board_of(driver), driver.app.desk.likely_present()
    meant = [(i * 7 % len(here), Outcome.DONE if i % 3 else Outcome.MISSED) for i in range(100)]
    for place, outcome in meant:
        driver.tap(spot(board, place, outcome), frames=0)
        driver.frames(1)
    with open_season(path) as season:
        tallies = season.log.tallies(practice="2026-01-20")
    assert [(t.player, t.outcome) for t in tallies] == [(here[p].id, o) for p, o in meant]
    shown = Counter()
    for face in board.faces:
        shown[face.number, Outcome.DONE] = face.done
        shown[face.number, Outcome.MISSED] = face.missed
    assert +shown == Counter((here[p].number, o) for p, o in meant)


def test_touch_down_counts_and_lifting_or_sliding_does_not(bench):
    """The count is there while the finger is still on the glass, and stays one when it slides away."""
    board = board_of(bench)
    finger = Finger(*spot(board, 3, Outcome.DONE)).down()
    bench.frames(1)
    assert board.faces[3].done == 1
    finger.to(*spot(board, 9, Outcome.MISSED)).up()
    bench.frames(2)
    assert bench.app.desk.total == 1


def test_two_fingers_on_two_tiles_count_twice(bench, season_path):
    """Two touches that overlap in time are two tallies."""
    board = board_of(bench)
    fingers = [Finger(*spot(board, place, Outcome.DONE)).down() for place in (1, 6)]
    bench.frames(1)
    for finger in fingers:
        finger.up()
    bench.frames(1)
    assert sum(written(season_path).values()) == 2


@pytest.mark.parametrize("button", ["right", "middle", "scrollup"])
def test_the_wheel_and_the_other_buttons_of_a_mouse_do_not_count(bench, button):
    """Only a finger, a pen or the left button tallies."""
    finger = Finger(*spot(board_of(bench), 3, Outcome.DONE))
    finger.profile.append("button")
    finger.button = button
    finger.down()
    bench.frames(1)
    finger.up()
    bench.frames(1)
    assert bench.app.desk.total == 0


def test_undo_on_screen_takes_back_the_last_tally_and_names_it_before(bench, season_path):
    """The button says what it will take back; the tile and the file follow."""
    board, screen = board_of(bench), bench.app.screens.get_screen("board")
    bench.tap(spot(board, 3, Outcome.DONE))
    bench.tap(spot(board, 5, Outcome.MISSED))
    assert screen.undoes == f"#{board.faces[5].number} {board.faces[5].name} missed"
    press(bench, screen, "Undo")
    assert board.faces[5].missed == 0
    assert screen.undoes == f"#{board.faces[3].number} {board.faces[3].name} done"
    assert sum(written(season_path).values()) == 1


def test_another_skill_is_one_tap_and_moves_no_tile(bench):
    """The chip of a skill changes what is counted; every player keeps their place."""
    screen, board = bench.app.screens.get_screen("board"), board_of(bench)
    before = [face.number for face in board.faces]
    other = bench.app.desk.watched_skills()[1]
    press(bench, screen, other.name)
    assert bench.app.desk.station.skill == other.key
    assert [face.number for face in board.faces] == before
    bench.tap(spot(board, 0, Outcome.DONE))
    assert bench.app.desk.last(1)[0].skill == other.key


def test_the_next_step_and_pressure_are_one_tap_each(bench):
    """Step and pressure are what the next tally carries."""
    screen = bench.app.screens.get_screen("board")
    press(bench, screen, screen.step)
    press(bench, screen, "Pressure")
    bench.tap(spot(board_of(bench), 0, Outcome.DONE))
    tally = bench.app.desk.last(1)[0]
    assert (tally.step, tally.pressure) == ("three_on_one", True)


def test_turning_the_tablet_keeps_taps_on_their_tiles(bench):
    """After a turn to portrait a tap still lands on the player whose tile is there."""
    from kivy.core.window import Window

    Window.resize(800, 1280)
    try:
        bench.settle()
        board = board_of(bench)
        bench.tap(spot(board, 13, Outcome.MISSED))
        assert board.faces[13].missed == 1
        assert bench.app.desk.last(1)[0].player == bench.app.desk.players[13].id
    finally:
        Window.resize(1280, 800)
        bench.frames(2)


def test_a_tap_that_is_not_saved_is_not_counted_on_screen(bench, season_path):
    """While the file is held by another program the tile stays and the bar says why."""
    board = board_of(bench)
    with open_season(season_path) as other:
        other._connection.execute("BEGIN IMMEDIATE")
        bench.tap(spot(board, 3, Outcome.DONE))
        other._connection.execute("ROLLBACK")
    assert board.faces[3].done == 0
    assert "not saved" in bench.app.desk.message


def test_a_player_who_left_has_a_place_but_takes_no_taps(bench):
    """Who was hurt is switched off under Practice; their tile says so and counts nothing."""
    board, screen = board_of(bench), bench.app.screens.get_screen("board")
    press(bench, screen, "Practice")
    start = bench.app.screens.get_screen("start")
    hurt = bench.app.desk.players[4]
    press(bench, start, f"{hurt.number}  {hurt.name}")
    press(bench, start, "Back to the board")
    bench.tap(spot(board, 4, Outcome.DONE))
    assert not board.faces[4].here
    assert bench.app.desk.total == 0


def test_ending_the_practice_leads_home_and_the_next_start_opens_home(bench, drive, season_path):
    """After the end no practice runs, here and for an app that opens the file again."""
    press(bench, bench.app.screens.get_screen("board"), "Practice")
    press(bench, bench.app.screens.get_screen("start"), "End practice")
    press(bench, bench.app.screens.get_screen("start"), "End it")
    assert bench.app.screens.current == "home"
    bench.close()
    assert drive(season_path).app.screens.current == "home"


def test_the_app_opens_again_on_the_running_drill(bench, drive, season_path):
    """An app started on a file with a running practice shows the board with its counts."""
    bench.tap(spot(board_of(bench), 3, Outcome.DONE))
    bench.close()
    again = drive(season_path)
    assert again.app.screens.current == "board"
    again.settle()
    assert board_of(again).faces[3].done == 1


def test_a_fault_in_a_screen_is_told_and_the_bench_goes_on(bench, faults, monkeypatch):
    """When drawing the strip fails, the user is told, the fault is logged, and taps still count."""
    screen, board = bench.app.screens.get_screen("board"), board_of(bench)
    with monkeypatch.context() as broken:
        broken.setattr(screen, "_show_last", lambda: 1 / 0)
        with pytest.raises(ZeroDivisionError) as fault:
            bench.tap(spot(board, 3, Outcome.DONE))
    # what Kivy's main loop does with it
    assert ExceptionManager.handle_exception(fault.value) == ExceptionManager.PASS
    bench.settle()
    assert "something went wrong (ZeroDivisionError)" in bench.app.desk.message
    assert [fault.getMessage() for fault in faults] == ["a fault in a screen"]
    faults.clear()
    bench.tap(spot(board, 3, Outcome.DONE))
    assert board.faces[3].done == 2
