"""A stretch of a continuous drill on each board, with unsteady fingers, against the season file."""

import random

import pytest
from played_drill import Drill

BOARDS = ("group", "rep", "player")


@pytest.mark.parametrize("kind", BOARDS)
def test_the_file_holds_what_the_screen_said_under_each_finger(tmp_path, faults, kind):
    """Two minutes at 20 tries a minute: strays, two fingers, mistakes, undos; each tally once, in order."""
    drill = Drill(tmp_path, kind, random.Random(7), spread=5, slips=0.1)
    account = drill.play(20, 2)
    assert account.undone > 0
    assert drill.kept() == account.said
    assert [fault.getMessage() for fault in faults] == []


@pytest.mark.parametrize("kind", BOARDS)
def test_a_tally_is_one_touch_when_the_line_is_right(tmp_path, kind):
    """With a finger that never strays no touch is spent on anything but tallies, on each board."""
    drill = Drill(tmp_path, kind, random.Random(3), spread=0.01, slips=0)
    account = drill.play(20, 1.5)
    assert account.touches == account.tries == len(drill.kept()) > 20


def test_a_wrong_line_costs_two_touches_and_three_where_it_begins_a_rep(tmp_path):
    """Somebody goes whose turn it is not, in every second rep: tap the slot, tap the player."""
    drill = Drill(tmp_path, "rep", random.Random(5), spread=0.01, slips=0, wrong_line=0.5)
    account = drill.play(20, 3)
    assert drill.kept() == account.said
    assert account.corrected > 3
    assert 2 * account.corrected <= account.others <= 3 * account.corrected


def test_tallies_that_a_correction_gives_to_another_player_are_those_that_the_bar_names(tmp_path, faults):
    """Unsteady fingers in a line that is often wrong: slots are put right after taps, and no try is lost."""
    drill = Drill(tmp_path, "rep", random.Random(8), spread=6, slips=0.1, wrong_line=0.5)
    account = drill.play(20, 4)
    assert account.given > 1
    assert drill.kept() == account.said
    assert [fault.getMessage() for fault in faults] == []
