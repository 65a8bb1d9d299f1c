"""The drills as they are being changed: faults in a file's words, undo, keys, and the way through a file.

Cases: random edits in any order, with half a name, circles and slots for nobody; each draft without a fault
goes to a TOML file and into a new season and comes back as it was; each fault is what the file would be told.
"""

import re
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from seasons_for_touch import roster

from evaltrack.errors import IntakeError
from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.intake.catalogue_text import drills_text
from evaltrack.places import sample_roster
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Surface
from evaltrack.store.creating import create_season
from evaltrack.touch.drills.draft.drill_keys import key_of
from evaltrack.touch.drills.draft.drills_draft import DrillsDraft
from evaltrack.touch.drills.draft.edits import below

SKILLS = read_skills(sample_roster() / "skills.toml")
TOML = (sample_roster() / "drills.toml").read_text("utf-8")
DRILLS = read_drills(sample_roster() / "drills.toml", SKILLS)
KNOWN = {skill.key: skill for skill in SKILLS}
NAMES = ["", "Point D", "Wall F", " Žofie's  lane ", "out", "12", "Far side, low slot", "–", "a\u200bb"]
QUICK = settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))


def a_draft(drills=DRILLS):
    return DrillsDraft(drills, DRILLS, KNOWN)


def paths(draft, depth):
    """Return every path of this length."""
    found = [()]
    for _ in range(depth):
        found = [
            (*path, part.key) for path in found for part in (below(draft.at(path)) if path else draft.drills)
        ]
    return found


def edit(draft, data):
    """Make one change at random, of those that the screens offer."""
    kinds = ["add", "copy", "back", "out", "move", "name", "slot", "slot", "ice", "undo"]
    what = data.draw(st.sampled_from(kinds))
    depth = data.draw(st.integers(1, 3))
    path = data.draw(st.sampled_from(paths(draft, depth)))
    if what == "add":
        draft.add(path[:-1])
    elif what == "copy":
        draft.copy(data.draw(st.sampled_from(paths(draft, 2))))
    elif what == "back":
        for part in draft.out_of_use(path[:1] if depth == 2 else ()):
            draft.bring_back((*path[: depth == 2], part.key))
    elif what == "out":
        draft.take_out(path)
    elif what == "move":
        draft.move(path, data.draw(st.integers(-2, 2)))
    elif what == "name":
        draft.change(path, "the name", name=data.draw(st.sampled_from(NAMES)))
    elif what == "ice":
        step = data.draw(st.sampled_from(paths(draft, 2)))
        draft.change(step, "the ice", surface=data.draw(st.sampled_from(Surface)))
        draft.change(step, "the contact", contact=data.draw(st.sampled_from([None, True, False])))
    elif what == "undo":
        draft.undo()
    else:
        change_slot(draft, data)


def change_slot(draft, data):
    path = data.draw(st.sampled_from(paths(draft, 3)))
    beside = [slot.key for slot in draft.at(path[:2]).slots]
    fields = {
        "position": st.sampled_from(Position),
        "next": st.sampled_from([None, *beside]),
        "against": st.sampled_from([None, *beside]),
        "skills": st.lists(st.sampled_from([*KNOWN]), unique=True, max_size=3).map(tuple),
        "spot": st.none() | st.tuples(st.integers(0, 100), st.integers(0, 100)),
    }
    field = data.draw(st.sampled_from(sorted(fields)))
    draft.change(path, field, **{field: data.draw(fields[field])})


def mended(draft):
    """Mend a draft as a coach would: names where they are missing, ways out, skills that are for the slot."""
    for path in [path for depth in (1, 2, 3) for path in paths(draft, depth)]:
        own = {fault.field for fault in draft.own_faults(path)}
        if "name" in own:
            draft.change(path, "the name", name=f"Any {len(path)}")
        for field, value in (("next", None), ("against", None), ("spot", None), ("skills", ())):
            if field in own:
                draft.change(path, field, **{field: value})
    for path in paths(draft, 2):
        if draft.own_faults(path):
            slot = (*path, draft.at(path).slots[0].key)
            for_it = next(key for key, skill in KNOWN.items() if skill.suits(draft.at(slot).position))
            draft.change(slot, "skills", skills=(for_it,))


@QUICK
@given(st.data())
def test_whatever_is_edited_comes_back_from_its_file(tmp_path_factory, data):
    """Written to TOML and read again, a draft without a fault is the same drills; a faulty one is refused."""
    draft = a_draft()
    for _ in range(data.draw(st.integers(1, 9))):
        edit(draft, data)
    path = tmp_path_factory.mktemp("toml") / "drills.toml"
    if faults := draft.reading.faults:
        path.write_text(drills_text(draft.reading.drills, TOML), encoding="utf-8")
        with pytest.raises(IntakeError):
            read_drills(path, SKILLS)
        assert all(draft.faults(found[:1]) for found in paths(draft, 1) if _is_in(found, faults, draft))
        mended(draft)
    assert draft.reading.faults == []
    path.write_text(drills_text(draft.reading.drills, TOML), encoding="utf-8")
    assert read_drills(path, SKILLS) == draft.reading.drills
    assert [[len(s.slots) for s in d.steps] for d in draft.reading.drills] == [
        [len(s.slots) for s in d.steps] for d in draft.drills
    ]


def _is_in(path, faults, draft):
    number = [drill.key for drill in draft.drills].index(path[0])
    return any(fault.place[:1] == (number,) for fault in faults)


@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_a_new_season_has_the_drills_that_were_edited(tmp_path_factory, data):
    """Through the file into a season of its own, which says the same of them."""
    draft = a_draft()
    for _ in range(8):
        edit(draft, data)
    mended(draft)
    folder = tmp_path_factory.mktemp("season")
    path = folder / "drills.toml"
    path.write_text(drills_text(draft.reading.drills, TOML), encoding="utf-8")
    drills = read_drills(path, SKILLS)
    team = {"team": "Kettle Bay Lanterns", "age_class": "12U"}
    with create_season(folder / "s.db", **team, players=roster(), skills=SKILLS, drills=drills) as season:
        assert season.catalogue.drills() == draft.reading.drills


@QUICK
@given(st.data())
def test_undo_goes_back_step_by_step_to_what_the_season_has(data):
    """However many changes there were; a name typed letter by letter is one."""
    draft = a_draft()
    for _ in range(data.draw(st.integers(0, 10))):
        edit(draft, data)
    steps = 0
    while draft.undoes:
        draft.undo()
        steps += 1
    assert steps <= 10
    assert draft.drills == tuple(DRILLS)
    assert not draft.is_changed
    for length in range(1, 6):
        draft.change(("wall_work",), "the name", name="Walls"[:length])
    draft.undo()
    assert not draft.is_changed


WRONG = {
    "no such slot": {"next": "nowhere"},
    "for another group": {"next": "wall_f"},
    "round in a circle": {"next": "corner_d"},
    "itself": {"against": "corner_d"},
    "no such opponent": {"against": "nowhere"},
    "no such skill": {"skills": ("juggling",)},
    "not for this position": {"skills": ("wall_puck_feet",)},
    "no name": {"name": "  "},
    "off the ice": {"spot": (101, 5)},
    "a long name": {"name": "n" * 41},
}


SEEN = {
    "`name`": "the name",
    "the skill's `for`": "who is watched in it",
    "`next`": "the way on",
    "`against`": "the choice under Against",
    "`spot`": "its place on the plan",
}


@pytest.mark.parametrize("fields", WRONG.values(), ids=WRONG)
def test_a_fault_is_told_in_the_words_of_a_file(tmp_path, fields):
    """At its slot and its field, and as a file with the same drills would be complained of, but by name."""
    draft, path = a_draft(), ("wall_work", "free", "corner_d")
    draft.change(path, "it", **fields)
    (fault,) = draft.reading.faults
    assert draft.own_faults(path) == [fault]
    assert fault.field == next(iter(fields))
    assert draft.own_faults(path[:2]) == []
    file = tmp_path / "drills.toml"
    texts = {"next": "out" if fields.get("next") is None else fields["next"]}
    file.write_text(_faulty_file(fields | texts), encoding="utf-8")
    with pytest.raises(IntakeError) as refused:
        read_drills(file, SKILLS)
    told = re.sub(r"^drills\.toml, line \d+: slot `corner_d`: ", "", str(refused.value))
    for written, seen in SEEN.items():
        told = told.replace(written, seen)
    for part in (*SKILLS, *draft.at(path[:2]).slots):
        told = told.replace(f"`{part.key}`", part.name)
    assert fault.text == told[0].upper() + told[1:] + "."
    assert ("`" in fault.text) == any(gone in fault.text for gone in ("nowhere", "juggling"))


def _faulty_file(fields):
    """Return the shipped file with other fields of the first slot of the wall work."""
    start = TOML.index('key = "corner_d"')
    end = TOML.index("[[", start)
    block = {"key": "corner_d", "name": "Corner D", "position": "D"}
    block |= {"skills": ("escape_turn",), **fields}
    lines = [f"{name} = {list(v) if isinstance(v, tuple) else repr(v)}" for name, v in block.items()]
    return TOML[:start] + "\n".join(lines) + "\n" + TOML[end:]


def test_two_that_lead_to_one_slot_are_both_told():
    """Only one can come into a slot."""
    draft, step = a_draft(), ("breakout_attack", "two_on_one")
    draft.change((*step, "wall_f"), "next", next="middle_f")
    assert draft.reading.faults == []
    extra = draft.add(step)
    draft.change(extra, "the name", name="Extra F")
    draft.change(extra, "next", next="middle_f")
    assert [fault.place for fault in draft.reading.faults] == [(0, 0, 1), (0, 0, 5)]
    assert "as another slot does" in draft.own_faults(extra)[0].text


def test_who_went_to_a_slot_that_is_gone_goes_on_to_where_it_led():
    """And nobody stands against it."""
    draft, step = a_draft(), ("breakout_attack", "two_on_one")
    draft.take_out((*step, "line_d"))
    slots = {slot.key: slot for slot in draft.at(step).slots}
    assert slots["breakout_d"].next is None
    assert slots["wall_f"].against is None
    assert draft.reading.faults == []


def test_the_last_of_a_list_stays():
    """A season has a drill, a drill a step, a step a slot."""
    only = replace(DRILLS[0], steps=(replace(DRILLS[0].steps[0], slots=DRILLS[0].steps[0].slots[:1]),))
    draft = a_draft([only])
    for path in (("breakout_attack",), ("breakout_attack", "two_on_one"), (*paths(draft, 3)[0],)):
        draft.take_out(path)
    assert draft.drills == (only,)


def test_what_is_new_has_a_key_of_its_name_and_takes_no_history():
    """Not the key of a drill that was retired; a slot called as in another step of the drill is the same."""
    draft = a_draft(DRILLS[1:])
    drill = draft.add()
    draft.change(drill, "the name", name="Breakout attack")
    (step,) = draft.at(drill).steps
    draft.change((*drill, step.key), "the name", name="Žofie's")
    slot = (*drill, step.key, step.slots[0].key)
    draft.change(slot, "the name", name="Out")
    draft.change(slot, "skills", skills=("stop",))
    copy = draft.copy((*drill, step.key))
    draft.change(copy, "the name", name="Harder")
    made = draft.reading.drills[-1]
    assert made.key == "breakout_attack_2"
    assert [step.key for step in made.steps] == ["zofie_s", "harder"]
    assert [slot.key for step in made.steps for slot in step.slots] == ["slot_out"] * 2
    goalie = draft.add(("small_area", "two_on_two"))
    draft.take_out(("small_area", "two_on_two", "goal"))
    draft.change(goalie, "the name", name="Goalie")
    assert draft.reading.drills[2].steps[0].slots[-1].key == "goal"


@given(st.text(max_size=60), st.sampled_from(["drill", "step", "slot"]))
def test_a_key_of_any_name_is_one_that_files_take(name, kind):
    """Small letters, digits and _, a letter first, none that is taken."""
    first = key_of(name, kind, set())
    other = key_of(name, kind, {first})
    assert first != other
    for key in (first, other):
        assert re.fullmatch(r"[a-z][a-z0-9_]{0,39}", key)
        assert key != "out"


def test_what_is_brought_back_is_as_the_season_has_it():
    """A drill and a step that are not in use any more."""
    draft = a_draft([replace(DRILLS[0], steps=DRILLS[0].steps[:1]), *DRILLS[1:3]])
    assert [drill.key for drill in draft.out_of_use()] == ["small_area"]
    assert [step.key for step in draft.out_of_use(("breakout_attack",))] == ["three_on_one", "two_regroups"]
    draft.bring_back(("small_area",))
    draft.bring_back(("breakout_attack", "two_regroups"))
    assert draft.drills[-1] == DRILLS[3]
    assert draft.drills[0].steps == (DRILLS[0].steps[0], DRILLS[0].steps[2])
