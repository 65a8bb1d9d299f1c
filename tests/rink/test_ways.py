"""The ways through a step: where each slot leads, how far it still is, and who fills which slot first."""

from dataclasses import replace

from lined_up import step_of

from evaltrack.rink.ways import ways


def test_each_slot_knows_how_far_it_is_to_the_end_and_from_the_beginning():
    """Reps count the present one, so who is in a last slot has one left; slots before are those passed."""
    way = ways(step_of("Da>Db>Dc Fx"))
    assert way.onward == {"a": "b", "b": "c", "c": None, "x": None}
    assert way.reps_left == {"a": 3, "b": 2, "c": 1, "x": 1}
    assert way.slots_before == {"a": 0, "b": 1, "c": 2, "x": 0}


def test_a_closed_slot_is_passed_over():
    """Who would go there goes one further, and out where nothing further is open."""
    way = ways(step_of("Da>Db>Dc Fx"), frozenset("b"))
    assert way.onward == {"a": "c", "c": None, "x": None}
    assert (way.reps_left["a"], way.slots_before["c"]) == (2, 1)
    assert ways(step_of("Da>Db"), frozenset("b")).onward == {"a": None}


def test_a_way_in_a_circle_never_leads_out():
    """Its slots count as one more than the step has slots; a way out of a slot that is not there ends."""
    step = step_of("Fa>Fb Fc")
    first, second, third = step.slots
    way = ways(replace(step, slots=(first, replace(second, next="a"), replace(third, next="nowhere"))))
    assert way.reps_left == {"a": 4, "b": 4, "c": 1}
    assert way.onward["c"] is None
    alone = ways(replace(step, slots=(replace(first, next="a"),)))
    assert alone.onward == {"a": "a"}
    assert ways(replace(step, slots=(replace(first, next="a"),)), frozenset("a")).onward == {}


def test_which_slot_fills_first():
    """Few players fill the beginnings of the ways; the head of the line gets the slot nearest the way out.

    Of equally near ones it is that with the longest way behind it, and then the first one of the step.
    """
    way = ways(step_of("Da>Db Dc Dz"))
    assert sorted("abcz", key=way.first_in) == ["a", "c", "z", "b"]
    assert sorted("abcz", key=way.soonest_out) == ["b", "c", "z", "a"]
    back_to_front = ways(step_of("Dz Da"))
    assert sorted("az", key=back_to_front.first_in) == ["z", "a"]
    assert sorted("az", key=back_to_front.soonest_out) == ["z", "a"]
