"""The draft of a skill: what it refuses a file refuses, and what it takes a file brings back. No window."""

from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from evaltrack.errors import IntakeError
from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.intake.catalogue_text import skills_text
from evaltrack.places import sample_roster
from evaltrack.rink.player import Position
from evaltrack.touch.catalogue.skill_draft import AT_HOME, EMPTY, TEXTS, SkillDraft, moved
from evaltrack.touch.catalogue.skill_questions import why_not_retired

SKILLS = tuple(read_skills(sample_roster() / "skills.toml"))
DRILLS = tuple(read_drills(sample_roster() / "drills.toml", SKILLS))
BASE = (sample_roster() / "skills.toml").read_text("utf-8")
EVEN = settings(max_examples=30, deadline=None)
WORDS = st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "S", "Z", "Cf", "Cc"]), max_size=320)
LINES = st.text(st.sampled_from('aé "\\#[]=\n\t x'), max_size=90)


def draft_of(key=None):
    """Return the draft of a shipped skill, or an empty one."""
    skill = next((skill for skill in SKILLS if skill.key == key), None)
    return SkillDraft.of(skill, SKILLS, (), DRILLS)


@st.composite
def drafts(draw):
    """Return the draft of some skill or a new one, with anything written in some of its lines."""
    draft = draft_of(draw(st.sampled_from([None, *(skill.key for skill in SKILLS)])))
    if draft.skill is None:
        draft.texts = dict.fromkeys(TEXTS, "Said.") | {AT_HOME: "", "name": draw(WORDS)}
    draft.texts |= draw(st.dictionaries(st.sampled_from([*TEXTS, AT_HOME]), WORDS | LINES, max_size=3))
    for position in draw(st.lists(st.sampled_from(Position), max_size=2)):
        draft.turn(position)
    for up in draw(st.lists(st.booleans(), max_size=5)):
        draft.raise_target() if up else draft.lower_target()
    return draft


@EVEN
@given(drafts())
def test_the_form_and_the_file_refuse_the_same(tmp_path_factory, draft):
    """A draft without a complaint is read back as it is; one with a complaint no file would bring."""
    path = tmp_path_factory.mktemp("toml") / "skills.toml"
    wrong = draft.complaints()
    path.write_bytes(skills_text(draft.skills(), BASE).encode("utf-8", "surrogatepass"))
    try:
        read = read_skills(path)
        read_drills(sample_roster() / "drills.toml", read)
    except IntakeError:
        read = None
    if not wrong:
        assert read == draft.skills()
    elif "name" not in wrong or "Another skill" not in wrong["name"]:  # of that a file has no say
        assert read != draft.skills() or read is None


@EVEN
@given(st.floats(0.001, 0.999), st.integers(1, 30))
@example(0.65, 1)
@example(0.62, 1)
def test_the_target_goes_by_steps_and_stays_a_share(target, steps):
    """From any target up and down by the grid of .05, never to 0 or 1, each step in its direction."""
    draft = SkillDraft((), target=target)
    for turn, least in ((draft.raise_target, 0.05), (draft.lower_target, 0.05)):
        for _ in range(steps):
            before = draft.target
            turn()
            assert round(draft.target / 0.05, 6).is_integer()
            assert least <= draft.target <= 0.95
            up = turn == draft.raise_target
            assert draft.target == before or (draft.target > before) == up or before > 0.95 or before < 0.05


def test_the_first_step_from_between_two_goes_to_the_next():
    """0.62 is written by hand in a file: up is 0.65, down is 0.6."""
    up, down = SkillDraft((), target=0.62), SkillDraft((), target=0.62)
    up.raise_target()
    down.lower_target()
    assert (up.target, down.target) == (0.65, 0.6)


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("Saucer pass", "saucer_pass"),
        ("Zoë's Łob!", "zoes_lob"),
        ("2 on 1", "skill_2_on_1"),
        ("Гол", "skill"),
        ("Outlet pass", "outlet_pass_2"),
        ("x" * 40, "x" * 40),
    ],
)
def test_the_key_is_made_from_the_name_and_is_free(name, key):
    """Plain letters, a letter first, and a number where another skill, also a retired one, has it."""
    draft = SkillDraft((), retired=SKILLS)
    draft.texts["name"] = name
    assert draft.key == key


@EVEN
@given(st.text(max_size=60))
def test_any_name_makes_a_key_that_a_file_takes(name):
    """And none that is taken."""
    draft = SkillDraft(SKILLS)
    draft.texts["name"] = name
    first = draft.key
    again = SkillDraft((*SKILLS, replace(SKILLS[0], key=first)))
    again.texts["name"] = name
    for key in (first, again.key):
        assert len(key) <= 40
        assert key[0].isascii()
        assert key[0].isalpha()
        assert set(key) <= set("abcdefghijklmnopqrstuvwxyz0123456789_")
    assert len({first, again.key, *(skill.key for skill in SKILLS)}) == len(SKILLS) + 2


def test_an_empty_draft_says_what_each_line_lacks():
    """Everything but what to try at home."""
    wrong = draft_of().complaints()
    assert {name for name, text in wrong.items() if text == EMPTY} == set(TEXTS)
    assert set(wrong) == {*TEXTS, "for"}


def test_a_draft_knows_whether_anything_was_changed_and_of_the_definition_what():
    """White space at the ends is no other word."""
    draft = draft_of("stop")
    assert (draft.changed, draft.rewritten) == (False, [])
    draft.texts["done"] += "  \n"
    assert draft.rewritten == []
    draft.texts["done"] += "Or so."
    draft.texts["starts"] = "At the whistle."
    assert (draft.changed, draft.rewritten) == (True, ["starts", "done"])
    assert draft_of("outlet_pass").without()[1] != list(DRILLS)


def test_whoever_is_the_only_one_to_watch_cannot_go():
    """`stop` and `start` are all that the stops and starts watch."""
    draft = draft_of("stop")
    assert why_not_retired(draft) == ""
    _, draft.drills = draft_of("start").without()
    assert why_not_retired(draft).startswith("On the lines of Stops and starts")


@EVEN
@given(st.permutations(SKILLS), st.sampled_from(SKILLS), st.integers(-20, 20))
def test_moving_one_leaves_the_others_in_their_order(skills, skill, by):
    """It goes so many places, or to the end."""
    after = moved(skills, skill.key, by)
    assert [one for one in after if one != skill] == [one for one in skills if one != skill]
    assert after.index(skill) == min(max(skills.index(skill) + by, 0), len(skills) - 1)
