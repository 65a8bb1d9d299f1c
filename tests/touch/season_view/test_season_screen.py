"""The season as a whole by real touches: its sections, what it shows when there is little, its pictures.

Cases: a whole season, in landscape and portrait; no practice; one practice by one observer; sixty practices;
a practice without a try; what was tallied meanwhile; another season; the latch; pictures of every section in
both forms, where they lie and who may read them; a folder that cannot be made; a player's charts without
another child's name.
"""

import stat
from datetime import date, datetime, timedelta

import pytest
from pressing import keys_of, press
from seasons_for_touch import demo_season

from evaltrack.device.passcode import seal
from evaltrack.device.season_places import pictures_folder
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.opening import open_season
from evaltrack.touch.season_view.attendance import Attendance
from evaltrack.touch.season_view.tallies import Tallies
from evaltrack.touch.season_view.team_card import TeamCard
from evaltrack.touch.season_view.tracks import TrackList

SECTIONS = ("The team", "Targets", "Steps and pressure", "Attendance", "Tallies")


@pytest.fixture(scope="module")
def demo_path(tmp_path_factory):
    """Return a whole season, that of the invented team, for all tests that change nothing in it."""
    return demo_season(tmp_path_factory.mktemp("season") / "season.db")


def tallied(path, days: int, observers=("Ines",), outcome=Outcome.DONE):
    """Add practices twice a week to a season, with a tally of each of six players by each observer."""
    with open_season(path) as season:
        players, practices, made = season.people.players()[:6], [], []
        for number in range(days):
            day = date(2025, 9, 2) + timedelta(days=3 * number)
            practices.append(Practice(day.isoformat(), day))
            at = int(datetime(day.year, day.month, day.day, 18).timestamp() * 1000)
            made += [
                Tally(day.isoformat(), player.id, "stop", outcome, drill="stops_starts", step="on_lines",
                      observer=name, at=at + n)
                for name in observers for n, player in enumerate(players)
            ]  # fmt: skip
        season.log.add_many(practices, made)
    return path


def opened(drive, path, wait=lambda screen: screen.legend):
    """Start the app on a season, go to its whole by touch, and wait until it is there."""
    driver = drive(path)
    press(driver, "Season")
    screen = driver.app.screens.current_screen
    driver.wait(lambda: wait(screen))
    driver.settle()
    return driver, screen


def shown(screen, kind) -> list:
    """Return the widgets of a kind on the screen."""
    return [widget for widget in screen.walk(restrict=True) if isinstance(widget, kind)]


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], indirect=True)
def test_every_section_is_reached_by_a_touch(drive, demo_path, window):
    """One at a time; players by number, skills as in the catalogue; nothing wider than the screen."""
    driver, screen = opened(drive, demo_path)
    assert screen.summary == "24 practices, 9 September 2025 to 13 January 2026; 5,506 tallies"
    assert [key.title for key in keys_of(driver) if key.active] == ["The team"]
    cards = shown(screen, TeamCard)
    names = [screen.desk.skills[key].name for key in screen.desk.skills]
    assert [card.name for card in cards] == [name for name in names if name in {c.name for c in cards}]
    for title in SECTIONS[1:]:
        press(driver, title)
        assert [key.title for key in keys_of(driver) if key.active] == [title]
        assert not shown(screen, TeamCard)
        (widget,) = shown(screen, (TrackList, Attendance, Tallies))
        assert widget.height > 200
        assert 0 < widget.x < widget.right < screen.width
    press(driver, "Attendance")
    (attendance,) = shown(screen, Attendance)
    numbers = [player.number for player in attendance.view.players]
    assert numbers == [player.number for player in screen.desk.players]
    press(driver, "Back")
    assert driver.app.screens.current == "home"


def test_a_season_without_a_practice_says_what_will_stand_here(drive, season_path):
    """In every section, and there is no picture to save."""
    driver, screen = opened(drive, season_path, lambda screen: "no practice" in screen.empty)
    for title in SECTIONS:
        press(driver, title)
        assert (
            screen.empty
            == "There is no practice in this season yet. What is tallied at the bench is told here."
        )
        assert "Save as picture" not in [key.title for key in keys_of(driver)]


def test_of_one_practice_there_are_counts_and_no_share(drive, season_path):
    """The card says why; there is one panel for the one observer."""
    driver, screen = opened(drive, tallied(season_path, 1))
    assert screen.summary == "1 practice, 2 September 2025; 6 tallies"
    (card,) = shown(screen, TeamCard)
    assert (card.course.path, "watched too little" in card.course.doubt) == ((), True)
    for title in SECTIONS[1:3]:
        press(driver, title)
        (tracks,) = shown(screen, TrackList)
        assert [(track.words, track.drawn) for track in tracks.groups[0].tracks] == [
            (card.course.doubt, False)
        ]
    press(driver, "Tallies")
    (tallies,) = shown(screen, Tallies)
    assert tallies.panels == [("Ines", [6])]
    press(driver, "The team")
    press(driver, "Save as picture")
    driver.wait(lambda: not screen.saving)
    assert screen.told == "There is no chart to save here yet: the tries are too few."


def test_tallies_without_a_try_are_counted_and_say_nothing_of_the_team(drive, season_path):
    """Unseen is no try: attendance and tallies are shown, the rest says why not."""
    driver, screen = opened(
        drive, tallied(season_path, 2, outcome=Outcome.UNSEEN), lambda s: "No try" in s.empty
    )
    assert screen.empty == "No try was tallied yet, so nothing can be said of the team."
    press(driver, "Tallies")
    assert shown(screen, Tallies)[0].panels == [("Ines", [6, 6])]
    press(driver, "Attendance")
    assert screen.empty == ""


@pytest.mark.parametrize("window", [(800, 1280)], indirect=True)
def test_sixty_practices_fit_the_width(drive, season_path, window):
    """Each has its column in portrait too, and its cells do not run into the next one's."""
    driver, screen = opened(drive, tallied(season_path, 60, ("Ines", "Tuomo")))
    press(driver, "Attendance")
    (attendance,) = shown(screen, Attendance)
    lefts, sides = zip(
        *((box[0], box[2]) for box in (attendance._cell(0, n) for n in range(60))), strict=True
    )
    assert all(left + side < after for left, side, after in zip(lefts, sides, lefts[1:], strict=False))
    assert sides[0] >= 5
    assert lefts[-1] + sides[-1] < attendance.right
    press(driver, "Tallies")
    assert [name for name, _ in shown(screen, Tallies)[0].panels] == ["All observers", "Ines", "Tuomo"]


def test_what_was_tallied_meanwhile_is_there_when_it_is_opened_again(drive, season_path):
    """And nothing is worked out anew when nothing has changed."""
    driver, screen = opened(drive, tallied(season_path, 3))
    before = shown(screen, TeamCard)
    press(driver, "Back")
    press(driver, "Season")
    driver.frames(5)
    assert shown(screen, TeamCard) == before
    press(driver, "Back")
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "stops_starts", "on_lines", "Ines")
    assert desk.watch(skill="stop") is not False
    assert desk.tally(desk.players[0].id, Outcome.DONE)
    driver.app.go("season")
    driver.wait(lambda: "4 practices" in screen.summary)
    assert "19 tallies" in screen.summary


def test_another_season_is_not_mixed_with_the_one_before(drive, season_path, demo_path):
    """Its own figures stand there, and none of the other's while they are worked out."""
    driver, screen = opened(drive, tallied(season_path, 3))
    press(driver, "Back")
    assert driver.app.desk.open(demo_path)
    assert (screen.summary, shown(screen, TeamCard)) == ("", [])
    driver.app.go("season")
    driver.wait(lambda: "24 practices" in screen.summary)


@pytest.mark.parametrize("form", ["png", "svg"])
def test_what_a_section_shows_is_saved_as_a_picture_by_one_touch(
    drive, season_path, tmp_path, monkeypatch, form
):
    """Where its owner finds it and nobody else reads it; the screen says where."""
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "home"))
    driver, screen = opened(drive, tallied(season_path, 3, ("Ines", "Tuomo")))
    if form == "svg":
        press(driver, "PNG")
        assert "SVG" in [key.title for key in keys_of(driver)]
    for title, names in {
        "The team": ["team-stop"], "Targets": [], "Steps and pressure": [],
        "Attendance": ["attendance"], "Tallies": ["tallies"],
    }.items():  # fmt: skip
        press(driver, title)
        press(driver, "Save as picture")
        driver.wait(lambda: not screen.saving)
        if not names:
            assert screen.told == "There is no chart to save here yet: the tries are too few."
            continue
        path = pictures_folder(season_path) / f"{names[0]}-2025-09-08.{form}"
        assert screen.told == f"Saved: {path}."
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
        assert path.read_bytes().startswith(b"\x89PNG" if form == "png" else b"<?xml")


def test_a_picture_that_cannot_be_saved_is_said(drive, season_path, tmp_path, monkeypatch):
    """A file has the name of the folder."""
    (tmp_path / "home").mkdir()
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "home"))
    (tmp_path / "home" / "seasons").write_text("in the way")
    driver, screen = opened(drive, tallied(season_path, 3))
    press(driver, "Save as picture")
    driver.wait(lambda: not screen.saving)
    assert screen.told.startswith("No picture was saved: the folder ")


def test_a_players_charts_are_saved_from_their_page_and_name_nobody_else(
    drive, season_path, tmp_path, monkeypatch
):
    """A picture of the one skill with enough tries; its title and its description are words in the file."""
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "home"))
    driver = drive(tallied(season_path, 5, ("Ines", "Tuomo")))
    driver.app.go("team")
    driver.wait(lambda: driver.app.review.state == "ready")
    player, *others = driver.app.desk.players
    driver.app._to_player(None, player.number)
    driver.settle()
    screen = driver.app.screens.current_screen
    press(driver, "PNG")
    press(driver, "Save as picture")
    driver.wait(lambda: not screen.writing)
    (saved,) = pictures_folder(season_path).iterdir()
    assert screen.told == f"Saved: {saved}."
    text = saved.read_text("utf-8")
    assert f'<title id="title">{player.number} {player.name}: Stop</title>' in text
    assert '<desc id="desc">Stop: done in 10 of 10' in text
    assert not [one.name for one in others if one.name in text]


def test_the_season_needs_the_code_while_the_tablet_is_latched(drive, season_path):
    """As all that is not the bench."""
    keep_tablet(load_tablet(), latch=seal("2468"))
    driver = drive(season_path)
    press(driver, "Season")
    assert driver.app.screens.current == "code"
