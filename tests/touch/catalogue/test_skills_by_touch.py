"""The skills of a season by finger: listed, moved, added, changed, retired and back; all of it or nothing."""

from datetime import date

import pytest

from evaltrack.rink.player import Position
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.opening import open_season

LINES = {
    "Name": "Saucer pass",
    "In a few words": "over a stick, flat landing",
    "A try starts when": "The passer lifts the puck.",
    "It is done when": "It lands flat on the blade.",
    "It is missed when": "It rolls or hits the stick.",
    "Not counted is": "Nobody is near.",
    "What a parent sees": "a pass that flies and lands flat",
}
OTHER = "The team-mate has it on the blade."


def tally_some(path, skill="outlet_pass", count=12):
    """Note tries of a skill in an ended practice of the season."""
    with open_season(path) as season:
        player = season.people.players()[0]
        step = ("breakout_attack", "two_on_one", "Ines")
        tallies = [Tally("2026-01-06", player.id, skill, Outcome.DONE, *step) for _ in range(count)]
        season.log.add_many([Practice("2026-01-06", date(2026, 1, 6))], tallies)


def test_every_skill_stands_in_its_order_with_whom_it_is_for_and_its_target(hand, kept):
    """The list is the catalogue as it is, and nothing is retired yet."""
    skills = list(kept().values())
    rows = hand.rows()
    assert list(rows) == [skill.name for skill in skills]
    assert rows["Receive a pass"].words.startswith("defenders and forwards; target 65 %; ")
    assert hand.screen.summary == "16 skills"
    assert "Retired" not in [getattr(widget, "text", "") for widget in hand.of_kind(object)]


def test_a_skill_moves_up_and_down_and_stops_at_the_ends(hand, kept):
    """The order on the screen is that of the file after each touch."""
    first, second, third = list(kept())[:3]
    hand.move("Gap at the line", "Down")
    assert list(kept())[:3] == [first, third, second]
    hand.move("Gap at the line", "Up")
    hand.move("Gap at the line", "Up")
    assert list(kept())[:3] == [second, first, third]
    assert [skill.key for skill in hand.desk.skills.values()] == list(kept())
    assert hand.rows()["Gap at the line"].first
    before = list(kept())
    hand.move("Gap at the line", "Up")
    assert list(kept()) == before


def test_the_list_stays_where_it_is_when_a_skill_moves(hand, kept):
    """So that the same skill can be moved on with the next touch."""
    hand.move("Set before the shot", "Up")
    where = hand.screen.ids.skills.scroll_y
    assert where < 0.5
    hand.driver.settle()
    hand.move("Set before the shot", "Up")
    assert abs(hand.screen.ids.skills.scroll_y - where) < 0.2
    assert list(kept())[-3] == "set_before_shot"


def test_a_skill_is_added_when_every_line_has_what_it_needs(hand, kept):
    """Until then each line says what it lacks; the key is made from the name and shown."""
    hand.press("Add a skill")
    assert hand.line("Name").wrong.startswith("Still empty.")
    assert "Save" not in hand.titles()
    for title, words in LINES.items():
        hand.write(title, words)
    assert "Save" not in hand.titles()
    assert hand.line("Who is watched").wrong == "Choose who is watched."
    hand.write("To try at home", "A ball on grass.\nOver a stick.")
    hand.choose("Forwards")
    hand.choose("Goalies")
    hand.choose("+")
    assert hand.screen.summary == "saucer_pass in files"
    hand.press("Save")
    made = kept()["saucer_pass"]
    assert list(kept())[-1] == made.key
    assert (made.name, made.positions) == ("Saucer pass", (Position.FORWARD, Position.GOALIE))
    assert (made.target, made.definition.done, made.at_home) == (
        *(0.65, LINES["It is done when"]),
        ("A ball on grass.", "Over a stick."),
    )
    assert list(hand.rows())[-1] == "Saucer pass"


def test_what_a_file_would_refuse_the_form_refuses_in_its_line(hand, kept):
    """Too long, a name that another skill has, nobody to watch, a drill that needs it for whom it leaves."""
    before = kept()
    hand.open("Outlet pass")
    hand.write("In a few words", "x" * 49)
    assert hand.line("In a few words").wrong == "It has 49 characters; at most 48 fit."
    hand.write("Name", "Gap up")
    assert "Another skill is called so" in hand.line("Name").wrong
    hand.choose("Defenders")
    assert hand.line("Who is watched").wrong == "Choose who is watched."
    hand.choose("Forwards")
    assert "Breakout and attack, 2 against 1" in hand.line("Who is watched").wrong
    assert "Save" not in hand.titles()
    assert kept() == before


def test_enter_leaves_a_field_of_one_paragraph_and_pasted_lines_become_one(hand):
    """A name has no line ends; only what is to try at home has lines of its own."""
    hand.open("Outlet pass")
    field = hand.line("Name").field
    hand.write("Name", "First pass")
    hand.driver.key(13)
    assert not field.focus
    field.insert_text("\tand\nmore")
    assert field.text.endswith("and more")


def test_back_asks_before_what_was_written_is_lost(hand, kept):
    """A form as it was is left at once; a changed one after a question, and nothing is saved."""
    before = kept()
    hand.open("Outlet pass")
    hand.press("Back")
    hand.open("Outlet pass")
    hand.choose("+")
    hand.press("Back")
    hand.press("Go on writing")
    assert hand.line("Target").target == "70 %"
    hand.driver.key(27)  # Escape goes the same way
    hand.press("Leave it")
    assert hand.screen.name == "skills"
    assert kept() == before


def test_other_words_without_a_try_are_better_words(hand, kept):
    """There is no series that could be mixed, so nothing is asked."""
    hand.open("Outlet pass")
    hand.write("It is done when", OTHER)
    hand.press("Save")
    assert hand.screen.name == "skills"
    assert (kept()["outlet_pass"].definition.done, kept()["outlet_pass"].version) == (OTHER, 1)


@pytest.mark.parametrize(
    ("answer", "version", "tries"), [("The same skill in better words", 1, 12), ("A new series", 2, 0)]
)
def test_other_words_over_tries_ask_what_they_mean(start_skills, season_path, kept, answer, version, tries):
    """Nothing is saved before the answer; better words keep the tries, a new series begins without them."""
    tally_some(season_path)
    hand, before = start_skills(season_path), kept()
    hand.open("Outlet pass")
    hand.write("It is done when", OTHER)
    hand.press("Save")
    assert hand.screen.asking
    assert "12 tries stand under the old ones" in " ".join(w.text for w in hand.screen.ids.body.children[1:])
    assert "Save" not in hand.titles()
    assert kept() == before
    hand.press("Back")
    assert hand.line("It is done when").field.text == OTHER
    hand.press("Save")
    hand.press(answer)
    assert hand.screen.name == "skills"
    skill = kept()["outlet_pass"]
    assert (skill.definition.done, skill.version) == (OTHER, version)
    with open_season(season_path) as season:
        assert season.catalogue_changes.tries()["outlet_pass"] == tries
        assert season.log.count() == 12


def test_retired_and_back_with_its_history(start_skills, season_path, kept):
    """It asks once, goes out of the drills too, stands apart at the end, and comes back as it was."""
    tally_some(season_path)
    hand, skill = start_skills(season_path), kept()["outlet_pass"]
    hand.open("Outlet pass")
    hand.press("Retire")
    hand.press("Keep it")
    hand.press("Retire")
    told = " ".join(getattr(w, "text", "") for w in hand.screen.ids.body.children)
    assert "2 against 1 of Breakout and attack (Breakout D)" in told
    assert "outlet_pass" in kept()
    hand.press("Retire it")
    assert "outlet_pass" not in kept()
    assert hand.screen.summary == "15 skills, 1 retired"
    assert (list(hand.rows())[-1], hand.rows()["Outlet pass"].moves) == ("Outlet pass", False)
    watched = {key for drill in hand.desk.drills for step in drill.steps for key in step.skills}
    assert "outlet_pass" not in watched
    hand.open("Outlet pass")
    hand.press("Bring back")
    assert kept()["outlet_pass"] == skill
    assert list(kept())[-1] == "outlet_pass"
    with open_season(season_path) as season:
        assert season.catalogue_changes.tries() == {"outlet_pass": 12}


def test_a_step_is_never_left_with_nothing_to_watch(hand, kept):
    """The only skill of a step stays until the step has another one."""
    hand.open("Start")
    hand.press("Retire")
    hand.press("Retire it")
    before = kept()
    assert "start" not in before
    hand.open("Stop")
    hand.press("Retire")
    assert hand.desk.message == (
        "On the lines of Stops and starts watches nothing else; give it another skill first."
    )
    assert not hand.screen.asking
    assert kept() == before


def test_a_failed_write_is_told_and_changes_nothing(hand, season_path, kept):
    """The file is gone: the form stays as it is written, and says so; back again, it is saved."""
    hand.open("Outlet pass")
    hand.write("Name", "First pass")
    away = season_path.rename(season_path.with_name("moved.db"))
    hand.press("Save")
    assert "not saved" in hand.desk.message
    assert hand.line("Name").field.text == "First pass"
    assert hand.desk.skills["outlet_pass"].name == "Outlet pass"
    away.rename(season_path)
    hand.press("Save")
    assert kept()["outlet_pass"].name == "First pass"
