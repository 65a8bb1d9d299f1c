"""What is said of whom a skill is for, and of where it is watched."""

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.places import sample_roster
from evaltrack.rink.catalogue_fit import watched_in
from evaltrack.words.catalogue import for_whom, places

SKILLS = {skill.key: skill for skill in read_skills(sample_roster() / "skills.toml")}
DRILLS = read_drills(sample_roster() / "drills.toml", SKILLS.values())


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
