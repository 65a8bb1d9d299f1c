"""What is said of targets, of whom a skill is for, and of where it is watched."""

import pytest

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.places import sample_roster
from evaltrack.rink.catalogue_fit import watched_in
from evaltrack.words.catalogue import for_whom, places, target_words

SKILLS = {skill.key: skill for skill in read_skills(sample_roster() / "skills.toml")}
DRILLS = read_drills(sample_roster() / "drills.toml", SKILLS.values())


@pytest.mark.parametrize(
    ("now", "then", "below", "words"),
    [
        (0.65, 0.7, (6, 9, 20), "With 70 %, three more below it: 9 of 20 players."),
        (0.65, 0.5, (6, 5, 20), "With 50 %, one fewer below it: 5 of 20 players."),
        (0.65, 0.7, (6, 6, 7), "With 70 %, as many below it as now: 6 of 7 players."),
        (0.65, 0.9, (0, 13, 20), "With 90 %, 13 more below it: 13 of 20 players."),
        (0.65, 0.65, (6, 6, 20), "6 of 20 players are below it now."),
        (0.65, 0.65, (1, 1, 1), "1 of 1 player is below it now."),
        (0.65, 0.7, (0, 0, 0), "Nobody has a try in it yet, so nobody is below it."),
    ],
)
def test_a_target_says_whom_it_puts_below(now, then, below, words):
    """More, fewer or as many, in words up to twelve, and of how many."""
    assert target_words(now, then, below) == words


def test_whom_a_skill_is_for():
    """One group, or two, as they are called."""
    assert for_whom(SKILLS["outlet_pass"]) == "defenders"
    assert for_whom(SKILLS["stop"]) == "defenders and forwards"


def test_where_a_skill_is_watched():
    """Each step once, with its slots."""
    watched = [one for one in watched_in(DRILLS) if one.skill == "entry_wide"]
    steps = {(one.drill.key, one.step.key) for one in watched}
    assert places(watched).count(" of ") == len(steps) == len(places(watched).split("; "))
    assert all(one.slot.name in places(watched) for one in watched)
