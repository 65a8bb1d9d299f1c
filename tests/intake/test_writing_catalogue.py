"""Skills and drills written as TOML: read back the same, with the comments of the file they came from."""

import re
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.intake.catalogue_text import drills_text, skills_text
from evaltrack.places import sample_roster

SKILLS = read_skills(sample_roster() / "skills.toml")
DRILLS = read_drills(sample_roster() / "drills.toml", SKILLS)
SKILLS_TOML, DRILLS_TOML = (
    (sample_roster() / name).read_text("utf-8") for name in ("skills.toml", "drills.toml")
)
EVEN = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


def comments(text):
    """Return the comment lines of a file, in no order."""
    return sorted(line.strip() for line in text.splitlines() if line.lstrip().startswith("#"))


def read_back(folder, skills, drills, bases=(SKILLS_TOML, DRILLS_TOML)):
    """Write both files and return what they are read as, and their texts."""
    texts = skills_text(skills, bases[0]), drills_text(drills, bases[1])
    for name, text in zip(("skills.toml", "drills.toml"), texts, strict=True):
        (folder / name).write_text(text, encoding="utf-8")
    known = read_skills(folder / "skills.toml")
    return known, read_drills(folder / "drills.toml", known), texts


@st.composite
def edited_skills(draw):
    """Return the shipped skills, edited: other words, targets and order, all keys still there."""
    skills = draw(st.permutations(SKILLS))
    words = st.sampled_from(['Say "now".', "A \\\\ b", "[[skill]]", "# no comment", "Žofie's turn, 100 %"])
    edits = draw(st.dictionaries(st.integers(0, len(skills) - 1), words, max_size=3))
    for at, said in edits.items():
        done = replace(skills[at].definition, done=said)
        skills[at] = replace(skills[at], definition=done, target=0.35, at_home=(said, "Again."))
    new = replace(SKILLS[0], key="new_one", name="A new one", at_home=())
    return [*skills, new] if draw(st.booleans()) else skills


@st.composite
def edited_drills(draw):
    """Return some of the shipped drills in some order, with their steps and slots in some order."""
    drills = draw(st.lists(st.sampled_from(DRILLS), min_size=1, unique_by=lambda drill: drill.key))
    found = []
    for drill in drills:
        steps = draw(st.lists(st.sampled_from(drill.steps), min_size=1, unique_by=lambda step: step.key))
        steps = [replace(step, slots=tuple(draw(st.permutations(step.slots)))) for step in steps]
        found.append(replace(drill, name=draw(st.sampled_from([drill.name, "Other"])), steps=tuple(steps)))
    return found


def test_what_did_not_change_has_the_same_bytes():
    """The shipped files come out as they are."""
    assert skills_text(SKILLS, SKILLS_TOML) == SKILLS_TOML
    assert drills_text(DRILLS, DRILLS_TOML) == DRILLS_TOML


@EVEN
@given(edited_skills(), edited_drills())
def test_whatever_is_written_is_read_back(tmp_path_factory, skills, drills):
    """Any edit comes back as it was, and with the same bytes; no comment of the skills is lost."""
    folder = tmp_path_factory.mktemp("toml")
    known, run, texts = read_back(folder, skills, drills)
    assert (known, run) == (skills, drills)
    assert (skills_text(known, texts[0]), drills_text(run, texts[1])) == texts
    assert comments(texts[0]) == comments(SKILLS_TOML)


def test_a_table_takes_its_own_comments_along():
    """The words above a step go where it goes; those of a step that is gone go with it, and no others."""
    first = DRILLS[0]
    turned = drills_text([replace(first, steps=first.steps[::-1]), *DRILLS[1:]], DRILLS_TOML)
    own = "# The breakout D passes to the wall F"
    assert re.search(own + r'.*\n(#.*\n)+\[\[drill.step\]\]\nkey = "two_on_one"', turned)
    assert comments(turned) == comments(DRILLS_TOML)
    fewer = drills_text([replace(first, steps=first.steps[1:]), *DRILLS[1:]], DRILLS_TOML)
    assert own not in fewer
    assert set(comments(DRILLS_TOML)) > set(comments(fewer))


@pytest.mark.parametrize(
    "base", ["", "skill = 5", "[[skill]]\nname = 3", "[[skill", "skill = [{key='stop'}]"]
)
def test_without_a_usable_file_it_is_written_anew(tmp_path, base):
    """No file, a damaged one, or one in a rare form: nothing of the catalogue is lost."""
    known, run, _ = read_back(tmp_path, SKILLS, DRILLS, (base, base))
    assert (known, run) == (SKILLS, DRILLS)
