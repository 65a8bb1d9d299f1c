"""Whole practices on tablets whose clocks are wrong, past midnight, through changes of time and zone.

Start runs what it names; every tap is filed in that practice, and stands there after each restart.
"""

import time
from datetime import date, datetime, timedelta

import pytest
from on_boards import board_of, screen_of, tap
from pressing import keys_of, press
from seasons_for_touch import made_on
from set_clocks import TabletClock, a_second_later, start_on

from evaltrack.device.tablet import tablet_file
from evaltrack.rink.days import in_full
from evaltrack.rink.practice import Amendment, Correction
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season
from evaltrack.touch.desk.desk import Desk

DONE, MISSED = Outcome.DONE, Outcome.MISSED
EVENING = datetime(2026, 1, 20, 18, 30)


@pytest.fixture
def clock():
    """Return a tablet's clock on the evening of a practice."""
    return TabletClock(EVENING)


@pytest.fixture
def made(season_path):
    """Return the season file, made in the autumn before."""
    made_on(season_path, date(2025, 9, 1))
    return season_path


@pytest.fixture
def at(monkeypatch, tmp_path):
    """Return a function that puts the tablet of a name into our hands: its settings are its own."""

    def tablet(name):
        (tmp_path / name).mkdir(exist_ok=True)
        monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / name))

    return tablet


@pytest.fixture
def zone(monkeypatch):
    """Return a function that takes the tablet to a time zone."""

    def travel(name):
        monkeypatch.setenv("TZ", name)
        time.tzset()

    yield travel
    monkeypatch.undo()
    time.tzset()


def opened(drive, clock, path, old=None):
    """Open the app; the one before was killed."""
    if old:
        old.close()
    driver = drive(app=clock.app(path))
    driver.settle()
    return driver


def start(driver, clock):
    """Start on the day that the tablet says, and return the day that the screen names before the start."""
    screen = start_on(driver, clock)
    if screen.asked:
        press(driver, f"It is {in_full(clock.today())}")
    named = screen.heading
    press(driver, "Start")
    assert driver.app.screens.current == "board"
    return named


def taps_count(driver, path, place=0):
    """Tap a tile; return the practice in which the file has the tally, after the tile has shown it."""
    before = board_of(driver).faces[place].done
    known = {tally.id for tally in tallies(path)}
    tap(driver, place, DONE)
    assert board_of(driver).faces[place].done == before + 1
    (new,) = [tally for tally in tallies(path) if tally.id not in known]
    return new.practice


def tallies(path):
    with open_season(path) as season:
        return season.log.tallies()


def held(path):
    with open_season(path) as season:
        return {one.key: one.held_on for one in season.practices.every()}


def begin(path, clock, on, **others):
    """Begin a practice at the tablet in our hands, without a window, and be killed."""
    desk = Desk(clock.now)
    assert desk.open(path), desk.message
    assert desk.begin(on, desk.players, "breakout_attack", "two_on_one", "Tuomo", **others)
    desk.tally(desk.players[3].id, MISSED)
    desk.close()


# start runs what it names


@pytest.mark.parametrize("days", [-1, 0, 1, 3])
def test_another_tablets_practice_of_whatever_day_is_in_nobodys_way(at, drive, clock, made, days):
    """It runs in the file, with a later start: this tablet's own day starts, counts, and is there again."""
    at("other")
    others = TabletClock(EVENING + timedelta(days))
    others.pass_hours(2)
    begin(made, others, others.today())
    at("mine")
    driver = opened(drive, clock, made)
    assert start(driver, clock) == "Who is here, Tuesday 20 January 2026"
    assert taps_count(driver, made) == "2026-01-20"
    again = opened(drive, clock, made, driver)
    assert again.app.screens.current == "board"
    assert taps_count(again, made) == "2026-01-20"
    assert set(held(made).values()) == {date(2026, 1, 20), others.today()}


@pytest.mark.parametrize("days", [-1, 0, 1])
def test_settings_that_were_deleted_in_mid_practice_leave_no_dead_board(drive, clock, made, days):
    """The tablet is a new one to the file: the same day is gone on with, another day is a new practice."""
    driver = opened(drive, clock, made)
    start(driver, clock)
    taps_count(driver, made)
    driver.close()
    tablet_file().unlink()
    clock.set(EVENING + timedelta(days))
    driver = opened(drive, clock, made)
    named = start(driver, clock)
    assert named == f"Who is here, {in_full(clock.today())}"
    assert taps_count(driver, made) == str(clock.today())
    assert board_of(driver).faces[0].done == (2 if days == 0 else 1)


@pytest.mark.parametrize("days", [-400, -1, 1, 400])
def test_a_practice_begun_under_another_date_goes_on_and_a_start_runs_the_day_it_names(
    drive, clock, made, days
):
    """The clock was wrong at the start, right after a restart: the board goes on; ended, today starts."""
    clock.set(EVENING + timedelta(days))
    driver = opened(drive, clock, made)
    start(driver, clock)
    wrong = str(clock.today())
    assert taps_count(driver, made) == wrong
    clock.set(EVENING)
    driver = opened(drive, clock, made, driver)
    if driver.app.desk.left_open:  # of an earlier day, as far as the tablet knows
        press(driver, "Go on with it")
    assert taps_count(driver, made) == wrong
    assert screen_of(driver).day not in ("", "Tue 20 Jan")
    press(driver, "Practice")
    press(driver, "End practice")
    press(driver, "End it")
    assert start(driver, clock) == "Who is here, Tuesday 20 January 2026"
    assert taps_count(driver, made) == "2026-01-20"
    again = opened(drive, clock, made, driver)
    assert taps_count(again, made) == "2026-01-20"


def test_a_practice_begun_under_another_date_and_not_ended_is_left_by_a_start(at, drive, clock, made):
    """A start without an end in between files nothing under the old date, after a restart neither."""
    begin(made, TabletClock(EVENING - timedelta(1)), date(2026, 1, 19))
    driver = opened(drive, clock, made)
    press(driver, "It is over")
    assert start(driver, clock) == "Who is here, Tuesday 20 January 2026"
    assert taps_count(driver, made) == "2026-01-20"
    assert taps_count(opened(drive, clock, made, driver), made) == "2026-01-20"


# one evening on two days, one day twice, and clocks that are put forward and back


def test_a_practice_past_midnight_is_one_practice(drive, clock, made):
    """It stays on the board, through a restart too, under the day on which it began; the next day is new."""
    clock.set(datetime(2026, 1, 20, 23, 40))
    driver = opened(drive, clock, made)
    start(driver, clock)
    assert taps_count(driver, made) == "2026-01-20"
    clock.pass_hours(0.6)
    a_second_later(driver)
    assert taps_count(driver, made) == "2026-01-20"
    assert screen_of(driver).day == "Tue 20 Jan\nnot today"
    driver = opened(drive, clock, made, driver)
    assert (taps_count(driver, made), board_of(driver).faces[0].done) == ("2026-01-20", 3)
    press(driver, "Practice")
    press(driver, "End practice")
    press(driver, "End it")
    clock.pass_hours(18)
    assert start(driver, clock) == "Who is here, Wednesday 21 January 2026"
    assert taps_count(driver, made) == "2026-01-21"


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="this system has no tzset")
@pytest.mark.parametrize("night", [datetime(2026, 3, 8, 1, 58), datetime(2026, 11, 1, 1, 58)])
def test_an_hour_that_is_skipped_or_comes_twice_changes_nothing(zone, drive, season_path, night):
    """Summer time begins or ends in mid-practice: order, seconds, undo and the practice stay as they are."""
    zone("America/Toronto")
    made_on(season_path, night.date())
    clock = TabletClock(night)
    driver = opened(drive, clock, season_path)
    start(driver, clock)
    for place in range(4):
        assert taps_count(driver, season_path, place) == str(night.date())
        assert 0 <= screen_of(driver).seconds < 60
        clock.pass_hours(0.05)
    a_second_later(driver)
    driver = opened(drive, clock, season_path, driver)
    assert driver.app.screens.current == "board"
    desk = driver.app.desk
    assert [tally.player for tally in desk.last(4)] == [player.id for player in desk.players[3::-1]]
    press(driver, "Undo")
    assert board_of(driver).faces[3].done == 0
    assert len(tallies(season_path)) == 3


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="this system has no tzset")
@pytest.mark.parametrize(
    ("home", "away"), [("America/Vancouver", "Europe/Helsinki"), ("Pacific/Auckland", "America/Vancouver")]
)
def test_a_tablet_that_travels_between_two_starts(zone, drive, season_path, home, away):
    """The running board is found again in another zone; the practice there is of the day there."""
    zone(home)
    made_on(season_path, date(2026, 1, 2))
    clock = TabletClock(datetime(2026, 1, 20, 19, 0))
    driver = opened(drive, clock, season_path)
    start(driver, clock)
    assert taps_count(driver, season_path) == "2026-01-20"
    driver.close()
    zone(away)
    clock.pass_hours(0.1)
    driver = opened(drive, clock, season_path)
    assert driver.app.screens.current == "board"
    assert taps_count(driver, season_path) == "2026-01-20"
    assert driver.app.desk.end()
    clock.pass_hours(3)
    assert start(driver, clock) == f"Who is here, {in_full(clock.today())}"
    assert taps_count(driver, season_path) == str(clock.today())
    clock.pass_hours(24)
    driver = opened(drive, clock, season_path, driver)
    assert driver.app.desk.left_open


def test_two_practices_on_one_date_at_two_tablets(at, drive, clock, made):
    """The second one has its own key; the other tablet is offered to go on with it, and joins it."""
    at("mine")
    driver = opened(drive, clock, made)
    start(driver, clock)
    taps_count(driver, made)
    assert driver.app.desk.end()
    start_on(driver, clock)
    press(driver, "A second practice")
    press(driver, "Start")
    assert taps_count(driver, made) == "2026-01-20.2"
    driver = opened(drive, clock, made, driver)
    assert taps_count(driver, made) == "2026-01-20.2"
    driver.close()
    at("other")
    driver = opened(drive, clock, made)
    start_on(driver, clock)
    assert "Go on with the practice of this day" in {key.title for key in keys_of(driver) if key.active}
    press(driver, "Start")
    assert taps_count(driver, made) == "2026-01-20.2"
    assert held(made) == {"2026-01-20": date(2026, 1, 20), "2026-01-20.2": date(2026, 1, 20)}


@pytest.mark.parametrize("days", [-2, 3])
def test_two_tablets_whose_clocks_differ_by_days(at, drive, clock, made, days):
    """Each has its own practice and finds it again, whichever ended, until the date of one is put right."""
    others = TabletClock(EVENING + timedelta(days))
    at("other")
    theirs = opened(drive, others, made)
    start(theirs, others)
    assert taps_count(theirs, made) == str(others.today())
    theirs.close()
    at("mine")
    mine = opened(drive, clock, made)
    start(mine, clock)
    assert taps_count(mine, made) == "2026-01-20"
    assert mine.app.desk.total == 1
    mine.close()
    at("other")
    theirs = opened(drive, others, made)
    assert taps_count(theirs, made) == str(others.today())
    assert theirs.app.desk.total == 2
    assert theirs.app.desk.end()
    theirs.close()
    at("mine")
    mine = opened(drive, clock, made)
    assert taps_count(mine, made) == "2026-01-20"
    assert mine.app.desk.total == 2


# after a correction by hand


def correct(path, key, change, day):
    """Put a practice right, as the command line does."""
    with open_season(path) as season:
        (one,) = [one for one in season.practices.every() if one.key == key]
        season.corrections.add(Correction(key, change, one.held_on, day or one.held_on))


def listed(driver):
    """Return the days that home lists, the last one first."""
    return [row.title for row in driver.app.screens.get_screen("home").ids.practices.children][::-1]


def test_a_practice_that_was_redated_is_of_its_new_day_everywhere(drive, clock, made):
    """Home, the board and the start go by the day on which it was held; its key stays."""
    begin(made, TabletClock(datetime(2010, 1, 1, 0, 7)), date(2010, 1, 1))
    correct(made, "2010-01-01", Amendment.TO_DATE, date(2026, 1, 20))
    driver = opened(drive, clock, made)
    assert driver.app.screens.get_screen("home").question.startswith("Tuesday 20 January 2026 was not ended:")
    assert "from 00:07 on Friday 1 January 2010." in driver.app.screens.get_screen("home").question
    press(driver, "It is over")
    assert listed(driver) == ["Tuesday 20 January 2026"]
    assert start(driver, clock) == "Who is here, Tuesday 20 January 2026"
    assert taps_count(driver, made) == "2010-01-01"
    assert screen_of(driver).day == "Tue 20 Jan"
    assert held(made) == {"2010-01-01": date(2026, 1, 20)}


def test_a_practice_that_was_set_aside_is_nowhere_in_the_app(drive, clock, made):
    """Home does not count it, no board goes on with it, and a start of its day makes a new practice."""
    begin(made, clock, clock.today())
    correct(made, "2026-01-20", Amendment.SET_ASIDE, None)
    driver = opened(drive, clock, made)
    home = driver.app.screens.current_screen
    assert (home.name, home.question, home.summary) == ("home", "", "20 players, 0 practices, 0 tallies")
    assert listed(driver) == []
    start_on(driver, clock)
    assert not driver.app.screens.current_screen.again
    press(driver, "Start")
    assert taps_count(driver, made) == "2026-01-20.2"
    correct(made, "2026-01-20", Amendment.BRING_BACK, None)
    driver.app.go("home")
    assert listed(driver) == ["Tuesday 20 January 2026, second practice", "Tuesday 20 January 2026"]
