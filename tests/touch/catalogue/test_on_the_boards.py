"""What is changed of the skills while a practice runs is on its boards at once; nothing is taken from it."""

import pytest
from pressing import keys_of

from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season
from evaltrack.touch.widgets.button import TapButton

_PAGES = 3  # of chips on the group's board, for the shipped skills and one more


@pytest.fixture
def hand(bench, hand_on):
    """Return a hand on the skills, with a practice that runs."""
    return hand_on(bench)


def chips(hand):
    """Return the names on the chips of every page of the group's board."""
    hand.driver.app.go("board")
    hand.driver.app.screens.get_screen("board").choose("group")
    hand.driver.settle()
    row, names = hand.screen.ids.skills, []
    for _ in range(_PAGES):
        names += [chip.title for chip in row.children[::-1] if chip.title != "more"]
        (more,) = [key for key in keys_of(hand.driver) if key.title == "more"]
        hand.driver.tap(more)
        hand.driver.settle()
    return names


def test_a_new_name_is_on_the_chips_and_in_the_head(hand):
    """The skill that is watched has its new name on every board, and goes on being watched."""
    name, key = "First pass out", hand.desk.station.skill
    assert hand.desk.skills[key].name == chips(hand)[0] == "Outlet pass"
    hand.to_skills()
    hand.open("Outlet pass")
    hand.write("Name", name)
    hand.press("Save")
    assert chips(hand)[0] == name
    assert hand.screen.words[0].startswith(name)
    assert hand.desk.station.skill == key
    for kind in ("rep", "player"):
        hand.screen.choose(kind)
        hand.driver.settle()
        assert name in {face.name for face in hand.screen.ids.board.faces if face}


def test_an_added_skill_can_be_tallied_at_once(hand, season_path):
    """It has a chip; a tally of it counts under its first definition."""
    made = hand.desk.skills["stop"]
    hand.press("Add a skill")
    for title, words in (("Name", "Saucer"), ("In a few words", "over"), ("What a parent sees", "it flies")):
        hand.write(title, words)
    for title in ("A try starts when", "It is done when", "It is missed when", "Not counted is"):
        hand.write(title, "Said.")
    hand.choose("Defenders")
    hand.press("Save")
    assert "Saucer" in chips(hand)
    hand.desk.watch(skill="saucer")
    hand.driver.settle()
    assert hand.screen.words[0].startswith("Saucer")
    tally = hand.desk.tally(hand.desk.here()[0].id, Outcome.DONE)
    assert (tally.skill, tally.skill_version) == ("saucer", 1)
    with open_season(season_path) as season:
        assert season.catalogue_changes.tries() == {"saucer": 1}
    assert hand.desk.skills["stop"] == made


def test_a_new_series_in_mid_practice_takes_the_next_tally(hand, season_path):
    """What was tallied before stays under the old words; the board counts both, the season the new ones."""
    player = hand.desk.here()[0].id
    hand.desk.tally(player, Outcome.DONE)
    hand.open("Outlet pass")
    hand.write("It is done when", "It lies on the blade.")
    hand.press("Save")
    hand.press("A new series")
    assert hand.desk.tally(player, Outcome.DONE).skill_version == 2
    assert hand.desk.count(player, Outcome.DONE) == 2
    with open_season(season_path) as season:
        assert season.catalogue_changes.tries() == {"outlet_pass": 1}


def test_nothing_is_retired_while_a_practice_runs(hand):
    """The key says why; and where another tablet's practice begins meanwhile, the store refuses in words."""
    hand.open("Outlet pass")
    (key,) = [key for key in hand.of_kind(TapButton) if key.title == "Retire"]
    assert (key.disabled, key.small) == (True, "end the practice first")
    before = list(hand.desk.skills)
    hand.screen.ask_to_retire()
    hand.driver.settle()
    hand.press("Retire it")
    assert "is not ended; end it first" in hand.desk.message
    assert list(hand.desk.skills) == before
    assert hand.screen.name == "skill_form"


def test_undo_still_names_a_skill_that_was_retired_between_two_drills(hand):
    """A practice that was ended goes on: its last tally is of a skill that is not in use any more."""
    desk = hand.desk
    desk.tally(desk.here()[0].id, Outcome.DONE, skill="escape_turn")
    practice = desk.practice
    assert desk.end()
    hand.to_skills()
    hand.open("Escape turn")
    hand.press("Retire")
    hand.press("Retire it")
    assert desk.begin(practice.held_on, desk.players, "breakout_attack", "two_on_one", "Ines")
    hand.driver.app.go("board")
    hand.driver.settle()
    assert "Escape turn" in hand.screen.undoes
    assert desk.undo().skill == "escape_turn"
