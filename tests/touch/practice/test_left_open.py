"""A practice that nobody ended is asked about on the first screen, also while the app stays open."""

from dataclasses import replace
from datetime import date, datetime

import pytest
from kivy.metrics import dp
from on_boards import both_ways_up, screen_of, tap, written
from pressing import keys_of, press
from set_clocks import TabletClock, a_second_later, start_on

from evaltrack.rink.ident import new_id
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import whole, wrapped

EVENING = datetime(2026, 11, 24, 18, 30)
QUESTION = (
    "Tuesday 24 November 2026 was not ended: the last tally is from {}. Is that practice still going on?"
)


@pytest.fixture
def clock():
    """Return the tablet's clock, at the beginning of a practice."""
    return TabletClock(EVENING)


@pytest.fixture
def at_practice(clock, drive, season_path, window):
    """Return the driver of an app on the board, an hour into the practice, with one tally."""
    driver = drive(app=clock.app(season_path))
    desk = driver.app.desk
    assert desk.begin(clock.today(), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    clock.set(datetime(2026, 11, 24, 19, 42))
    tap(driver, 0, Outcome.DONE)
    return driver


def home_of(driver):
    return driver.app.screens.get_screen("home")


def titles(driver):
    return [key.title for key in keys_of(driver)]


def again(driver, drive, clock, path):
    """Close the app, as a tablet does that is switched off, and open it again."""
    driver.close()
    driver = drive(app=clock.app(path))
    driver.settle()
    return driver


@both_ways_up
def test_two_days_later_the_first_screen_asks_and_it_is_over(at_practice, drive, clock, season_path):
    """Home instead of yesterday's board; the answer ends the practice as of its last tally."""
    clock.pass_hours(47)
    driver = again(at_practice, drive, clock, season_path)
    assert driver.app.screens.current == "home"
    assert home_of(driver).question == QUESTION.format("19:42")
    assert "Start a practice" not in titles(driver)
    assert {"It is over", "Go on with it", "Team board"} <= set(titles(driver))
    press(driver, "It is over")
    assert home_of(driver).question == ""
    assert "Go on with it" not in titles(driver)
    with open_season(season_path) as season:
        (practice,) = season.practices.all()
    assert datetime.fromtimestamp(practice.ended_at / 1000).date() == date(2026, 11, 24)
    start_on(driver, clock)
    press(driver, "Start")
    assert driver.app.desk.practice.key == "2026-11-26"
    driver = again(driver, drive, clock, season_path)
    assert driver.app.screens.current == "board"


@both_ways_up
def test_go_on_leads_to_the_board_as_it_was(at_practice, drive, clock, season_path):
    """A practice that does go on is one touch away, with its tallies, and is asked about no more."""
    clock.pass_hours(20)
    driver = again(at_practice, drive, clock, season_path)
    press(driver, "Go on with it")
    a_second_later(driver)
    assert driver.app.screens.current == "board"
    tap(driver, 1, Outcome.MISSED)
    players = driver.app.desk.players
    assert [number for number, _, _ in written(season_path)] == [players[0].number, players[1].number]


def test_go_on_without_a_restart_is_asked_about_no_more(at_practice, clock):
    """The answer itself is the sign of life: not the next tap, before which the question would come again."""
    clock.pass_hours(47)
    a_second_later(at_practice)
    press(at_practice, "Go on with it")
    a_second_later(at_practice)
    assert at_practice.app.screens.current == "board"


def test_the_question_tells_of_this_tablets_own_last_tally(at_practice, drive, clock, season_path):
    """Another tablet's later one says nothing of when this one was put down."""
    desk = at_practice.app.desk
    (mine,) = desk.last(1)
    desk.season.log.add(replace(mine, id=new_id(), tablet="another", at=mine.at + 1_800_000))
    clock.pass_hours(47)
    driver = again(at_practice, drive, clock, season_path)
    assert home_of(driver).question == QUESTION.format("19:42")


def test_the_team_board_stays_within_reach_and_the_start_does_not(at_practice, drive, clock, season_path):
    """Before the answer one can look at the team; whoever asks for a start comes to the question."""
    clock.pass_hours(47)
    driver = again(at_practice, drive, clock, season_path)
    press(driver, "Team board")
    assert driver.app.screens.current == "team"
    driver.app._to_practice()
    assert driver.app.screens.current == "home"


@both_ways_up
def test_a_tablet_that_slept_with_the_board_in_front_asks_too(at_practice, clock, season_path):
    """Within a second of its waking the question stands there, and no tap was filed under the old day."""
    clock.pass_hours(47)
    a_second_later(at_practice)
    assert at_practice.app.screens.current == "home"
    assert home_of(at_practice).question == QUESTION.format("19:42")
    press(at_practice, "It is over")
    assert len(written(season_path)) == 1


@pytest.mark.parametrize("screen", ["home", "start"])
def test_whatever_screen_was_in_front_the_question_comes(at_practice, clock, screen):
    """Home changes under the eyes, and the list of who is here gives way."""
    at_practice.app.go(screen)
    at_practice.settle()
    clock.pass_hours(47)
    at_practice.app.dispatch("on_resume")
    at_practice.settle()
    assert at_practice.app.screens.current == "home"
    assert "It is over" in titles(at_practice)


@pytest.mark.parametrize("jump", [datetime(2026, 11, 26, 19, 43), datetime(2010, 1, 1, 0, 0)])
def test_a_clock_that_is_put_right_throws_nobody_off_the_board(at_practice, clock, season_path, jump):
    """Network time comes two days later or a battery dies: no real time has passed, and taps go on."""
    clock.set(jump)
    a_second_later(at_practice)
    tap(at_practice, 1, Outcome.DONE)
    a_second_later(at_practice)
    assert at_practice.app.screens.current == "board"
    assert len(written(season_path)) == 2


def test_a_clock_that_went_back_while_the_tablet_slept_is_no_way_past_the_question(at_practice, clock):
    """Asleep for two days, and the clock then says an earlier month: real time has passed all the same."""
    clock.pass_hours(47)
    clock.set(datetime(2026, 3, 1, 18, 0))
    a_second_later(at_practice)
    assert at_practice.app.screens.current == "home"


@pytest.mark.parametrize(("hours", "asked"), [(2.9, False), (3.1, False), (4.1, False), (4.5, True)])
def test_a_long_break_on_the_same_day_asks_nothing(at_practice, drive, clock, season_path, hours, asked):
    """Hours without a tally are asked about once the day is another one; so it is after a restart."""
    clock.pass_hours(hours)
    a_second_later(at_practice)
    assert (at_practice.app.screens.current == "home") == asked
    driver = again(at_practice, drive, clock, season_path)
    assert (driver.app.screens.current == "home") == asked


def test_a_practice_without_a_tally_says_so(clock, drive, season_path):
    """Begun and forgotten before the first tap."""
    driver = drive(app=clock.app(season_path))
    desk = driver.app.desk
    assert desk.begin(clock.today(), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    clock.pass_hours(30)
    a_second_later(driver)
    assert "was not ended: nothing was tallied in it." in home_of(driver).question


def test_a_last_tally_after_midnight_is_told_with_its_day(at_practice, clock):
    """A clock alone would be taken for that of the evening; and the next evening is another practice's."""
    clock.set(datetime(2026, 11, 25, 0, 12))
    tap(at_practice, 1, Outcome.DONE)
    clock.pass_hours(20)
    a_second_later(at_practice)
    assert "from 00:12 on Wednesday 25 November 2026." in home_of(at_practice).question


def test_an_end_that_cannot_be_written_is_told_and_asked_again(at_practice, clock, season_path):
    """While another program holds the file the question stays, with the reason; afterwards it goes."""
    clock.pass_hours(47)
    a_second_later(at_practice)
    with open_season(season_path) as other:
        other._connection.execute("BEGIN IMMEDIATE")
        press(at_practice, "It is over")
        assert "not saved" in at_practice.app.desk.message
        assert "It is over" in titles(at_practice)
        other._connection.execute("ROLLBACK")
    press(at_practice, "It is over")
    assert "Start a practice" in titles(at_practice)


# the date on the boards


def shown_day(driver):
    """Return what the key says of the day, all of which is within the key."""
    (key,) = [key for key in keys_of(driver) if key.title == "Practice"]
    room = int(key.width - 2 * dp(8))
    words = [
        wrapped(text, size, font, room)
        for text, size, font in (
            (key.title, key.title_size, fonts.SEMIBOLD),
            (key.small, key.small_size, fonts.PLAIN),
        )
    ]
    assert sum(drawn.height for drawn in words) <= key.height
    assert all(whole(word, fonts.PLAIN, room, 99, (13,)) for word in key.small.split())
    return key.small


@both_ways_up
@pytest.mark.parametrize("kind", ["group", "rep", "player"])
def test_the_date_is_in_sight_on_every_board(at_practice, clock, kind):
    """With its weekday; marked when it is not today's, and with the year when it is not this year's.

    Nothing of it is cut: it is as wide as the key, and as high.
    """
    screen_of(at_practice).choose(kind)
    at_practice.settle()
    assert shown_day(at_practice) == "Tue 24 Nov"
    clock.set(datetime(2026, 11, 25, 0, 1))
    screen_of(at_practice)._tick()
    assert shown_day(at_practice) == "Tue 24 Nov\nnot today"
    clock.set(datetime(2027, 1, 1, 0, 1))
    screen_of(at_practice)._tick()
    assert shown_day(at_practice) == "Tue 24 Nov 2026"
