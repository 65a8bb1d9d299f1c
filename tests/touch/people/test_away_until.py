"""Away until a day, the year of birth, and what was changed of a player: on the form, and where it counts."""

from datetime import date, datetime, timedelta

import pytest
from on_boards import both_ways_up
from pressing import keys_of, press
from set_clocks import TabletClock

from evaltrack.rink.player import Status
from evaltrack.store.opening import open_season

DAY = date(2026, 1, 13)


@pytest.fixture
def roster(drive, season_path, window):
    """Return the driver of an app on the roster on Tuesday 13 January 2026."""
    driver = drive(season_path)
    clock = TabletClock(datetime(2026, 1, 13, 18, 30))
    driver.app.desk._clock = clock.now
    press(driver, "Roster")
    return driver


def kept(path, number):
    """Return a player as the file has them."""
    with open_season(path) as season:
        return next(player for player in season.people.everyone() if player.number == number)


def opened(driver, number):
    """Open the form of a player, and return it."""
    player = next(player for player in driver.app.desk.everyone if player.number == number)
    press(driver, f"{player.number}  {player.name}")
    return driver.app.screens.current_screen


def form_line(driver, title):
    """Return the key with this title."""
    driver.settle()
    return next(key for key in keys_of(driver) if key.title == title)


@both_ways_up
def test_away_until_a_day_is_chosen_by_finger_and_shown_in_the_list(roster, season_path):
    """A week from today, a day more; it is saved with the status, and told in the roster."""
    form = opened(roster, "5")
    assert not form.away
    high = form_line(roster, "Away").height
    press(roster, "Away")
    assert (form.away, form.until) == (True, "no day named")
    assert form_line(roster, "Away").height < high
    press(roster, "Full")
    assert form_line(roster, "Away").height == high
    press(roster, "Away")
    press(roster, "+ 1 week")
    press(roster, "+ 1 day")
    assert form.until == "Wednesday 21 January 2026"
    press(roster, "Save")
    assert kept(season_path, "5").status_text == "away until 2026-01-21"
    (key,) = [key for key in keys_of(roster) if key.title.startswith("5  ")]
    assert key.small == "defender, away until Wed 21 Jan"
    form = opened(roster, "5")
    assert form.history == "away until Wednesday 21 January 2026, from Tuesday 13 January 2026 on"
    press(roster, "No day")
    press(roster, "Full")
    press(roster, "Away")
    press(roster, "Save")
    assert kept(season_path, "5").status_text == "away"


def test_no_day_before_tomorrow_can_be_named(roster):
    """Who is back today is not away."""
    form = opened(roster, "5")
    press(roster, "Away")
    for _ in range(3):
        press(roster, "– 1 day")
    assert form.until == "Wednesday 14 January 2026"


@pytest.mark.parametrize(("later", "here"), [(0, False), (6, False), (7, True), (30, True)])
def test_who_is_away_until_a_day_is_offered_as_here_from_it_on(roster, later, here):
    """Before the day the start leaves them out, and says until when; on the day and after it they are in."""
    opened(roster, "5")
    press(roster, "Away")
    press(roster, "+ 1 week")
    press(roster, "Save")
    roster.app.go("start")
    start = roster.app.screens.get_screen("start")
    start._today = lambda: DAY + timedelta(later)
    start.on_pre_enter()
    roster.settle()
    (switch,) = [key for key in keys_of(roster) if key.title.startswith("5  ")]
    said = "here, back since Tue 20 Jan" if here else "not here, away until Tue 20 Jan"
    assert (switch.active, switch.small) == (here, said)


@both_ways_up
def test_the_year_of_birth_is_typed_with_the_keys_of_digits(roster, season_path):
    """One key says what the digits write; a year that cannot be is told, and none is allowed."""
    form = opened(roster, "5")
    press(roster, "born –")
    for digit in "1914":
        press(roster, digit)
    assert (form.born, form.number, form.ready) == ("1914", "5", False)
    assert "four digits" in form.number_words
    for _ in range(3):
        press(roster, "Erase")
    year = str(date.today().year - 11)
    press(roster, "Erase")
    for digit in year:
        press(roster, digit)
    press(roster, "Save")
    assert kept(season_path, "5").birth_year == int(year)
    form = opened(roster, "5")
    assert form.born == year
    assert form.history == f"year of birth {year}, noted on Tuesday 13 January 2026"
    press(roster, f"born {year}")
    for _ in year:
        press(roster, "Erase")
    press(roster, "Save")
    assert kept(season_path, "5").birth_year is None


def test_the_form_lists_what_was_changed_of_this_player(roster):
    """Number and position, with the day; of another player nothing."""
    opened(roster, "5")
    for digit in "99":
        press(roster, digit)
    press(roster, "Forward")
    press(roster, "Save")
    form = opened(roster, "99")
    assert form.history.split("\n") == [
        "number 5 until Tuesday 13 January 2026, then 99",
        "position D until Tuesday 13 January 2026, then F",
    ]
    press(roster, "Back")
    assert opened(roster, "8").history == ""
    assert kept(roster.app.desk.season.path, "99").status is Status.FULL
