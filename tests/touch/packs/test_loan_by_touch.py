"""A season lent, worked in and given back under real touches.

Cases: lending with numbers alone until tonight; the lent tablet has its boards and no way to anything else;
tallies given back and taken in; the end by date; a clock set back, or
wrong while the practice runs; deleting the loan.
"""

from datetime import date, timedelta

import pytest
from name_search import where_named
from pressing import keys_of, press
from seasons_for_touch import roster

from evaltrack.device.recent_seasons import recent_seasons
from evaltrack.device.tablet import load_tablet
from evaltrack.rink.days import in_full
from evaltrack.rink.ident import now_ms
from evaltrack.rink.loan import LentNames
from evaltrack.rink.tally import Outcome
from evaltrack.store.lending import lend
from evaltrack.store.opening import open_season
from evaltrack.touch.practice.earlier import doubt_about
from evaltrack.touch.tablet.tablet_screens import ScreenName

DAY_LONG = 24 * 3_600_000
CLOSED = sorted(
    set(ScreenName)
    - {"loan", "start", "board", "setup", "measure", "code", "seasons", "file", "our_team", "roster"}
)


@pytest.fixture
def loan_path(season_path, tmp_path):
    """Lend a season with first names, for a week."""
    with open_season(season_path) as season:
        lend(season, tmp_path / "loan.db", LentNames.FIRST, date.today() + timedelta(7))
    return tmp_path / "loan.db"


@pytest.fixture
def lent(drive, loan_path):
    """Return the app on the loan."""
    return drive(loan_path)


def titles(driver) -> list[str]:
    """Return what stands on the keys in front."""
    driver.settle()
    return [key.title for key in keys_of(driver) if key.title != "?"]


def chosen(driver) -> list[str]:
    """Return what stands on the keys that are chosen."""
    driver.settle()
    return [key.title for key in keys_of(driver) if key.active]


def tally(driver, count: int) -> None:
    """Begin a practice and note so many tries."""
    desk = driver.app.desk
    assert desk.begin(date.today(), desk.players, "breakout_attack", "two_on_one", "Helper")
    for nth in range(count):
        assert desk.tally(desk.players[nth % 20].id, Outcome.DONE)


def set_clock(driver, days: int) -> None:
    """Let the desk's clock be so many days ahead."""
    driver.app.desk._clock = lambda: now_ms() + days * DAY_LONG


def test_lending_by_touch(drive, season_path, write_to, stick):
    """From the seasons in five touches and a folder; no name goes along when numbers are enough."""
    driver = drive(season_path)
    driver.app.go("seasons")
    press(driver, "Packs and loans")
    press(driver, "Lend to a second tablet")
    lending = driver.app.screens.current_screen
    assert chosen(driver) == ["First names and numbers", "In 7 days", "Write the loan"]
    press(driver, "Numbers alone")
    press(driver, "Tonight")
    assert chosen(driver) == ["Numbers alone", "Tonight", "Write the loan"]
    for by, days in ((500, 92), (-500, 0)):
        lending._move(by)
        assert lending.last_day == date.today() + timedelta(days)
    smalls = {key.title: key.small for key in keys_of(driver)}
    assert smalls["Tonight"] == in_full(date.today())
    assert smalls["In 7 days"] == in_full(date.today() + timedelta(7))
    press(driver, "+")
    press(driver, "Write the loan")
    screen = write_to(driver)
    (path,) = stick.iterdir()
    assert str(path) in screen.words
    with open_season(path) as loan:
        assert (loan.loan.names, loan.loan.last_day) == (LentNames.NONE, date.today() + timedelta(1))
    words = [word for player in roster() for word in player.name.split() if len(word) > 3]
    assert where_named(stick, *words) == []


def test_the_lent_tablet_leads_to_its_boards_alone(lent):
    """Whatever screen is asked for, with a code or without one; the line says whose it is and until when."""
    screen = lent.app.screens.current_screen
    assert (screen.name, titles(lent)[2:]) == (
        "loan",
        ["Start a practice", "Give the tallies back", "Delete this loan"],
    )
    last_day = date.today() + timedelta(7)
    words = " ".join(part.text for part in screen.walk(restrict=True) if hasattr(part, "text"))
    assert "On loan from Kettle Bay Lanterns 12U until" in words
    assert f"{last_day.day} {last_day:%B}" in words
    for name in CLOSED:
        lent.app.go(name)
        assert lent.app.screens.current == "loan", name
    press(lent, "Start a practice")
    assert lent.app.screens.current == "start"
    lent.app.go("seasons")
    assert not {"Backups", "Packs and loans"} & set(titles(lent))


def test_what_is_noted_in_a_loan_has_an_id_of_its_own(lent):
    """And the tablet's own id stays what it is."""
    own = load_tablet().id
    tally(lent, 1)
    (made,) = lent.app.desk.season.log.tallies()
    assert (made.tablet.startswith(own), made.tablet != own, load_tablet().id) == (True, True, own)


def test_tallies_are_given_back_and_taken_in(lent, season_path, write_to, stick):
    """As one file; the lender is shown how many of whom first, and has them after."""
    tally(lent, 5)
    lent.app.desk.end()
    lent.app.go("home")
    press(lent, "Give the tallies back")
    assert "Written" in write_to(lent).words
    assert lent.app.screens.current_screen.tells("5 tallies, and all were given back.")
    driver = lent
    assert driver.app.desk.open(season_path)
    driver.app.go("packs")
    press(driver, "Take in a pack")
    (pack,) = stick.iterdir()
    driver.app.screens.current_screen.dispatch("on_chosen", str(pack))
    screen = driver.app.screens.current_screen
    driver.wait(lambda: not screen.busy)
    told = [line for part in screen.walk() if hasattr(part, "text") for line in part.text.split("\n")]
    assert f"{in_full(date.today())}, noted by Helper: 5 tallies." in told
    assert driver.app.desk.season.log.count() == 0
    press(driver, "Take it in")
    driver.wait(lambda: not screen.busy)
    assert driver.app.desk.season.log.count() == 5
    assert [player.name for player in driver.app.desk.players] == [player.name for player in roster()]


def test_after_its_last_day_a_loan_takes_nothing(lent):
    """The tap is refused in a sentence, and the boards are closed; also when the clock is set back then."""
    tally(lent, 2)
    lent.app.go("board")
    set_clock(lent, 8)
    assert lent.app.desk.tally(lent.app.desk.players[0].id, Outcome.DONE) is None
    assert "the loan ended" in lent.app.desk.message
    lent.app.go("board")
    assert titles(lent)[2:] == ["Give the tallies back", "Delete this loan"]
    set_clock(lent, -400)
    lent.app.desk.open(lent.app.desk.season.path)
    lent.app.go("board")
    assert lent.app.screens.current == "loan"
    assert lent.app.desk.tally is not None
    assert lent.app.desk.season.log.count() == 2


def test_an_opening_is_kept_as_the_latest_moment(lent, loan_path):
    """A clock that is set back afterwards makes no more days of it."""
    set_clock(lent, 5)
    assert lent.app.desk.open(loan_path)
    set_clock(lent, 0)
    lent.app.desk.close()
    with open_season(loan_path) as season:
        assert season.loan.latest > now_ms() + 4 * DAY_LONG
        assert not season.loan.is_over(now_ms())
        assert season.loan.is_over(now_ms() + 8 * DAY_LONG)


def test_a_loan_is_deleted_after_one_question(lent, loan_path, season_path):
    """Which says what would be lost; the season that it came from stays, and it is listed no more."""
    tally(lent, 2)
    lent.app.desk.end()
    lent.app.go("home")
    press(lent, "Delete this loan")
    assert any("lost" in getattr(part, "text", "") for part in lent.app.screens.current_screen.walk())
    press(lent, "Leave it here")
    assert loan_path.exists()
    press(lent, "Delete this loan")
    press(lent, "Delete it")
    assert (lent.app.screens.current, list(loan_path.parent.glob("loan.db*"))) == ("seasons", [])
    assert (season_path.exists(), load_tablet().season, recent_seasons()) == (True, "", [])


def test_a_helper_whose_clock_is_wrong_is_asked_about_the_day_of_the_practice_that_runs(
    drive, season_path, tmp_path
):
    """The one that was begun before the season was lent, and not the day after it."""
    desk, day = drive(season_path).app.desk, date.today() - timedelta(40)
    assert desk.begin(day, desk.players, "breakout_attack", "two_on_one", "Ines")
    lend(desk.season, tmp_path / "loan.db", LentNames.FIRST, date.today() + timedelta(7))
    assert desk.open(tmp_path / "loan.db")
    later, practices = day + timedelta(3650), desk.season.practices
    assert doubt_about(desk, later).likely == day
    practices.end(practices.running().key)
    assert doubt_about(desk, later).likely == day + timedelta(1)
