"""Practices looked at and put right with real touches: the list, one practice, its tallies.

Cases: 40 tallies of a drill given to another player and back; a skill, an outcome, single tallies; set
aside and brought back; another day; merged; an empty one deleted; the practice that runs; the latch; a file
that another program holds.
"""

import sqlite3
from contextlib import closing
from datetime import date, datetime, timedelta

import pytest
from kivy.core.window import Window
from kivy.metrics import dp
from pressing import keys_of, press

from evaltrack.device.passcode import seal
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.practice import Attendance, Practice, Station
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.rink.tally_correction import Change, correction_of
from evaltrack.store.opening import open_season
from evaltrack.touch.help.first_hint import FirstHint
from evaltrack.touch.widgets.sheet import KeyedLine

DAY = datetime(2026, 1, 13, 18, 5)
KEY = "2026-01-13"


def moment(minutes: float) -> int:
    """Return so many minutes after the practice began, in ms."""
    return int((DAY + timedelta(minutes=minutes)).timestamp() * 1000)


@pytest.fixture
def held_path(season_path):
    """Return a season with one practice of 44 tallies by two observers, and an empty one of the same day."""
    with open_season(season_path) as season:
        players = season.people.players()
        for key in (KEY, f"{KEY}.2"):
            marks = [Attendance(player.id, True, place) for place, player in enumerate(players[:6])]
            station = Station(key, "wall_work", "free", "wall_puck_feet", "Ines", tablet="bench")
            season.practices.begin(Practice(key, DAY.date(), started_at=moment(0)), marks, station)
            season.practices.end(key, moment(60))
        drill = {"drill": "breakout_attack", "step": "two_on_one"}
        wall = {"drill": "wall_work", "step": "free"}
        made = [
            Tally(KEY, players[0].id, "outlet_pass", _outcome(n), **drill, observer="Ines", at=moment(n / 4))
            for n in range(40)
        ]
        made += [
            Tally(
                KEY, players[2].id, "wall_puck_feet", _outcome(n), **wall, observer="Tuomo", at=moment(25 + n)
            )
            for n in range(4)
        ]
        season.log.add_many([], made)
    return season_path


def _outcome(n: int) -> Outcome:
    return Outcome.DONE if n % 3 else Outcome.MISSED


def touch(driver, title: str, small: str | None = None) -> None:
    """Scroll to the one key with this title, and small words where there are several, and tap it."""
    driver.settle()
    found = [k for k in keys_of(driver) if k.title == title and small in (None, k.small)]
    assert len(found) == 1, [(k.title, k.small) for k in keys_of(driver)]
    view = driver.app.screens.current_screen.ids.get("view")
    if view and found[0] in view.walk(restrict=True):
        view.scroll_to(found[0], padding=dp(10), animate=False)
        driver.settle()
    driver.tap(found[0])
    driver.frames(8)
    driver.settle()


def told(driver) -> list[str]:
    """Return every text on the screen in front."""
    screen = driver.app.screens.current_screen
    texts = [widget.text for widget in screen.walk(restrict=True) if getattr(widget, "text", "")]
    return [line for text in texts for line in text.split("\n")]


def chosen(driver) -> list[str]:
    """Return what stands on the keys that are chosen."""
    return [key.title for key in keys_of(driver) if key.active]


def titles(driver) -> list[str]:
    """Return what stands on the keys that can be pressed."""
    return [key.title for key in keys_of(driver)]


@pytest.fixture
def practice(drive, held_path, window):
    """Return a driver with the practice of 44 tallies in front, reached by touches."""
    driver = drive(held_path)
    press(driver, "Practices")
    (key,) = [key for key in keys_of(driver) if "44 tallies" in key.small]
    assert (key.title, key.small) == ("Tuesday 13 January 2026", "6 players, 44 tallies; Ines and Tuomo")
    driver.tap(key)
    driver.frames(8)
    driver.settle()
    return driver


def counts(driver) -> dict:
    """Return how many tallies and dones each player has in each skill, as the season file says."""
    desk, found = driver.app.desk, {}
    for player, skill, *_, tries, done in desk.season.log.cells():
        number = next(p.number for p in desk.players if p.id.bytes == player)
        old = found.get((number, skill), (0, 0))
        found[number, skill] = (old[0] + done, old[1] + tries)
    return found


WAS = {("2", "outlet_pass"): (26, 40), ("8", "wall_puck_feet"): (2, 4)}


def test_one_practice_says_what_was_watched_by_whom_and_who_got_none(practice):
    """In order of time, with the pause; what was noted of each player; who was here and got none."""
    practice.wait(lambda: "No two observers tallied the same tries in it." in told(practice))
    assert told(practice) == [
        "Tuesday 13 January 2026",
        "6 players, 44 tallies",
        "Watched",
        "18:05 to 18:14  Breakout and attack, 2 against 1, Ines: 40 tallies",
        "18:14 to 18:30  nothing noted for 15 minutes",
        "18:30 to 18:33  Wall work, Free, Tuomo: 4 tallies",
        "Players",
        "2 Zoë Łukasik: Outlet pass 26 of 40 done",
        "8 Emeka Duru: Wall puck with the feet 2 of 4 done",
        "Here, and without a tally: 5 Bo Tarnquist, 11 Per Håkansgård, 14 Mina Castellano, 17 Theo Bannerman",
        "Two observers",
        "No two observers tallied the same tries in it.",
    ]
    assert titles(practice) == ["Back", "Put tallies right", "Another day", "Merge", "Set aside", "?"]


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], indirect=True)
def test_forty_tallies_of_a_drill_are_given_to_another_player_and_back(practice):
    """Choose the drill, give it to whoever made it; one touch takes it back: the cells are the same."""
    before = practice.app.desk.season.log.cells()
    assert counts(practice) == WAS
    touch(practice, "Put tallies right")
    assert chosen(practice) == ["All of it", "Everyone", "Every skill"]
    touch(practice, "18:05 to 18:14, Ines")
    assert "40 of 44 tallies chosen" in told(practice)
    assert len(chosen(practice)) == 3 + 40  # no more than that can stand there one by one
    touch(practice, "Another player")
    touch(practice, "5 Bo Tarnquist")
    touch(practice, "Put it right")
    assert practice.app.screens.current == "practice"
    assert counts(practice) == {("5", "outlet_pass"): (26, 40), ("8", "wall_puck_feet"): (2, 4)}
    assert "5 Bo Tarnquist: Outlet pass 26 of 40 done" in told(practice)
    (line,) = [words for words in told(practice) if words.startswith("40 tallies from 2 Zoë Łukasik to 5 Bo")]
    touch(practice, "Take back")
    assert f"{line.split(';')[0]}, taken back;{line.split(';')[1]}" in told(practice)
    assert practice.app.desk.season.log.cells() == before
    touch(practice, "Count again")
    assert counts(practice)["5", "outlet_pass"] == (26, 40)


def test_a_single_tally_is_chosen_among_those_of_a_player(practice):
    """The first touch leaves only it, further ones take others in or out."""
    touch(practice, "Put tallies right")
    assert "One by one: choose less, and each tally stands here" in told(practice)
    touch(practice, "8 Emeka Duru")
    assert "4 of 44 tallies chosen" in told(practice)
    single = [(clock, "8 Wall puck with the feet") for clock in (
        "18:30:00 missed", "18:31:00 done", "18:32:00 done", "18:33:00 missed"
    )]  # fmt: skip
    assert [(key.title, key.small) for key in keys_of(practice) if key.title[0] == "1"] == [
        ("18:05 to 18:14, Ines", "Breakout and attack, 2 against 1, 40"),
        ("18:30 to 18:33, Tuomo", "Wall work, Free, 4"),
        *single,
    ]
    assert chosen(practice) == ["All of it", "8 Emeka Duru", "Every skill", *dict(single)]
    assert [line for line in told(practice) if "one by one" in line.lower()] == [
        "One by one: tap one to choose it alone, and more to add them"
    ]
    touch(practice, "Wall puck with the feet")
    assert "Wall puck with the feet" in chosen(practice)
    touch(practice, "Outlet pass")
    assert "0 of 44 tallies chosen" in told(practice)
    touch(practice, "Every skill")
    touch(practice, "Everyone")
    assert "44 of 44 tallies chosen" in told(practice)
    touch(practice, "8 Emeka Duru")
    touch(practice, "18:30:00 missed")
    assert "1 of 44 tallies chosen" in told(practice)
    touch(practice, "18:33:00 missed")
    assert "2 of 44 tallies chosen" in told(practice)
    assert chosen(practice)[-2:] == ["18:30:00 missed", "18:33:00 missed"]
    touch(practice, "Outcome")
    touch(practice, "done")
    touch(practice, "Put it right")
    assert counts(practice)["8", "wall_puck_feet"] == (4, 4)


def test_a_span_of_time_is_chosen_minute_by_minute(practice):
    """Both ends move, and what lies between them is chosen."""
    touch(practice, "Put tallies right")
    touch(practice, "A minute later", "from 18:05")
    assert "40 of 44 tallies chosen" in told(practice)
    for clock in ("18:33", "18:32", "18:31"):
        touch(practice, "A minute earlier", f"until {clock}")
    assert "37 of 44 tallies chosen" in told(practice)
    touch(practice, "Set aside")
    touch(practice, "Put it right")
    assert counts(practice) == {("2", "outlet_pass"): (2, 4), ("8", "wall_puck_feet"): (2, 3)}


def test_the_only_tally_that_is_chosen_is_left_out_by_a_touch(practice):
    """And taken in by the next: there are no others to be left out for it; a minute too far is taken back."""
    touch(practice, "Put tallies right")
    touch(practice, "18:30 to 18:33, Tuomo")
    for clock in ("18:33", "18:32", "18:31"):
        touch(practice, "A minute earlier", f"until {clock}")
    touch(practice, "A minute later", "from 18:05")
    touch(practice, "A minute earlier", "from 18:06")
    assert "1 of 44 tallies chosen" in told(practice)
    touch(practice, "18:30:00 missed")
    assert "0 of 44 tallies chosen" in told(practice)
    touch(practice, "18:30:00 missed")
    assert "1 of 44 tallies chosen" in told(practice)


@pytest.mark.parametrize(("key", "value", "said"), [
    ("Skill", "Gap up", "4 tallies of 8 Emeka Duru from Puck off the wall to Gap up"),
    ("Step", "Under pressure", "4 tallies of 8 Emeka Duru from Wall work, Free to Wall work, Under pressure"),
    ("Pressure", "under pressure", "4 tallies of 8 Emeka Duru from pressure not noted to under pressure"),
    ("Outcome", "unseen", "4 tallies of 8 Emeka Duru from missed or done to unseen"),
])  # fmt: skip
def test_each_thing_about_a_tally_can_be_put_right(practice, key, value, said):
    """Skill, step, pressure and outcome; said in words, and taken back by one touch."""
    desk = practice.app.desk
    before = desk.season.log.tallies(KEY)
    skills = {skill.key: skill.name for skill in desk.skills.values()}
    steps = {step.key: step.name for drill in desk.drills for step in drill.steps}
    value = steps["pressured"] if key == "Step" else value
    touch(practice, "Put tallies right")
    touch(practice, "8 Emeka Duru")
    touch(practice, key)
    asked = {"Skill": "Which skill was it?", "Step": "In which step was it?", "Outcome": "What came of them?"}
    assert asked.get(key, "Was there pressure?") in told(practice)
    if key == "Step":
        offered = [(key.title, key.small) for key in keys_of(practice)[1:-1]]
        assert offered == [(step.name, drill.name) for drill in desk.drills for step in drill.steps]
    if key == "Outcome":
        assert titles(practice)[1:-1] == ["done", "missed", "unseen"]
    touch(practice, value)
    touch(practice, "Put it right")
    said = said.replace("Puck off the wall", skills["wall_puck_feet"]).replace(
        "Under pressure", steps["pressured"]
    )
    assert [line for line in told(practice) if line.startswith(said)], told(practice)
    assert desk.season.log.tallies(KEY) != before
    touch(practice, "Take back")
    assert desk.season.log.tallies(KEY) == before


def test_back_leaves_the_question_and_then_the_choice(practice):
    """Nothing is written on the way."""
    changed = practice.app.desk.changed
    touch(practice, "Put tallies right")
    touch(practice, "Another player")
    assert "Whose were they?" in told(practice)
    touch(practice, "Back")
    assert "Which tallies?" in told(practice)
    touch(practice, "Back")
    assert practice.app.screens.current == "practice"
    touch(practice, "Another day")
    touch(practice, "Back")
    assert "Watched" in told(practice)
    touch(practice, "Back")
    assert practice.app.screens.current == "practices"
    assert practice.app.desk.changed == changed


def test_what_would_change_is_said_in_counts_before_anything_is_put_right(practice):
    """Whose counts change and how; left as it is, nothing is written and the choice stands as before."""
    changed = practice.app.desk.changed
    touch(practice, "Put tallies right")
    touch(practice, "18:05 to 18:14, Ines")
    touch(practice, "Another player")
    touch(practice, "8 Emeka Duru")
    words = told(practice)
    for line in (
        "This moves 40 tallies from 2 Zoë Łukasik to 8 Emeka Duru.",
        "2 Zoë Łukasik, Outlet pass: 26 of 40 done, then none",
        "8 Emeka Duru, Outlet pass: none, then 26 of 40 done",
    ):
        assert line in words, words
    touch(practice, "Leave it")
    assert "40 of 44 tallies chosen" in told(practice)
    touch(practice, "Pressure")
    touch(practice, "under pressure")
    assert "The counts by player and skill stay as they are." in told(practice)
    touch(practice, "Back")
    touch(practice, "Set aside")
    assert "This sets 40 tallies aside." in told(practice)
    assert practice.app.desk.changed == changed
    assert counts(practice) == WAS


def test_whoever_is_given_a_tally_was_there_and_no_longer_when_it_is_taken_back(practice):
    """The player of the day who had not been noted as here; the other one was noted, and stays."""
    desk = practice.app.desk
    there = desk.season.turnout.there(KEY)[KEY]
    absent = next(player for player in desk.players if player.id not in there)
    touch(practice, "Put tallies right")
    touch(practice, "18:05 to 18:14, Ines")
    touch(practice, "Another player")
    touch(practice, f"{absent.number} {absent.name}")
    touch(practice, "Put it right")
    assert "7 players, 44 tallies" in told(practice)
    assert [line for line in told(practice) if line.startswith("Here, and without a tally: 2 Zoë Łukasik")]
    touch(practice, "Take back")
    assert "6 players, 44 tallies" in told(practice)
    assert desk.season.turnout.there(KEY)[KEY] == there


def test_the_end_of_the_time_never_comes_before_its_beginning(practice):
    """Else the time would be read as one over midnight, and nearly every tally would be chosen."""
    touch(practice, "Put tallies right")
    for _ in range(30):
        touch(practice, "A minute earlier", next(k.small for k in keys_of(practice) if "until" in k.small))
    assert "From 18:05 until 18:05" in told(practice)
    assert "4 of 44 tallies chosen" in told(practice)


def test_what_is_so_already_is_said_and_changes_nothing(practice):
    """The question stays, with the sentence above it."""
    touch(practice, "Put tallies right")
    touch(practice, "8 Emeka Duru")
    touch(practice, "Another player")
    touch(practice, "8 Emeka Duru")
    assert "the chosen tallies are so already: nothing was changed" in told(practice)
    assert practice.app.desk.season.tally_corrections.all() == []


def test_without_a_practice_nobody_is_told_to_tap_one(drive, season_path):
    """The line for whoever is new stands there only when there is something to tap."""
    driver = drive(season_path)
    driver.app.go("practices")
    driver.settle()
    screen = driver.app.screens.current_screen
    assert [part.shown for part in screen.walk(restrict=True) if isinstance(part, FirstHint)] == [False]


def test_a_practice_is_set_aside_and_brought_back(practice):
    """One touch each, and it stands in the list of what was put right, the last of them to be taken back."""
    touch(practice, "Set aside")
    assert counts(practice) == {}
    assert "set aside, counts for nothing; 6 players, 44 tallies" in told(practice)
    assert "Bring back" in titles(practice)
    press(practice, "Back")
    assert "1 practice, and 1 set aside" in told(practice)
    second, first = [key for key in keys_of(practice) if "January" in key.title]
    assert (second.title, second.small) == (
        "Tuesday 13 January 2026, second practice",
        "6 players, 0 tallies",
    )
    assert first.small == "set aside; 6 players, 44 tallies; Ines and Tuomo"
    practice.tap(second)
    practice.settle()
    assert "Merge" not in titles(practice)  # one that counts for nothing is no other half
    press(practice, "Back")
    touch(practice, "Tuesday 13 January 2026")
    touch(practice, "Take back")
    assert counts(practice) == WAS
    assert "Bring back" not in titles(practice)
    assert titles(practice).count("Take back") == 1
    assert "6 players, 44 tallies" in told(practice)


def test_a_practice_was_held_on_another_day(practice):
    """A day is chosen as at the start; one that has not come is refused; one touch takes it back."""
    touch(practice, "Another day")
    touch(practice, "A week earlier")
    touch(practice, "It was Tuesday 6 January 2026")
    desk = practice.app.desk
    held = {one.key: one.held_on for one in desk.season.practices.all()}
    assert held[KEY] == date(2026, 1, 6)
    assert told(practice)[0] == "Tuesday 6 January 2026"
    screen = practice.app.screens.current_screen
    screen._redate(date.today() + timedelta(1))
    assert "has not come yet" in desk.message
    assert {one.held_on for one in desk.season.practices.all()} == {date(2026, 1, 6), DAY.date()}
    touch(practice, "Take back")
    assert {one.held_on for one in desk.season.practices.all()} == {DAY.date()}


def test_what_was_put_right_last_stands_first(practice):
    """Of the practice as a whole: held on another day, then set aside."""
    touch(practice, "Another day")
    touch(practice, "A week earlier")
    touch(practice, "It was Tuesday 6 January 2026")
    touch(practice, "Set aside")
    screen = practice.app.screens.current_screen
    lines = [one.words for one in reversed(screen.ids.body.children) if isinstance(one, KeyedLine)]
    assert ["set aside" in words for words in lines] == [True, False]


def test_the_day_that_it_was_held_on_changes_nothing(practice):
    """The question goes, and the practice stands there again with all its keys."""
    before = titles(practice)
    touch(practice, "Another day")
    touch(practice, "It was Tuesday 13 January 2026")
    assert titles(practice) == before
    assert "Take back" not in before


def test_a_practice_is_merged_with_the_other_of_its_day(practice):
    """Its tallies are the other one's; one touch parts them again."""
    (merge,) = [key for key in keys_of(practice) if key.title == "Merge"]
    assert merge.small == "with the second one"
    touch(practice, "Merge")
    log = practice.app.desk.season.log
    assert log.counts() == {f"{KEY}.2": 44}
    touch(practice, "Take back")
    assert log.counts() == {KEY: 44}


def test_a_comment_is_typed_and_kept(practice):
    """It is on disk when the field or the screen is left, and stands there again."""
    comments = practice.app.desk.season.comments
    practice.tap(practice.app.screens.current_screen.ids.comment)
    Window.dispatch("on_textinput", " Soft  ice ")
    practice.key(13)
    assert comments.all() == {KEY: "Soft ice"}
    press(practice, "Back")
    touch(practice, "Tuesday 13 January 2026, second practice")
    field = practice.app.screens.current_screen.ids.comment
    assert field.text == ""
    practice.tap(field)
    Window.dispatch("on_textinput", "Begun by mistake")
    press(practice, "Back")
    assert comments.all() == {KEY: "Soft ice", f"{KEY}.2": "Begun by mistake"}
    touch(practice, "Tuesday 13 January 2026")
    assert practice.app.screens.current_screen.ids.comment.text == "Soft ice"


def test_a_comment_that_is_still_being_typed_is_kept_when_the_app_ends(practice):
    """Nobody need leave the field first."""
    path = practice.app.desk.season.path
    practice.tap(practice.app.screens.current_screen.ids.comment)
    Window.dispatch("on_textinput", "Soft ice")
    practice.close()
    with open_season(path) as season:
        assert season.comments.all() == {KEY: "Soft ice"}


def test_an_empty_practice_is_deleted_after_a_question_and_no_other(practice):
    """One with tallies offers no such key."""
    assert "Delete" not in titles(practice)
    touch(practice, "Back")
    touch(practice, "Tuesday 13 January 2026, second practice")
    touch(practice, "Delete")
    touch(practice, "Keep it")
    touch(practice, "Delete")
    touch(practice, "Delete the practice")
    assert practice.app.screens.current == "practices"
    assert [one.key for one in practice.app.desk.season.practices.every()] == [KEY]
    assert len([t for t in titles(practice) if "January" in t]) == 1


def test_the_board_follows_what_was_put_right_in_the_practice_that_runs(start_bench, season_path):
    """Counts on the tiles and undo are of what stands; the day is left alone while it runs."""
    driver = start_bench(season_path)
    desk = driver.app.desk
    one, other = desk.players[0].id, desk.players[1].id
    for _ in range(3):
        assert desk.tally(one, Outcome.DONE)
    driver.app.go("home")
    press(driver, "Practices")
    (key,) = [key for key in keys_of(driver) if "January" in key.title]
    assert key.small.startswith("runs; ")
    touch(driver, "Tuesday 20 January 2026")
    assert "Two observers" not in told(driver)
    assert not {"Another day", "Set aside", "Delete"} & set(titles(driver))
    touch(driver, "Put tallies right")
    touch(driver, "Another player")
    touch(driver, "5 Bo Tarnquist")
    touch(driver, "Put it right")
    assert (desk.count(one, Outcome.DONE), desk.count(other, Outcome.DONE)) == (0, 3)
    driver.app.go("board")
    driver.settle()
    taken = desk.undo()
    assert taken.player == other
    assert (desk.total, desk.count(other, Outcome.DONE)) == (2, 2)


def test_what_is_not_saved_is_said_and_nothing_changes(practice, held_path):
    """A file that another program holds: the sentence of the desk, and the tallies as they were."""
    touch(practice, "Put tallies right")
    with closing(sqlite3.connect(held_path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        touch(practice, "Set aside")
        touch(practice, "Put it right")
        assert [line for line in told(practice) if line.startswith("not saved: another program")]
    assert counts(practice) == WAS
    touch(practice, "Put it right")
    assert counts(practice) == {}


def elsewhere(path, write) -> None:
    """Let a command change the same season while the app has it open."""
    with open_season(path) as season:
        write(season)


def give(season, number: str) -> None:
    """Give all tallies of the practice that are 2's to somebody else."""
    player = next(one for one in season.people.players() if one.number == number)
    stands = [one for one in season.log.stands(KEY) if one.tally.skill == "outlet_pass"]
    season.tally_corrections.add(correction_of(stands, Change.PLAYER, player.id, KEY))


def test_tallies_that_were_put_right_meanwhile_are_not_put_right_unseen(practice, held_path):
    """What was chosen stands otherwise by now: nothing is written, the list is new, and that is said."""
    touch(practice, "Put tallies right")
    touch(practice, "2 Zoë Łukasik")
    touch(practice, "Set aside")
    elsewhere(held_path, lambda season: give(season, "5"))
    touch(practice, "Put it right")
    assert practice.app.screens.current == "tallies"
    assert [line for line in told(practice) if "put right meanwhile" in line]
    assert counts(practice) == {("5", "outlet_pass"): (26, 40), ("8", "wall_puck_feet"): (2, 4)}
    touch(practice, "5 Bo Tarnquist")
    assert "40 of 44 tallies chosen" in told(practice)
    touch(practice, "Set aside")
    touch(practice, "Put it right")
    assert counts(practice) == {("8", "wall_puck_feet"): (2, 4)}


@pytest.mark.parametrize("how", ["from the list", "while it is looked at"])
def test_a_practice_that_was_deleted_meanwhile_leads_back_to_the_list(practice, held_path, how):
    """No screen shows another practice in its place, and it is said."""
    second, gone = "Tuesday 13 January 2026, second practice", f"{KEY}.2"
    touch(practice, "Back")
    if how == "from the list":
        elsewhere(held_path, lambda season: season.corrections.delete(gone))
        touch(practice, second)
    else:
        touch(practice, second)
        elsewhere(held_path, lambda season: season.corrections.delete(gone))
        touch(practice, "Set aside")
    practice.settle()
    assert practice.app.screens.current == "practices"
    assert [line for line in told(practice) if "not there any more" in line]
    assert second not in titles(practice)


def test_the_screens_need_the_code_while_the_tablet_is_latched(drive, held_path):
    """As all that is not the bench."""
    keep_tablet(load_tablet(), latch=seal("2468"))
    driver = drive(held_path)
    press(driver, "Practices")
    assert driver.app.screens.current == "code"
    press(driver, "Back")
    assert driver.app.screens.current == "home"
