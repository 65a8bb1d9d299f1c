"""skills.toml and drills.toml: what is read, and every fault at its line."""

import pytest
from lanterns_files import DRILLS, DRILLS_TOML, SKILLS, SKILLS_TOML

from evaltrack.errors import IntakeError
from evaltrack.intake.catalogue import read_drills, read_skills

# what is replaced, by what, the line of the complaint, words in it
BAD_SKILLS = {
    "syntax": ('name = "Stop"', "name = Stop", 17, "not TOML"),
    "text never closed": ('looks_like = "a full stop"', 'looks_like = "a full stop', 27, "not TOML"),
    "duplicate key": ('key = "stop"', 'key = "outlet_pass"', 16, "used above"),
    "odd key": ('key = "stop"', 'key = "Stop it"', 16, "small letters"),
    "key missing": ('key = "stop"\n', "", 15, "`key` is missing"),
    "field missing": ('missed = "Glides."\n', "", 15, "skill `stop`: the field `missed` is missing"),
    "unknown field": ("target = 0.65", "targt = 0.65", 13, "did you mean `target`?"),
    "unknown table": ('[[skill]]\nkey = "outlet', '[[skil]]\nkey = "outlet', 2, "did you mean `skill`?"),
    "text for a list": ('for = ["D"]', 'for = "D"', 5, "`for` must be a list and not text"),
    "number in a list": ('for = ["D"]', "for = [1]", 5, "list of texts"),
    "no position": ('for = ["D"]', "for = []", 5, 'any of "D", "F", "G"'),
    "odd position": ('for = ["D"]', 'for = ["D", "X"]', 5, 'any of "D", "F", "G"'),
    "number for a text": ('name = "Stop"', "name = 7", 17, "`name` must be text and not a number"),
    "date for a text": ('name = "Stop"', "name = 2025-09-04", 17, "not a date"),
    "empty text": ('name = "Stop"', 'name = "  "', 17, "`name` is empty"),
    "long caption": ('"dead stop"', f'"{"x" * 49}"', 19, "49 characters; at most 48"),
    "long looks_like": ('"a full stop"', f'"{"x" * 81}"', 27, "81 characters; at most 80"),
    "hidden character": ('"dead stop"', '"dead\\u0007stop"', 19, "U+0007"),
    "target in percent": ("target = 0.65", "target = 65", 13, "share between 0 and 1"),
    "target below": ("target = 0.65", "target = -0.1", 13, "share between 0 and 1"),
    "target no number": ("target = 0.65", "target = nan", 13, "share between 0 and 1"),
    "target text": ("target = 0.65", 'target = "high"', 13, "a number and not text"),
    "target truth": ("target = 0.65", "target = true", 13, "not true or false"),
}
BAD_DRILLS = {
    "unknown skill": ('["outlet_pass", "stop"]', '["outlet_pas"]', 14, "did you mean `outlet_pass`?"),
    "skill of others": ('skills = ["stop"]', 'skills = ["outlet_pass"]', 32, "not for F"),
    "next names no slot": ('next = "old_d"', 'next = "oldd"', 13, "did you mean `old_d`?"),
    "next in another step": ('next = "old_d"', 'next = "wall_f"', 13, "names no slot"),
    "two lead to one": ('next = "out"\nskills = []', 'next = "old_d"\nskills = []', 13, "only one can"),
    "a circle": ('next = "out"\nskills = []', 'next = "new_d"\nskills = []', 20, "round in a circle"),
    "a slot to itself": (
        'next = "out"\nskills = ["stop"]',
        'next = "wall_f"\nskills = ["stop"]',
        31,
        "in a circle",
    ),
    "duplicate slot": ('key = "old_d"', 'key = "new_d"', 17, "used above"),
    "duplicate step": ('key = "two"', 'key = "one"', 24, "used above"),
    "slot called out": ('key = "wall_f"', 'key = "out"', 28, "end of the line"),
    "position": ('position = "F"', 'position = "W"', 30, '"D", "F" or "G"'),
    "long step name": ('name = "Two"', 'name = "Two of them, hard"', 25, "at most 16"),
    "nothing to watch": ('skills = ["stop"]', "skills = []", 23, "none of its slots names a skill"),
    "no slot": (DRILLS_TOML[DRILLS_TOML.rindex("[[drill.step.slot]]") :], "", 23, "no [[drill.step.slot]]"),
    "no step": (DRILLS_TOML[DRILLS_TOML.index("[[drill.step]]") :], "", 1, "no [[drill.step]]"),
    "step is no table": ('name = "Breakout"', 'name = "Breakout"\nslot = 3', 4, "unknown field `slot`"),
    "contact": ('name = "Two"', 'name = "Two"\ncontact = "yes"', 26, "must be true or false"),
    "a surface": ('name = "Two"', 'name = "Two"\nsurface = "pond"', 26, '"full", "half" or "cross"'),
    "a spot off the ice": ('next = "old_d"', 'next = "old_d"\nspot = [50, 101]', 14, "from 0 to 100"),
    "half a spot": ('next = "old_d"', 'next = "old_d"\nspot = [50]', 14, "2 whole numbers"),
    "a spot between": ('next = "old_d"', 'next = "old_d"\nspot = [50, 1.5]', 14, "whole numbers"),
    "a spot in words": ('next = "old_d"', 'next = "old_d"\nspot = "middle"', 14, "must be a list"),
    "a spot twice": (
        'next = "out"\nskills = []',
        'next = "out"\nspot = [50, 52]\nskills = []\n[[drill.step.slot]]\nkey = "x"\nname = "X"\n'
        'position = "F"\nnext = "out"\nspot = [48, 50]\nskills = []',
        28,
        "`spot` is that of `old_d`",
    ),
    "against no slot": ('next = "old_d"', 'next = "old_d"\nagainst = "od_d"', 14, "did you mean `old_d`?"),
    "against a slot of another step": (
        'next = "old_d"',
        'next = "old_d"\nagainst = "wall_f"',
        14,
        "slot `new_d`: `against` names no slot of this step, `wall_f`",
    ),
    "against itself": ('next = "old_d"', 'next = "old_d"\nagainst = "new_d"', 14, "names the slot itself"),
    "against nothing": ('next = "old_d"', 'next = "old_d"\nagainst = ""', 14, "`against` is empty"),
    "against a number": ('next = "old_d"', 'next = "old_d"\nagainst = 4', 14, "must be text"),
    "unknown field": ('next = "out"\nskills = ["stop"]', 'nxt = "out"\nskills = ["stop"]', 31, "`next`?"),
}


def test_good_skills(brought):
    """Every field arrives, in the order of the file; a header inside a text is text."""
    assert read_skills(brought(SKILLS_TOML, "skills.toml")) == SKILLS


def test_good_drills(brought):
    """Steps and slots arrive in their order, and ``out`` is no slot."""
    assert read_drills(brought(DRILLS_TOML, "drills.toml"), SKILLS) == DRILLS


def test_whom_a_slot_meets(brought):
    """A slot may meet any other one of its step, above or below it, which need not meet it in turn."""
    for slot, met in (("new_d", "old_d"), ("old_d", "new_d")):
        text = DRILLS_TOML.replace(f'key = "{slot}"', f'key = "{slot}"\nagainst = "{met}"')
        (drill,) = read_drills(brought(text, "drills.toml"), SKILLS)
        assert [(s.key, s.against) for s in drill.steps[0].slots if s.against] == [(slot, met)]


def test_windows_file(brought):
    """A byte-order mark and Windows line ends change nothing."""
    content = b"\xef\xbb\xbf" + SKILLS_TOML.replace("\n", "\r\n").encode()
    assert read_skills(brought(content, "skills.toml")) == SKILLS


@pytest.mark.parametrize("fault", BAD_SKILLS)
def test_bad_skills(fault, brought, complaints):
    """Every kind of fault in skills.toml is told at its line."""
    old, new, line, words = BAD_SKILLS[fault]
    assert SKILLS_TOML.count(old) == 1
    found = complaints(read_skills, brought(SKILLS_TOML.replace(old, new), "skills.toml"))
    assert any(text.startswith(f"skills.toml, line {line}: ") and words in text for text in found), found


@pytest.mark.parametrize("fault", BAD_DRILLS)
def test_bad_drills(fault, brought, complaints):
    """Every kind of fault in drills.toml is told at its line."""
    old, new, line, words = BAD_DRILLS[fault]
    assert DRILLS_TOML.count(old) == 1
    found = complaints(read_drills, brought(DRILLS_TOML.replace(old, new), "drills.toml"), SKILLS)
    assert any(text.startswith(f"drills.toml, line {line}: ") and words in text for text in found), found


def test_next_to_another_position(brought, complaints):
    """A defender cannot move on into a forward's slot."""
    text = DRILLS_TOML.replace('position = "D"\nnext = "out"', 'position = "F"\nnext = "out"')
    found = complaints(read_drills, brought(text, "drills.toml"), SKILLS)
    assert found == (
        "drills.toml, line 13: slot `new_d`: `next` leads to `old_d`, which is for another position group",
    )


@pytest.mark.parametrize("target", ["0", "1", "1.0", "0.0"])
def test_extreme_targets(target, brought):
    """A target that asks for nothing or for everything is no target."""
    with pytest.raises(IntakeError, match="share between 0 and 1"):
        read_skills(brought(SKILLS_TOML.replace("0.65", target), "skills.toml"))


def test_all_faults_at_once(brought, complaints):
    """A file with three faults gives three complaints, by line."""
    text = SKILLS_TOML.replace("0.65", "65").replace('"dead stop"', "3").replace('"Bumped."', '""')
    found = complaints(read_skills, brought(text, "skills.toml"))
    assert [complaint.split(":")[0].split()[-1] for complaint in found] == ["13", "19", "26"]


@pytest.mark.parametrize(
    "text",
    ["skill = 3\n", 'skill = ["stop"]\n', "# nothing yet\n", "skill = [" * 3000, f"skill = {'9' * 5000}\n"],
    ids=["number", "texts", "comment", "nested", "long number"],
)
def test_no_tables(text, brought, complaints):
    """A file without a single [[skill]] is refused, whatever else it holds."""
    complaints(read_skills, brought(text, "skills.toml"))


def test_a_quotation_in_a_comment_hides_no_line(brought, complaints):
    """Three quotation marks in a comment open no text, so that faults below keep their lines."""
    said = '# he said """ once\n' + SKILLS_TOML.replace('caption = "dead stop"', f'caption = "{"x" * 49}"')
    found = complaints(read_skills, brought(said, "skills.toml"))
    assert any(text.startswith("skills.toml, line 20: ") for text in found), found


def test_inline_tables_have_no_line(brought, complaints):
    """Faults of tables that are written inline are told without a line, not with a wrong one."""
    found = complaints(read_skills, brought('skill = [{key = "stop", nam = "Stop"}]\n', "skills.toml"))
    assert "skills.toml: skill `stop`: unknown field `nam`; did you mean `name`?" in found
