"""The first screen and the list of seasons under real touches: ways in, teams, files that went away."""

import os
from datetime import date, timedelta
from pathlib import Path

import pytest
from counted_taps import Counted, press_row, rows_of
from on_boards import tap
from pressing import keys_of, press
from seasons_for_touch import new_season

from evaltrack.device.passcode import seal
from evaltrack.device.recent_seasons import recent_seasons
from evaltrack.device.season_places import demo_folder, seasons_folder
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.founding.demo import DEMO_FILE, make_demo
from evaltrack.founding.season import found_season
from evaltrack.rink.player import Player, Position
from evaltrack.rink.tally import Outcome

EVERY_SCREEN = ("home", "start", "board", "team", "player", "setup", "measure", "code")
OF_SEASONS = ("seasons", "file", "our_team", "roster")


def titles(driver) -> list[str]:
    return [key.title for key in keys_of(driver)]


def other_team(path: Path) -> Path:
    """Make the season file of another team and return its path."""
    found_season(path, "Pond Kestrels", "10U", [Player("9", "Ilze Kēniņa", Position.FORWARD)]).close()
    return path


def marked(driver) -> bool:
    """Say whether the mark of the invented team is drawn over the screens."""
    over = driver.app.screens.canvas.after.children
    return "invented_mark" in vars(driver.app) and driver.app.invented_mark.canvas in over


def test_the_first_screen_has_three_ways_and_no_command_in_it(counted):
    """In words of a coach; nobody is sent to a command line, and nothing grey stands in the way."""
    assert titles(counted) == ["Dark", "Set-up", "Look round", "Start our season", "Open a season file", "?"]
    words = [getattr(widget, "text", "") for widget in counted.screen.walk(restrict=True)]
    words += [key.small for key in keys_of(counted)]
    assert not [text for text in words if "evaltrack " in text or "--" in text or "CSV" in text]


def test_each_way_can_be_gone_and_left_again(counted):
    """Back leads to where one came from, from every screen, with nothing done."""
    for way, steps in (("Start our season", 1), ("Open a season file", 1)):
        press(counted, way)
        for _ in range(steps):
            press(counted, "Back")
        assert counted.screen.name == "seasons"
    assert not seasons_folder().exists()


def test_the_invented_team_is_marked_on_every_screen_and_ours_is_not(counted, season_path):
    """The mark comes with the demo, stays through every screen, and goes with it."""
    press(counted, "Look round")
    counted.wait(lambda: counted.screen.name == "home")
    for name in (*EVERY_SCREEN, *OF_SEASONS):
        if name == "board":
            desk = counted.app.desk
            assert desk.begin(date(2026, 1, 14), desk.players, "breakout_attack", "two_on_one", "Ines")
        if name == "code":
            counted.app.screen("code").choose("setup")
        counted.app.go(name)
        counted.settle()
        assert counted.screen.name == name
        assert marked(counted), name
    tag = counted.app.invented_mark
    assert (tag.size, tag.pos) == (counted.app.screens.size, counted.app.screens.pos)
    assert counted.app.desk.open(season_path)
    assert not marked(counted)
    assert counted.app.desk.open(demo_folder() / DEMO_FILE)
    assert marked(counted)


def test_a_touch_on_the_mark_goes_through_it(counted):
    """What stands under the mark is pressed as ever: the mark takes no touch."""
    list(make_demo(demo_folder() / DEMO_FILE))
    press(counted, "Look round")
    (key,) = [key for key in keys_of(counted) if key.title == "Seasons"]
    mark = counted.app.invented_mark
    assert mark.parent is None
    counted.tap(key)
    assert counted.screen.name == "seasons"


def test_the_invented_team_has_a_plan_for_tomorrow(counted):
    """Whoever looks round finds the plan of a practice in two touches, and need not ask for one first."""
    press(counted, "Look round")
    counted.wait(lambda: counted.screen.name == "home")
    press(counted, "Next practice")
    assert counted.screen.name == "plan"
    card = counted.app.desk.season.plans.last()
    assert (card.day, card.minutes, len(card.places)) == (date.today() + timedelta(1), 60, 18)
    assert counted.screen.ids.groups.children


def test_what_was_tapped_in_the_demo_is_there_when_one_looks_round_again(counted):
    """The invented team's season is made once; the second time it is opened as it was left."""
    press(counted, "Look round")
    counted.wait(lambda: counted.screen.name == "home")
    desk = counted.app.desk
    assert desk.begin(date(2026, 1, 14), desk.players, "breakout_attack", "two_on_one", "Ines")
    counted.app.go("board")
    counted.settle()
    tap(counted, 0, Outcome.DONE)
    count = desk.season.log.count()
    desk.end()
    counted.app.go("home")
    press(counted, "Seasons")
    press(counted, "Look round")
    assert counted.screen.name == "home"
    assert desk.season.log.count() == count


def test_whoever_goes_elsewhere_meanwhile_is_not_taken_away_from_there(counted):
    """The invented team is made in peace; back on the first screen it opens at once."""
    press(counted, "Look round")
    press(counted, "Set-up")
    first = counted.app.screen("seasons")
    counted.wait(lambda: not first.making)
    counted.settle()
    assert (counted.screen.name, counted.app.desk.season) == ("setup", None)
    press(counted, "Back")
    press(counted, "Look round")
    assert counted.screen.name == "home"


def test_a_demo_that_cannot_be_made_is_told_and_the_other_ways_stay(drive, read_only_folder, monkeypatch):
    """A sentence on the same screen, no progress left over, and every key can be pressed."""
    driver = drive()
    with read_only_folder() as folder:
        monkeypatch.setattr("evaltrack.touch.seasons.seasons_screen.demo_folder", lambda: folder / "demo")
        driver.app.worker = AtOnce()
        driver.app.screen("seasons").worker = driver.app.worker
        press(driver, "Look round")
        screen = driver.app.screens.current_screen
        assert (screen.name, screen.making) == ("seasons", False)
        assert "cannot be made" in screen.words
    assert len(titles(driver)) == 6


class AtOnce:
    """Does the work here and now, as whoever runs the test."""

    def ask(self, work, done, failed, heard=None):
        from evaltrack.errors import EvaltrackError

        try:
            done(list(work()))
        except EvaltrackError as error:
            failed(str(error))

    def close(self):
        """Nothing runs."""


def test_another_team_is_two_touches_away(drive, season_path, tmp_path):
    """Home, Seasons, the team: and back by the same way. Each is opened with what belongs to it."""
    other = other_team(tmp_path / "other.db")
    driver = Counted(drive(season_path))
    assert driver.app.desk.open(other)
    driver.app.go("home")
    driver.taps = 0
    press(driver, "Seasons")
    press_row(driver, "Kettle Bay")
    assert driver.taps == 2
    assert (driver.screen.name, driver.screen.heading) == ("home", "Kettle Bay Lanterns 12U")
    driver.taps = 0
    press(driver, "Seasons")
    press_row(driver, "Pond")
    assert (driver.taps, driver.screen.heading) == (2, "Pond Kestrels 10U")
    assert load_tablet().season == str(other.resolve())
    assert [known.team for known in recent_seasons()] == ["Pond Kestrels 10U", "Kettle Bay Lanterns 12U"]


def test_a_running_practice_waits_in_its_own_season(drive, season_path, tmp_path):
    """Gone to another team and come back: the board of the practice that runs, with its tally."""
    other = other_team(tmp_path / "other.db")
    driver = Counted(drive(season_path))
    desk = driver.app.desk
    assert desk.begin(date.today(), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    driver.settle()
    tap(driver, 0, Outcome.DONE)
    assert desk.open(other)
    driver.app.go("seasons")
    press_row(driver, "Kettle Bay")
    assert (driver.screen.name, desk.total) == ("board", 1)


def test_a_season_that_was_moved_is_said_to_be_moved(drive, season_path, tmp_path):
    """In the list and when it is pressed; never to make a new one. Brought back, the same row opens it."""
    other = other_team(tmp_path / "other.db")
    driver = Counted(drive(season_path))
    assert driver.app.desk.open(other)
    away = season_path.rename(tmp_path / "elsewhere.db")
    driver.app.go("seasons")
    driver.settle()
    (row,) = [row for row in rows_of(driver) if row.marked]
    assert row.title == "Kettle Bay Lanterns 12U"
    assert "moved, renamed or deleted" in row.small
    press_row(driver, "Kettle Bay")
    assert driver.screen.words.startswith(f"season.db is not in {tmp_path} any more: it was moved")
    assert "new" not in driver.screen.words
    assert driver.app.desk.season.path == other
    press(driver, "Back")
    assert (driver.screen.heading, driver.app.desk.message) == ("Pond Kestrels 10U", "")
    away.rename(season_path)
    press(driver, "Seasons")
    press_row(driver, "Kettle Bay")
    assert driver.screen.heading == "Kettle Bay Lanterns 12U"


def test_the_last_season_moved_is_told_at_the_start(drive, season_path, tmp_path):
    """Home says so and offers to open it again, and the way to other seasons is there."""
    drive(season_path).close()
    season_path.rename(tmp_path / "elsewhere.db")
    driver = Counted(drive())
    assert driver.screen.name == "home"
    assert "it was moved, renamed or deleted" in driver.app.desk.message
    assert "new" not in driver.app.desk.message
    press(driver, "Seasons")
    assert driver.screen.words == driver.app.desk.message
    press(driver, "Open a season file")
    driver.screen.look_in(tmp_path)
    driver.wait(lambda: any(row.title == "elsewhere.db" for row in rows_of(driver)))
    press_row(driver, "elsewhere.db")
    assert (driver.screen.name, driver.screen.heading) == ("home", "Kettle Bay Lanterns 12U")


def test_files_are_found_through_folders_the_newest_first(counted, tmp_path):
    """Up and down through folders with taps; files of other kinds and hidden ones are not shown."""
    folder = tmp_path / "stick" / "seasons"
    folder.mkdir(parents=True)
    for age, name in enumerate(["a.db", "b.DB", "c.db"]):
        new_season(folder / name)
        os.utime(folder / name, (10**9 + age, 10**9 + age))
    for name in ("notes.txt", ".hidden.db", "c.db-wal.txt"):
        (folder / name).touch()
    (folder / "Øre").mkdir()
    press(counted, "Open a season file")
    counted.screen.look_in(tmp_path)
    counted.wait(lambda: any(row.title == "stick" for row in rows_of(counted)))
    for name in ("stick", "seasons"):
        press_row(counted, name)
        counted.wait(lambda name=name: counted.screen.folder.endswith(name))
        counted.settle()
    counted.wait(lambda: len(rows_of(counted)) == 5)
    counted.settle()
    assert [row.title for row in rows_of(counted)] == [
        "Up to the folder above",
        "c.db",
        "b.DB",
        "a.db",
        "Øre",
    ]
    assert rows_of(counted)[1].small == "changed on Sunday 9 September 2001"
    press_row(counted, "Up to")
    counted.wait(lambda: counted.screen.folder.endswith("stick"))
    counted.settle()
    press_row(counted, "seasons")
    counted.wait(lambda: counted.screen.folder.endswith("seasons"))
    counted.settle()
    press_row(counted, "b.DB")
    assert counted.app.desk.season.path.name == "b.DB"


@pytest.mark.parametrize("content", [b"no database", b""])
def test_a_file_that_is_no_season_is_refused_and_one_chooses_again(counted, tmp_path, content):
    """The sentence stands above the list, and no season is in hand."""
    (tmp_path / "film.db").write_bytes(content)
    press(counted, "Open a season file")
    counted.screen.look_in(tmp_path)
    counted.wait(lambda: any(row.title == "film.db" for row in rows_of(counted)))
    press_row(counted, "film.db")
    assert counted.screen.name == "file"
    assert "is not a season file" in counted.screen.words
    assert counted.app.desk.season is None
    press(counted, "Back")
    assert counted.screen.name == "seasons"


def test_a_folder_with_nothing_to_open_says_so(counted, tmp_path):
    """A sentence, and the way up."""
    (tmp_path / "empty").mkdir()
    press(counted, "Open a season file")
    counted.screen.look_in(tmp_path / "empty")
    counted.wait(lambda: len(rows_of(counted)) == 1)
    assert counted.screen.ids.files.words == "No such file is in this folder."


def test_the_latch_keeps_the_seasons_while_one_is_in_hand(drive, season_path):
    """A tablet that goes along the bench leads to no other team without its code."""
    keep_tablet(load_tablet(), latch=seal("2468"))
    driver = Counted(drive(season_path))
    press(driver, "Seasons")
    assert driver.screen.name == "code"


def test_the_latch_does_not_keep_anybody_from_the_first_screen(drive):
    """Without a season there is nothing to keep, and a pad alone would be a riddle; a file needs the code."""
    keep_tablet(load_tablet(), latch=seal("2468"))
    driver = Counted(drive())
    assert driver.screen.name == "seasons"
    press(driver, "Open a season file")
    assert driver.screen.name == "code"
