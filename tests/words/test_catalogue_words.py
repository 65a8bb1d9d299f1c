"""What is said of whom a skill is for, of where it is watched, and of what is changed in it."""

from dataclasses import replace

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.language import Language, speaking
from evaltrack.places import sample_roster
from evaltrack.rink.catalogue_change import Kind, differences, skill_texts
from evaltrack.rink.catalogue_fit import watched_in
from evaltrack.words.catalogue import change_lines, for_whom, places, question

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


def test_a_changed_field_is_told_by_a_word_and_a_rewritten_one_by_its_key_in_the_file():
    """In French as in English: a word where the value stands beside it, else what is to be found there."""
    stop = SKILLS["stop"]
    other = replace(stop, target=0.75, name="Halte", looks_like="Autre.", at_home=())
    changes = differences(Kind.SKILL, "stop", skill_texts(stop), skill_texts(other))
    assert change_lines(changes, {}, {}) == [
        "skill stop: name Stop → Halte, target 0.65 → 0.75, other words (`looks_like`, `at_home`)"
    ]
    with speaking(Language.FRENCH_CANADA):
        assert change_lines(changes, {}, {}) == [
            "habileté stop\u00a0: nom Stop → Halte, cible 0,65 → 0,75, autres mots (`looks_like`, `at_home`)"
        ]
        assert "change (`starts`, `done`), et" in question("stop", ["starts", "done"], 5)
