"""The screen before and during a practice, with real touches: attendance, the next drill, what it asks."""

from datetime import date

import pytest
from on_boards import both_ways_up, in_slots, screen_of, tap, written
from pressing import keys_of, press

from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season
from evaltrack.touch.earlier import in_season

DONE = Outcome.DONE
TODAY = date(2026, 1, 20)


def start_of(driver):
    """Return the start screen, on the day of the tests."""
    screen = driver.app.screen("start")
    screen._today = lambda: TODAY
    return screen


def switch(driver, player):
    """Tap a player's switch."""
    press(driver, f"{player.number}  {player.name}")


@both_ways_up
def test_the_next_drill_is_chosen_in_mid_practice(bench, season_path):
    """One tap on the drill, and back: the board has its first step and skill, and everyone who was here."""
    desk = bench.app.desk
    press(bench, "Practice")
    switch(bench, desk.players[3])
    press(bench, "Back to the board")
    press(bench, "Practice")
    shown = {key.title for key in keys_of(bench) if key.active}
    assert {"Breakout and attack", "2 against 1"} <= shown
    press(bench, "Stops and starts")
    press(bench, "Back to the board")
    at = desk.station
    assert (at.drill, at.step, at.skill) == ("stops_starts", "on_lines", "stop")
    assert screen_of(bench).words[0] == desk.skills["stop"].name
    assert [a.player for a in desk.attendance.values() if not a.here] == [desk.players[3].id]
    tap(bench, 0, DONE)
    assert written(season_path) == [(desk.players[0].number, "stop", DONE)]


def test_the_board_by_rep_goes_on_with_the_line_in_the_next_drill(bench):
    """Whoever was next is next there too, and a step further on can be chosen at once."""
    press(bench, "By rep")
    line = screen_of(bench).board._line
    press(bench, "Next rep")
    press(bench, "Practice")
    press(bench, "Wall work")
    press(bench, bench.app.desk.drills[2].steps[1].name)
    press(bench, "Back to the board")
    assert (line.rep.drill, line.rep.step) == ("wall_work", "pressured")
    assert set(in_slots(bench)) <= {key.small for key in screen_of(bench).ids.board.keys}
    assert screen_of(bench).step == bench.app.desk.step.name


def test_back_without_a_change_writes_no_station(bench, season_path):
    """Who only looks at attendance changes nothing of what is watched."""
    before = bench.app.desk.station
    press(bench, "Practice")
    press(bench, "Back to the board")
    assert bench.app.desk.station is before


def test_a_start_on_the_same_day_takes_up_who_was_here(bench, season_path):
    """Ended too early and started again: who had left stays gone, and the drill is the one that was run."""
    desk, start = bench.app.desk, start_of(bench)
    tap(bench, 0, DONE)
    press(bench, "Practice")
    for gone in desk.players[:2]:
        switch(bench, gone)
    press(bench, "Wall work")
    press(bench, "Back to the board")
    press(bench, "Practice")
    press(bench, "End practice")
    bench.app.go("start")
    bench.settle()
    assert start.here_words == "18 here"
    press(bench, "Start")
    assert [a.player for a in desk.attendance.values() if not a.here] == [p.id for p in desk.players[:2]]
    assert (desk.station.drill, desk.total) == ("wall_work", 1)
    with open_season(season_path) as season:
        assert len(season.practices.all()) == 1


def test_a_start_on_another_day_begins_with_who_is_not_away(bench):
    """Yesterday's absentees are expected again."""
    desk, start = bench.app.desk, start_of(bench)
    assert desk.arrange(desk.players[:5])
    assert desk.end()
    start._today = lambda: date(2026, 1, 22)
    bench.app.go("start")
    bench.settle()
    assert start.here_words == "20 here"


@both_ways_up
def test_a_start_without_an_observer_is_asked_about_and_allowed(drive, season_path, window):
    """A line asks who observes until a name is there; without one the practice starts all the same."""
    driver = drive(season_path)
    start = start_of(driver)
    driver.app.go("start")
    driver.settle()
    assert start.asks == "Who observes? Two observers are told apart by name; without one it says Bench."
    start.ids.observer.text = "Ines"
    assert start.asks == ""
    start.ids.observer.text = " "
    press(driver, "Start")
    assert driver.app.desk.station.observer == "Bench"
    press(driver, "Practice")
    assert start.asks == ""
    press(driver, "End practice")
    driver.app.go("start")
    driver.settle()
    assert start.ids.observer.text == ""
    assert "Who observes?" in start.asks


def test_a_file_of_another_season_is_told_and_not_refused(bench):
    """More than ten months after the last practice the screen names its day; the start still works."""
    desk, start = bench.app.desk, start_of(bench)
    assert desk.end()
    start._today = lambda: date(2026, 11, 25)
    bench.app.go("start")
    bench.settle()
    assert start.asks == (
        "The last practice in this file was on 20 January 2026. "
        "A new season gets a file of its own: evaltrack new."
    )
    press(bench, "Start")
    assert desk.practice.held_on == date(2026, 11, 25)


@pytest.mark.parametrize(
    ("last", "told"),
    [(None, False), (date(2026, 1, 26), False), (date(2026, 1, 25), True), (date(2025, 3, 1), True)],
)
def test_ten_months_without_a_practice_are_another_season(last, told):
    """From ten months to the day on; a summer of four months is none, nor is a file without a practice."""
    assert bool(in_season(last, date(2026, 11, 25))) == told
