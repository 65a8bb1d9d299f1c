"""The screen before and during a practice, with real touches: attendance, the next drill, what it asks."""

from datetime import date

import pytest
from on_boards import both_ways_up, in_slots, screen_of, tap, written
from pressing import keys_of, press
from seasons_for_touch import made_on

from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season

DONE = Outcome.DONE
TODAY = date(2026, 1, 20)


def start_of(driver, today=TODAY):
    """Return the start screen, on the day of the tests or another one; the season file was made in autumn."""
    made_on(driver.app.desk.season.path, date(2025, 9, 1))
    screen = driver.app.screen("start")
    screen._today = lambda: today
    return screen


def enter(driver):
    """Come to the start screen."""
    driver.app.go("start")
    driver.settle()


def titles(driver):
    """Return what stands on the keys that can be pressed."""
    return [key.title for key in keys_of(driver)]


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
    line = screen_of(bench).board._bench
    press(bench, "Next rep")
    press(bench, "Practice")
    press(bench, "Wall work")
    press(bench, bench.app.desk.drills[2].steps[1].name)
    press(bench, "Back to the board")
    assert (line.rep.drill, line.rep.step) == ("wall_work", "pressured")
    assert set(in_slots(bench)) <= {key.small for key in screen_of(bench).ids.board.buttons}
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
    press(bench, "End it")
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
    press(driver, "End it")
    driver.app.go("start")
    driver.settle()
    assert start.ids.observer.text == ""
    assert "Who observes?" in start.asks


# which day it is


@both_ways_up
def test_a_date_before_the_last_practice_is_asked_about(bench, window):
    """A battery died: nothing starts before the answer, and the day after the last practice is at hand."""
    desk = bench.app.desk
    start = start_of(bench, date(2010, 1, 1))
    assert desk.end()
    enter(bench)
    question = start._body[True][0]
    assert question.question == (
        "This tablet says Friday 1 January 2010, but the last practice was on Tuesday 20 January 2026. "
        "Which day is it?"
    )
    assert "Start" not in titles(bench)
    for key in ("A week later", "A day later", "A day later", "A week earlier", "A day earlier"):
        press(bench, key)
    press(bench, "It is Thursday 22 January 2026")
    assert start.heading == "Who is here, Thursday 22 January 2026"
    press(bench, "Start")
    assert (desk.practice.key, desk.practice.held_on) == ("2026-01-22", date(2026, 1, 22))


def test_the_tablets_date_can_be_kept_all_the_same(bench):
    """Whoever knows better starts on the day that the tablet says."""
    start = start_of(bench, date(2026, 1, 19))
    assert bench.app.desk.end()
    enter(bench)
    press(bench, "It is Monday 19 January 2026")
    assert start.heading == "Who is here, Monday 19 January 2026"
    press(bench, "Start")
    assert bench.app.desk.practice.held_on == date(2026, 1, 19)


@pytest.mark.parametrize(
    ("today", "asked"),
    [
        (date(2026, 1, 19), True),
        (date(2026, 1, 20), False),
        (date(2026, 1, 21), False),
        (date(2026, 11, 19), False),
        (date(2026, 11, 20), True),
        (date(2027, 1, 27), True),
        (date(2037, 1, 1), True),
    ],
)
def test_ordinary_days_ask_nothing(bench, today, asked):
    """On the day of the last practice and after it a start is one touch, until ten months have passed."""
    start = start_of(bench, today)
    assert bench.app.desk.end()
    enter(bench)
    assert start.asked == asked
    if not asked:
        press(bench, "Start")
        assert bench.app.desk.practice.held_on == today


def test_a_season_that_grows_too_long_is_asked_about(bench):
    """With practices in between no gap is long, but a year and a day after the first one is no season."""
    desk = bench.app.desk
    assert desk.end()
    desk.season.practices.add([Practice("2026-09-01", date(2026, 9, 1))])
    start = start_of(bench, date(2027, 1, 21))
    enter(bench)
    assert not start.asked
    start._today = lambda: date(2027, 1, 22)
    enter(bench)
    bench.app.go("home")
    enter(bench)
    assert start.asked


@pytest.mark.parametrize("today", [date(2024, 8, 30), date(2026, 9, 3)])
def test_a_first_practice_far_from_the_making_of_the_file_is_asked_about(drive, season_path, today):
    """Without a practice all that is known is when the file was made."""
    driver = drive(season_path)
    start = start_of(driver, today)
    enter(driver)
    question = start._body[True][0]
    assert "this season file was made on Monday 1 September 2025. Which day is it?" in question.question
    press(driver, "A week later")
    press(driver, "It is Monday 8 September 2025")
    press(driver, "Start")
    assert driver.app.desk.practice.held_on == date(2025, 9, 8)


def test_a_stray_practice_does_not_make_every_day_strange(bench):
    """One practice of 2010 and one a year ahead: the next day of the season asks nothing."""
    desk = bench.app.desk
    assert desk.end()
    desk.season.practices.add([Practice("2026-01-13", date(2026, 1, 13))])
    desk.season.practices.add([Practice(str(d), d) for d in (date(2010, 1, 1), date(2027, 6, 1))])
    start = start_of(bench, date(2026, 1, 22))
    enter(bench)
    assert not start.asked


def test_another_season_is_told_of_with_the_way_to_a_file_of_its_own(bench):
    """After ten months the question names the last practice, and how a new season begins."""
    start = start_of(bench, date(2026, 11, 25))
    assert bench.app.desk.end()
    enter(bench)
    question = start._body[True][0]
    assert "the last practice was on Tuesday 20 January 2026" in question.question
    assert question.remark == (
        "A new season gets a file of its own: go back, then Seasons, Start our season."
    )
    press(bench, "It is Wednesday 25 November 2026")
    press(bench, "Start")
    assert bench.app.desk.practice.held_on == date(2026, 11, 25)


def test_a_day_that_ends_before_the_start_is_named_anew(bench):
    """Past midnight the heading would name yesterday: it is shown again, and nothing has started yet."""
    desk = bench.app.desk
    assert desk.end()
    start = start_of(bench, date(2026, 1, 22))
    enter(bench)
    start._today = lambda: date(2026, 1, 23)
    press(bench, "Start")
    assert desk.practice is None
    assert desk.message == "by this tablet it is Friday 23 January 2026 now: look once more, and start"
    press(bench, "Start")
    assert desk.practice.held_on == date(2026, 1, 23)


# the second practice of a day


@both_ways_up
def test_a_second_practice_of_the_day_is_its_own(bench, window, season_path):
    """To go on is what is offered first; a second one begins without who went off, and counts nothing yet."""
    desk = bench.app.desk
    start = start_of(bench)
    tap(bench, 0, DONE)
    assert desk.arrange(desk.players[:5])
    assert desk.end()
    enter(bench)
    assert start.here_words == "5 here"
    active = {key.title for key in keys_of(bench) if key.active}
    assert "Go on with the practice of this day" in active
    press(bench, "A second practice")
    assert start.here_words == "5 here"
    press(bench, desk.players[7].number + "  " + desk.players[7].name)
    assert start.here_words == "6 here"
    press(bench, "Start")
    assert (desk.practice.key, desk.practice.held_on, desk.total) == ("2026-01-20.2", TODAY, 0)
    tap(bench, 1, DONE)
    assert desk.end()
    enter(bench)
    assert start.further == "A third practice"
    press(bench, "Start")
    assert (desk.practice.key, desk.total) == ("2026-01-20.2", 1)
    with open_season(season_path) as season:
        assert season.log.counts() == {"2026-01-20": 1, "2026-01-20.2": 1}


def test_home_tells_the_practices_of_one_day_apart(bench):
    """The second one is called so."""
    desk = bench.app.desk
    assert desk.end()
    assert desk.begin(TODAY, desk.players, "breakout_attack", "two_on_one", "Ines", another=True)
    bench.app.go("home")
    words = [row.title for row in bench.app.screens.current_screen.ids.practices.children]
    assert words[::-1] == ["Tuesday 20 January 2026, second practice", "Tuesday 20 January 2026"]


def test_a_practice_that_home_lists_is_looked_at_by_a_tap(bench):
    """It leads to what was noted in that practice, as the list of all practices does."""
    desk = bench.app.desk
    assert desk.end()
    bench.app.go("home")
    press(bench, "Tuesday 20 January 2026")
    screen = bench.app.screens.current_screen
    assert (screen.name, screen.heading) == ("practice", "Tuesday 20 January 2026")


def test_a_first_practice_of_the_day_has_no_choice(bench):
    """Where there is nothing to go on with, nothing is asked."""
    assert bench.app.desk.end()
    start = start_of(bench, date(2026, 1, 22))
    enter(bench)
    assert not start.again
    assert not {title for title in titles(bench) if "practice" in title.lower()}
