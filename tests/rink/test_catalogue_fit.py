"""Drills and skills held against each other, and of whose other words must be asked."""

from evaltrack.rink.catalogue_fit import to_be_asked, unfit, watched_in, without_skill
from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.player import Position
from evaltrack.rink.skill import Definition, Skill

WALL = Slot("wall_f", "Wall F", Position.FORWARD, None, ("pass", "stop"))
LINE = Slot("line_d", "Line D", Position.DEFENCE, None, ("stop", "gap"))
DRILLS = [
    Drill("one", "One", (Step("a", "A", (WALL, LINE)), Step("b", "B", (LINE,)))),
    Drill("two", "Two", (Step("a", "A", (WALL,)),)),
]


def skill(key, *positions):
    """Return a skill for some position groups."""
    return Skill(key, key.title(), positions, "caption", Definition("a", "b", "c", "d"), "looks")


def places(watched):
    """Return drill, step, slot and skill of each place."""
    return [(one.drill.key, one.step.key, one.slot.key, one.skill) for one in watched]


def test_every_place_in_which_a_skill_is_watched_is_found_in_order():
    """Drill by drill, step by step, slot by slot."""
    assert places(watched_in(DRILLS)) == [
        ("one", "a", "wall_f", "pass"),
        ("one", "a", "wall_f", "stop"),
        ("one", "a", "line_d", "stop"),
        ("one", "a", "line_d", "gap"),
        ("one", "b", "line_d", "stop"),
        ("one", "b", "line_d", "gap"),
        ("two", "a", "wall_f", "pass"),
        ("two", "a", "wall_f", "stop"),
    ]


def test_what_is_not_there_or_not_for_them_does_not_fit():
    """A skill that is gone, and one that is not for who stands in the slot."""
    skills = [skill("stop", Position.DEFENCE), skill("gap", Position.DEFENCE)]
    assert places(unfit(DRILLS, skills)) == [
        ("one", "a", "wall_f", "pass"),
        ("one", "a", "wall_f", "stop"),
        ("two", "a", "wall_f", "pass"),
        ("two", "a", "wall_f", "stop"),
    ]
    skills = [skill("pass", *Position), skill("stop", *Position), skill("gap", *Position)]
    assert unfit(DRILLS, skills) == []


def test_a_skill_is_taken_out_of_every_slot_and_nothing_else_changes():
    """A step may have nothing left to watch; the others keep their order."""
    left = without_skill(DRILLS, "stop")
    assert places(watched_in(left)) == [one for one in places(watched_in(DRILLS)) if one[3] != "stop"]
    assert [[slot.key for slot in step.slots] for drill in left for step in drill.steps] == [
        ["wall_f", "line_d"],
        ["line_d"],
        ["wall_f"],
    ]
    assert without_skill(DRILLS, "shot") == DRILLS
    assert without_skill(without_skill(DRILLS, "pass"), "stop")[1].steps[0].skills == ()


def test_only_where_tries_stand_under_the_old_words_it_must_be_said_what_the_new_ones_mean():
    """Without a try, or when it was said, nothing is asked."""
    tries = {"pass": 3, "stop": 1, "gap": 0}
    assert to_be_asked(["stop", "gap", "shot", "pass"], tries, {"pass"}) == ["stop"]
