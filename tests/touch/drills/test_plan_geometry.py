"""The plan of a step: no two discs touch, all lie within the boards, arrows run from rim to rim."""

from dataclasses import replace
from itertools import combinations
from math import dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.places import sample_roster
from evaltrack.rink.board_grid import Rect
from evaltrack.rink.drill import Slot, Step
from evaltrack.rink.ice_plan.ice import Mark, ice
from evaltrack.rink.ice_plan.plan_geometry import ROOM, plan_of, spot_at
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Surface
from evaltrack.touch.drills.plan.view import View, crosses, initials, overlap, reaches

FOLDER = sample_roster()
DRILLS = read_drills(FOLDER / "drills.toml", read_skills(FOLDER / "skills.toml"))
STEPS = [step for drill in DRILLS for step in drill.steps]


SPOT = st.tuples(st.integers(0, 100), st.integers(0, 100))


@st.composite
def steps(draw):
    """Return a step of any slots, each leading anywhere, in circles and to nowhere too."""
    count = draw(st.integers(1, draw(st.sampled_from([4, 8, 100]))))
    keys = [f"slot_{number}" for number in range(count)]
    onward = st.sampled_from([None, "nowhere", *keys])
    groups = draw(st.lists(st.sampled_from(Position), min_size=count, max_size=count))
    spots = draw(st.sampled_from([st.none(), st.none() | SPOT, SPOT]))
    slots = [
        Slot(key, key, group, draw(onward), (), draw(st.sampled_from([None, *keys])), draw(spots))
        for key, group in zip(keys, groups, strict=True)
    ]
    return Step("any", "Any", tuple(slots), draw(st.sampled_from(Surface)))


@settings(max_examples=30, deadline=None)
@given(steps())
def test_no_two_discs_touch_and_all_lie_on_the_ice(step):
    """Slots and the ends of the lines alike, whatever the step."""
    plan = plan_of(step)
    points = [*plan.places.values(), *plan.lines.values()]
    assert list(plan.places) == [slot.key for slot in step.slots]
    assert plan.radius > 0
    assert all(dist(one, other) > 2 * plan.radius for one, other in combinations(points, 2))
    assert all(plan.ice.holds(*point, plan.radius) for point in points)


@settings(max_examples=30, deadline=None)
@given(steps())
def test_an_arrow_runs_from_rim_to_rim(step):
    """From the disc of the slot to that of the next one, or to the end of its own line."""
    plan = plan_of(step)
    for slot in step.slots:
        if slot.next == slot.key:
            continue
        start, end = plan.arrow(slot)
        there = plan.places.get(slot.next) or plan.lines[slot.position]
        assert dist(plan.places[slot.key], start) == pytest.approx(plan.radius)
        assert dist(there, end) == pytest.approx(plan.radius)
        assert dist(plan.places[slot.key], there) == pytest.approx(2 * plan.radius + dist(start, end))


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.key)
@pytest.mark.parametrize("surface", Surface)
def test_the_shipped_steps_have_discs_for_a_finger(step, surface):
    """They are as large as discs get, and stand from the net outwards in the order of the slots."""
    plan = plan_of(replace(step, surface=surface, slots=tuple(replace(s, spot=None) for s in step.slots)))
    assert plan.radius > 1.1
    up = [plan.places[slot.key][0] for slot in step.slots if slot.position is not Position.GOALIE]
    assert up == sorted(up)
    for slot in step.slots:
        x, y = plan.places[slot.key]
        assert plan.nearest(x + plan.radius, y, 1.01 * plan.radius) == slot.key


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.key)
def test_the_shipped_spots_are_free(step):
    """Where a shipped step says how its slots stand, they stand so, and their discs are for a finger."""
    plan = plan_of(step)
    assert plan.radius > 1
    for slot in step.slots:
        assert slot.spot in (None, spot_at(plan.ice, *plan.places[slot.key]))


@given(st.sampled_from(Surface), SPOT)
def test_a_slot_stands_at_its_spot_where_there_is_room(surface, spot):
    """Alone on the ice, at the spot itself, or as near as the boards and the lines let a disc be."""
    slot = Slot("one", "One", Position.FORWARD, None, (), spot=spot)
    plan = plan_of(Step("any", "Any", (slot,), surface))
    wanted = spot[0] / 100 * plan.ice.length, spot[1] / 100 * plan.ice.width
    near = dist(plan.places["one"], wanted)
    assert near < 7
    if near > 0:
        in_the_way = min(dist(wanted, end) for end in _all_ends(surface)) < ROOM
        assert in_the_way or not plan.ice.holds(*wanted, 1.6)
    else:
        assert spot_at(plan.ice, *plan.places["one"]) == spot


def _all_ends(surface):
    """Return where the lines of every group end, on either side."""
    slots = [Slot(group, group, group, None, ()) for group in Position]
    return plan_of(Step("any", "Any", tuple(slots), surface)).lines.values()


@pytest.mark.parametrize("surface", Surface)
def test_all_that_is_painted_lies_within_the_boards(surface):
    """The marks of the rules are there: lines, circles, a goal at the end from which the play goes."""
    area = ice(surface)
    assert all(area.holds(*point, -1e-9) for _, points in area.marks for point in points)
    kinds = [mark for mark, _ in area.marks]
    assert kinds.count(Mark.GOAL) == (1 if surface is Surface.HALF else 2)
    assert {Mark.BOARDS, Mark.BLUE_LINE, Mark.CIRCLE, Mark.GOAL_LINE} <= set(kinds)
    assert not area.holds(0.1, 0.1)


@given(
    st.sampled_from(Surface),
    st.tuples(*[st.floats(10, 2000)] * 2),
    st.tuples(st.floats(0, 1), st.floats(0, 1)),
)
def test_what_is_seen_lies_where_it_is(surface, size, share):
    """The whole ice is within its rectangle, and a point seen is the place on the ice it stands for."""
    area, into = ice(surface), Rect(30.0, 40.0, *size)
    view = View.fitted(area, into)
    place = share[0] * area.length, share[1] * area.width
    x, y = view.point(place)
    assert into.x - 1e-6 <= x <= into.x + into.width + 1e-6
    assert into.y - 1e-6 <= y <= into.y + into.height + 1e-6
    assert view.place((x, y)) == pytest.approx(place, abs=1e-6)


@given(st.tuples(*[st.floats(-9, 9)] * 4), st.tuples(*[st.floats(-5, 5)] * 2, *[st.floats(0.5, 5)] * 2))
def test_a_line_crosses_a_box_when_some_point_of_it_is_inside(line, box):
    """Told as walking along the line would tell."""
    (x, y, u, v), box = line, Rect(*box)
    walked = [(x + (u - x) * n / 400, y + (v - y) * n / 400) for n in range(401)]
    inside = [(a, b) for a, b in walked if box.x <= a <= box.right and box.y <= b <= box.top]
    if inside:
        assert crosses(box, (x, y), (u, v))
    wider = Rect(box.x - 0.1, box.y - 0.1, box.width + 0.2, box.height + 0.2)
    near = [(a, b) for a, b in walked if wider.x <= a <= wider.right and wider.y <= b <= wider.top]
    if not near:
        assert not crosses(box, (x, y), (u, v))


@given(st.tuples(*[st.floats(-5, 5)] * 2, *[st.floats(0.5, 5)] * 2), st.tuples(*[st.floats(-9, 9)] * 2))
def test_a_disc_reaches_into_a_box_when_some_point_of_the_box_is_near(box, middle):
    """Told as trying the points of the box would tell; two boxes overlap when one point is in both."""
    box, steps = Rect(*box), [n / 20 for n in range(21)]
    tried = [(box.x + box.width * a, box.y + box.height * b) for a in steps for b in steps]
    nearest = min(dist(place, middle) for place in tried)
    assert reaches(box, middle, nearest + 0.01)
    assert not reaches(box, middle, max(0, nearest - 0.5))
    other = Rect(middle[0] - 1, middle[1] - 1, 2, 2)
    if any(other.holds(*place) for place in tried[22:-22]):
        assert overlap(box, other)
    assert overlap(box, other) == overlap(other, box)
    assert not overlap(box, Rect(box.right, box.y, 1, 1))


def test_a_disc_has_the_initials():
    """Three at most, and something where there is no letter."""
    assert [initials(name) for name in ("Breakout D", "White F 2", "goalie", "", "– –", "a b c d")] == [
        *("BD", "WF2", "G", "?", "?", "ABC"),
    ]
