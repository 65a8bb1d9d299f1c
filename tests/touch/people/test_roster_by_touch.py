"""The roster changed by finger: added, renumbered, swapped, left and back; in force on the boards at once."""

from datetime import date, datetime

import pytest
from pressing import keys_of, press

from evaltrack.device.passcode import seal
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season


@pytest.fixture
def roster(drive, season_path):
    """Return the driver of an app on the roster, reached from home."""
    driver = drive(season_path)
    press(driver, "Roster")
    assert driver.app.screens.current == "players"
    return driver


def typed(driver, name):
    """Type a name into its field, letter by letter."""
    field = driver.app.screens.current_screen.ids.name
    driver.tap(field)
    assert field.focus
    for letter in name:
        driver.key(ord(letter), letter)
    driver.settle()


def number(driver, digits):
    """Tap the digits of a number."""
    for digit in digits:
        press(driver, digit)


def titles(driver):
    """Return what stands on the keys of the screen in front, with the small line."""
    return {key.title: key.small for key in keys_of(driver)}


def team(path):
    """Return number, name, position and status of those on the team, as the file has them."""
    with open_season(path) as season:
        return {p.number: (p.name, str(p.position), str(p.status)) for p in season.people.players()}


def form(driver):
    """Return the form in front."""
    assert driver.app.screens.current == "player_form"
    return driver.app.screens.current_screen


def test_the_list_goes_by_number_and_says_group_and_status(roster):
    """Everybody stands there once, in order of number; the bar counts them."""
    shown = [title for title in titles(roster) if title[0].isdigit()]
    assert shown == [f"{p.number}  {p.name}" for p in roster.app.desk.players]
    assert titles(roster)["2  Zoë Łukasik"] == "defender"
    assert roster.app.screens.current_screen.summary == "20 players: 7 D, 12 F, 1 G"


def test_a_player_is_added(roster, season_path):
    """Each line says what it lacks until it has it; only then Save takes it, and the list has the player."""
    press(roster, "Add a player")
    screen = form(roster)
    assert screen.wrong == ["number", "name", "position"]
    assert "Save" not in titles(roster)
    number(roster, "93")
    typed(roster, "Kit Alder")
    assert "Save" not in titles(roster)
    press(roster, "Forward")
    assert screen.wrong == []
    press(roster, "Save")
    assert roster.app.screens.current == "players"
    assert "93  Kit Alder" in titles(roster)
    assert team(season_path)["93"] == ("Kit Alder", "F", "full")


def test_a_number_that_is_worn_is_refused_beside_its_line(roster, season_path):
    """Nothing is saved meanwhile, and a new player has no number to swap."""
    before = team(season_path)
    press(roster, "Add a player")
    typed(roster, "Kit Alder")
    press(roster, "Forward")
    number(roster, "5")
    assert form(roster).number_words == "Bo Tarnquist wears 5."
    assert {"Save", "Swap numbers"} & set(titles(roster)) == set()
    press(roster, "Back")
    assert team(season_path) == before


def test_two_players_swap_numbers_in_one_go(roster, season_path):
    """The first digit replaces the number that stood there; both change together or not at all."""
    press(roster, "2  Zoë Łukasik")
    press(roster, "5")
    assert form(roster).number == "5"
    assert titles(roster)["Swap numbers"] == "Bo Tarnquist takes 2"
    press(roster, "Swap numbers")
    press(roster, "Save")
    now = team(season_path)
    assert (now["5"][0], now["2"][0]) == ("Zoë Łukasik", "Bo Tarnquist")
    with open_season(season_path) as season:
        assert len(season.people.changes()) == 2


def test_position_and_status_and_name_change(roster, season_path):
    """What is not touched stays; Back changes nothing."""
    press(roster, "5  Bo Tarnquist")
    press(roster, "Goalie")
    press(roster, "Limited")
    press(roster, "Back")
    assert team(season_path)["5"] == ("Bo Tarnquist", "D", "full")
    press(roster, "5  Bo Tarnquist")
    press(roster, "Goalie")
    press(roster, "Limited")
    press(roster, "Save")
    assert team(season_path)["5"] == ("Bo Tarnquist", "G", "limited")
    assert titles(roster)["5  Bo Tarnquist"] == "goalie, limited"


def test_who_left_can_come_back(roster, season_path):
    """The number is free meanwhile; who comes back while it is worn is asked for another one."""
    press(roster, "5  Bo Tarnquist")
    press(roster, "Has left")
    press(roster, "Save")
    assert "5" not in team(season_path)
    press(roster, "Add a player")
    number(roster, "5")
    typed(roster, "Kit Alder")
    press(roster, "Defender")
    press(roster, "Save")
    assert team(season_path)["5"][0] == "Kit Alder"
    press(roster, "1 left")
    press(roster, "5  Bo Tarnquist")
    press(roster, "Full")
    assert form(roster).number_words == "Kit Alder wears 5."
    number(roster, "6")
    press(roster, "Save")
    assert team(season_path)["6"][0] == "Bo Tarnquist"


def test_a_running_practice_takes_it_at_once(bench, season_path):
    """Who left has an empty place and nobody else moves; who joins has the next place; a new number shows."""
    desk, board = bench.app.desk, bench.app.screens.get_screen("board").ids.board
    second, third = desk.here()[1:3]
    desk.tally(second.id, Outcome.DONE)
    before = [face and face.number for face in board.faces]
    bench.app.go("players")
    press(bench, f"{second.number}  {second.name}")
    press(bench, "Has left")
    press(bench, "Save")
    press(bench, f"{third.number}  {third.name}")
    number(bench, "77")
    press(bench, "Save")
    press(bench, "Add a player")
    number(bench, "93")
    typed(bench, "Kit Alder")
    press(bench, "Forward")
    press(bench, "Save")
    bench.app.go("board")
    bench.settle()
    expected = [None if n == second.number else "77" if n == third.number else n for n in before]
    assert [face and face.number for face in board.faces] == [*expected, "93"]
    assert second.id not in {player.id for player in desk.here()}
    for kind in ("rep", "player", "group"):
        bench.app.screens.get_screen("board").choose(kind)
        bench.settle()
    # the tap on the empty place counts for nobody, and undo still takes back what was theirs
    tile = board.layout.tile(1)
    bench.tap((tile.x + tile.width * 0.75, tile.y + tile.height * 0.4))
    assert desk.total == 1
    assert desk.undo().player == second.id


def test_old_practices_keep_the_numbers_also_with_a_clock_of_2010(drive, season_path):
    """A tablet whose clock was reset must not renumber what is past."""
    driver = drive(season_path)
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    assert desk.end()
    desk._clock = lambda: 1_262_304_000_000
    press(driver, "Roster")
    press(driver, "5  Bo Tarnquist")
    number(driver, "77")
    press(driver, "Save")
    with open_season(season_path) as season:
        worn = season.people.numbers_worn()
        (changed,) = season.people.changes()
    assert worn.number(changed.player, date(2026, 1, 19)) == "5"
    assert changed.day == date(2026, 1, 20)


@pytest.mark.parametrize("ahead", ["now", "once"])
def test_a_clock_that_runs_ahead_leaves_the_old_number_to_no_practice_to_come(drive, season_path, ahead):
    """Whether it is 2031 on the tablet, or was when a practice began: the new number holds soon."""
    days = [date(2026, 1, 13), date(2026, 1, 15), *[date(2031, 1, 1)] * (ahead == "once")]
    with open_season(season_path) as season:
        season.practices.add([Practice(day.isoformat(), day) for day in days])
    driver = drive(season_path)
    today = datetime(2031, 1, 2) if ahead == "now" else datetime(2026, 1, 20)
    driver.app.desk._clock = lambda: int(today.timestamp() * 1000)
    press(driver, "Roster")
    press(driver, "5  Bo Tarnquist")
    number(driver, "77")
    press(driver, "Save")
    with open_season(season_path) as season:
        worn = season.people.numbers_worn()
        (changed,) = season.people.changes()
    numbers = [worn.number(changed.player, date(2026, 1, day)) for day in (15, 20)]
    assert numbers == ["5", "77"]


def test_a_failed_write_is_told_and_changes_nothing(roster, season_path):
    """The file is gone: the form stays as it is typed, and says so."""
    press(roster, "5  Bo Tarnquist")
    number(roster, "77")
    season_path.rename(season_path.with_name("moved.db"))
    press(roster, "Save")
    assert form(roster).number == "77"
    assert "not saved" in roster.app.desk.message
    assert roster.app.desk.players[1].number == "5"
    season_path.with_name("moved.db").rename(season_path)
    press(roster, "Save")
    assert team(season_path)["77"][0] == "Bo Tarnquist"


@pytest.mark.parametrize("name", ["players", "player_form"])
def test_the_latch_keeps_the_roster(drive, season_path, name):
    """With a code set neither the list nor the form is shown without it."""
    keep_tablet(load_tablet(), latch=seal("2468", rounds=1))
    driver = drive(season_path)
    driver.app.go(name)
    assert driver.app.screens.current == "code"
