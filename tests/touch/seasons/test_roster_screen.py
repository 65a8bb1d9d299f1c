"""The roster of a new season under real touches: typed, pasted, read, mended; nothing of it is ever lost."""

from contextlib import suppress

import pytest
from counted_taps import Counted, press_row, rows_of
from driver import Finger
from kivy.core.clipboard import Clipboard
from lanterns_files import ROSTER_CSV
from on_boards import both_ways_up
from pressing import keys_of, press

from evaltrack.device.season_places import seasons_folder
from evaltrack.store.opening import open_season
from evaltrack.touch.app import EvaltrackApp

WITH_FAULTS = "7\tBo Tarnquist\tD\n07\tZoë Łukasik\tF\n12\tSeán O'Brien\tRover\n31\tIlze Kēniņa\tG\n"


@pytest.fixture
def roster(counted):
    """Return the app at the roster of the Kestrels, which is empty yet."""
    return to_roster(counted)


def to_roster(driver):
    """Go from the first screen to the roster of a team."""
    press(driver, "Start our season")
    driver.type_in(driver.screen.ids.team, "Kestrels")
    press(driver, "12U")
    press(driver, "Next: the roster")
    return driver


def type_player(driver, number: str, name: str, position: str) -> None:
    """Type a player: the number's keys, the name, and the position, which adds the player."""
    for digit in number:
        press(driver, digit)
    driver.type_in(driver.screen.ids.name, name)
    press(driver, position)


def paste(driver, text: str) -> None:
    Clipboard.copy(text)
    press(driver, "Paste")


def listed(driver) -> list[tuple[str, str]]:
    return [(row.title, row.small) for row in rows_of(driver)]


def kept(path) -> list[tuple[str, str, str]]:
    """Return number, name and position of the players in a season file, by number."""
    with open_season(path) as season:
        players = season.people.players()
    return sorted((player.number, player.name, player.position.value) for player in players)


def made(driver):
    """Make the season, wait until it is in hand, and return its path."""
    press(driver, "Make the season")
    driver.wait(lambda: driver.screen.name == "home")
    return driver.app.desk.season.path


@both_ways_up
def test_players_are_typed_one_by_one(roster):
    """Number, name, position: the tap on the position adds the player, and the keys are free for the next."""
    before = roster.taps
    type_player(roster, "7", "Bo Tarnquist", "Defender")
    type_player(roster, "00", "Aoife Ní Dhúlain", "Forward")
    type_player(roster, "31", "雪 千代", "Goalie")
    print(f"three players typed: {roster.taps - before} taps")
    assert (roster.screen.number, roster.screen.ids.name.text) == ("", "")
    assert listed(roster) == [
        ("7   Bo Tarnquist", "defender"),
        ("00   Aoife Ní Dhúlain", "forward"),
        ("31   雪 千代", "goalie"),
    ]
    path = made(roster)
    assert kept(path) == [
        ("00", "Aoife Ní Dhúlain", "F"),
        ("31", "雪 千代", "G"),
        ("7", "Bo Tarnquist", "D"),
    ]


@both_ways_up
def test_who_plays_both_is_typed_with_one_key_more(roster):
    """Plays both, then the position that counts; a line that is looked at again keeps both."""
    for digit in "12":
        press(roster, digit)
    roster.type_in(roster.screen.ids.name, "Seán O'Brien")
    press(roster, "Plays both")
    assert "Goalie" not in [key.title for key in keys_of(roster)]
    press(roster, "Forward")
    type_player(roster, "7", "Bo Tarnquist", "Defender")
    assert [small for _, small in listed(roster)] == ["forward and defender", "defender"]
    press_row(roster, "12")
    assert roster.screen.both
    press(roster, "Defender")
    with open_season(made(roster)) as season:
        assert [p.position_text for p in season.people.players()] == ["D", "D/F"]


def test_a_player_with_a_fault_stays_on_the_keys(roster):
    """A number twice, no name, no number: each is said in a sentence, and what was typed is still there."""
    press(roster, "Goalie")
    assert roster.screen.words == (
        "The number is missing; write the one on the jersey. The name is missing; write it."
    )
    type_player(roster, "7", "Bo Tarnquist", "Defender")
    type_player(roster, "7", "Zoë Łukasik", "Forward")
    assert roster.screen.words.startswith("Number 7 stands in line 1 too")
    assert (roster.screen.number, roster.screen.ids.name.text) == ("7", "Zoë Łukasik")
    assert len(rows_of(roster)) == 1
    press(roster, "Erase")
    press(roster, "8")
    press(roster, "Forward")
    assert listed(roster)[1] == ("8   Zoë Łukasik", "forward")
    assert roster.screen.words == ""


def test_whoever_is_still_on_the_keys_is_not_forgotten(roster):
    """Neither a paste, nor another line, nor the making of the season takes a typed player off the keys."""
    paste(roster, "7,Bo,D")
    press(roster, "8")
    roster.type_in(roster.screen.ids.name, "Ann")
    paste(roster, "9,Pip,F")
    assert (roster.screen.number, roster.screen.ids.name.text) == ("8", "Ann")
    for act in (lambda: press_row(roster, "7"), lambda: press(roster, "Make the season")):
        act()
        assert roster.screen.words.startswith("A player is still on the keys")
        assert (roster.screen.number, roster.screen.making) == ("8", False)
    press(roster, "Clear the keys")
    assert (roster.screen.number, roster.screen.ids.name.text) == ("", "")
    assert [key[0] for key in kept(made(roster))] == ["7", "9"]


def test_the_keys_hold_no_more_than_a_jersey_can(roster):
    """Three digits, and one less for each Erase."""
    for digit in "1234":
        press(roster, digit)
    assert roster.screen.number == "123"
    for _ in range(4):
        press(roster, "Erase")
    assert roster.screen.number == ""


def test_every_fault_of_a_paste_stands_at_its_line_until_it_is_put_right(roster):
    """Nothing can be made before; a tap on a line brings it to the keys, and the position puts it right."""
    paste(roster, WITH_FAULTS)
    assert roster.screen.summary == "2 players, 2 lines to put right"
    (_, first), (_, second), (_, third), _ = listed(roster)
    assert first == "defender"
    assert second.startswith("Line 2: Number 7 stands in line 1 too")
    assert third == "Line 3: `Rover` is not a position; write D, F or G, or D/F for one who plays both."
    assert [row.marked for row in rows_of(roster)] == [False, True, True, False]
    assert "Make the season" not in [key.title for key in keys_of(roster)]
    press_row(roster, "12")
    assert (roster.screen.number, roster.screen.ids.name.text) == ("12", "Seán O'Brien")
    press(roster, "Forward")
    press_row(roster, "07")
    press(roster, "Erase")
    press(roster, "9")
    press(roster, "Forward")
    assert roster.screen.summary == "4 players"
    assert [key[0] for key in kept(made(roster))] == ["12", "31", "7", "9"]


def test_lines_are_taken_out_and_left_as_they_are(roster):
    """One line out, another only looked at, all out: the list is what remains."""
    paste(roster, WITH_FAULTS)
    press_row(roster, "07")
    press(roster, "Take out")
    press_row(roster, "31")
    press(roster, "Leave it as it is")
    assert [title for title, _ in listed(roster)] == [
        "7   Bo Tarnquist",
        "12   Seán O'Brien",
        "31   Ilze Kēniņa",
    ]
    press(roster, "Empty it")
    assert (len(listed(roster)), roster.screen.words) == (3, "Once more, and all 3 lines are out.")
    press_row(roster, "31")
    press(roster, "Leave it as it is")
    press(roster, "Empty it")
    press(roster, "Really?")
    assert (listed(roster), roster.screen.summary) == ([], "0 players")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("   \n", "Nothing was copied"),
        ("once upon a time " * 2000, "no roster"),
        ("number,name,position", "there is no player in it"),
    ],
)
def test_a_clipboard_without_a_roster_changes_nothing(roster, text, told):
    """What is there stays, and a sentence says what to copy."""
    type_player(roster, "7", "Bo Tarnquist", "Defender")
    paste(roster, text)
    assert told in roster.screen.words
    assert len(rows_of(roster)) == 1


def test_a_roster_is_read_from_a_file_found_by_touch(roster, tmp_path):
    """The choice of a file leads back with its lines, below those that were typed."""
    (tmp_path / "roster.csv").write_text(ROSTER_CSV, encoding="utf-8")
    type_player(roster, "99", "Bo Tarnquist", "Defender")
    press(roster, "From a file")
    assert roster.screen.heading == "Read a roster"
    roster.screen.look_in(tmp_path)
    roster.wait(lambda: any(row.title == "roster.csv" for row in rows_of(roster)))
    press_row(roster, "roster.csv")
    assert roster.screen.name == "roster"
    assert len(rows_of(roster)) == 1 + len(ROSTER_CSV.strip().splitlines()) - 1
    press(roster, "From a file")
    (tmp_path / "photo.csv").write_bytes(b"\xff\xd8\xff\x00")
    roster.screen.look_in(tmp_path)
    roster.wait(lambda: any(row.title == "photo.csv" for row in rows_of(roster)))
    press_row(roster, "photo.csv")
    assert "photo.csv" in roster.screen.words
    assert len(rows_of(roster)) == len(ROSTER_CSV.strip().splitlines())


def test_one_goes_back_and_forth_and_all_is_still_there(roster):
    """The name of the team can still be changed; the roster waits, and so does what stands on the keys."""
    paste(roster, WITH_FAULTS)
    press(roster, "Back")
    assert roster.screen.ids.team.text == "Kestrels"
    roster.screen.ids.team.text = "Pond Kestrels"
    press(roster, "Back")
    press(roster, "Start our season")
    assert roster.screen.ids.team.text == "Pond Kestrels"
    press(roster, "Next: the roster")
    assert len(rows_of(roster)) == 4
    assert "pond-kestrels-12u-" in roster.screen.place


@pytest.mark.parametrize(
    ("team", "age_class", "told"),
    [
        ("", "12U", "The name of the team is missing."),
        ("Kestrels", "", "The age class is missing."),
        ("K" * 61, "12U", "The name of the team has 61 characters; at most 60 fit."),
        ("Kes\u200btrels", "12U", "invisible character U+200B"),
    ],
)
def test_a_team_without_a_proper_name_is_asked_for_it(counted, team, age_class, told):
    """The sentence stands at the foot, and what was typed stays."""
    press(counted, "Start our season")
    counted.screen.ids.team.text, counted.screen.ids.age_class.text = team, age_class
    press(counted, "Next: the roster")
    assert told in counted.screen.words
    assert (counted.screen.name, counted.screen.ids.team.text) == ("our_team", team)
    counted.screen.ids.team.text, counted.screen.ids.age_class.text = "Pond Kestrels", "14U"
    assert counted.screen.words == ""


def test_what_goes_with_an_age_class_is_common_practice_and_says_so(counted):
    """It changes with the class, and for a class without an age nothing is said."""
    press(counted, "Start our season")
    told = []
    for name in ("8U", "14U"):
        press(counted, name)
        told.append(counted.screen.customs)
    assert told[0] != told[1]
    assert all("Common practice, no rule of ours" in text for text in told)
    counted.screen.ids.age_class.text = "Squirts"
    assert counted.screen.customs == ""


def test_a_name_that_is_taken_gets_a_number_and_the_other_file_stays(roster, drive):
    """The same team once more: a second file beside the first, which is not touched."""
    paste(roster, "7,Bo,D")
    first = made(roster)
    before = kept(first)
    press(roster, "Seasons")
    to_roster(roster)
    paste(roster, "8,Ann,F")
    second = made(roster)
    assert second == first.with_name(f"{first.stem}-2.db")
    assert (kept(first), kept(second)) == (before, [("8", "Ann", "F")])
    assert second.name in roster.app.desk.message


def test_a_second_season_begins_with_an_empty_roster(roster):
    """What was typed for one team is not offered for the next."""
    paste(roster, "7,Bo,D")
    made(roster)
    press(roster, "Seasons")
    press(roster, "Start our season")
    assert roster.screen.ids.team.text == ""
    assert roster.app.season_draft.judged == []


def test_a_folder_in_the_way_is_told_and_nothing_typed_is_lost(roster, tablet_home):
    """A file where the folder should be: a sentence; once it is away, the same touch makes the season."""
    paste(roster, "7,Bo,D\n8,Ann,F")
    in_the_way = tablet_home / "seasons"
    in_the_way.write_text("a file")
    press(roster, "Make the season")
    roster.wait(lambda: not roster.screen.making)
    assert "Nothing was made, and the roster stays here" in roster.screen.words
    assert "cannot be made" in roster.screen.words
    assert len(rows_of(roster)) == 2
    in_the_way.unlink()
    assert len(kept(made(roster))) == 2


def test_a_full_disk_is_told_and_nothing_typed_is_lost(drive, small_disk, monkeypatch):
    """Half a season file is left nowhere; once there is room, the same touch makes it."""
    app = EvaltrackApp()  # its settings lie elsewhere: the disk is the one for season files
    monkeypatch.setattr("evaltrack.touch.seasons.roster_screen.seasons_folder", lambda: small_disk / "ours")
    driver = to_roster(Counted(drive(app=app)))
    paste(driver, "7,Bo,D\n8,Ann,F")
    (small_disk / "ours").mkdir()
    filler = small_disk / "film"
    with filler.open("wb", buffering=0) as film, suppress(OSError):
        while film.write(b"x" * 4096):
            pass
    press(driver, "Make the season")
    driver.wait(lambda: not driver.screen.making)
    assert "the disk is full" in driver.screen.words
    assert list((small_disk / "ours").iterdir()) == []
    assert len(rows_of(driver)) == 2
    filler.unlink()
    assert len(kept(made(driver))) == 2


def test_forty_players_are_shown_and_one_more_is_told_at_its_line(roster):
    """The largest roster there is, and the line that is too many."""
    paste(roster, "\n".join(f"{number},Player {'abcdefghij'[number % 10]}x,F" for number in range(1, 42)))
    assert len(rows_of(roster)) == 41
    assert "at most 40" in rows_of(roster)[40].small
    assert roster.screen.summary == "40 players, 1 line to put right"


def test_who_was_typed_last_is_in_sight_and_an_early_line_is_a_stroke_away(roster):
    """The list follows whoever is added; a finger moves it back without pressing anybody."""
    paste(roster, "\n".join(f"{number},Player x,F" for number in range(1, 31)))
    type_player(roster, "99", "Bo Tarnquist", "Defender")
    lines = roster.screen.ids.lines
    last = lines.rows[-1]
    assert lines.collide_point(*last.to_window(*last.center))
    finger = Finger(lines.center_x, lines.top - 60).down()
    for step in range(1, 30):
        finger.to(lines.center_x, lines.top - 60 - step * 12)
        roster.frames(1)
    finger.up()
    roster.settle()
    assert not lines.collide_point(*last.to_window(*last.center))
    assert roster.screen.edited == -1


def test_the_folder_that_is_named_is_the_one_in_which_the_file_is_made(roster):
    """The screen says beforehand where the file will lie, and home says it afterwards."""
    paste(roster, "7,Bo,D")
    place = roster.screen.place
    path = made(roster)
    assert str(seasons_folder()) in place
    assert path.name in place
    assert str(path) in roster.app.desk.message
