"""The routes through a step: where each slot leads, how far it still is, and who fills which slot first."""

from dataclasses import replace

from lined_up import step_of

from evaltrack.rink.rotation.routes import routes


def test_each_slot_knows_how_far_it_is_to_the_end_and_from_the_beginning():
    """Reps count the present one, so who is in a last slot has one left; slots before are those passed."""
    found = routes(step_of("Da>Db>Dc Fx"))
    assert found.onward == {"a": "b", "b": "c", "c": None, "x": None}
    assert found.reps_left == {"a": 3, "b": 2, "c": 1, "x": 1}
    assert found.slots_before == {"a": 0, "b": 1, "c": 2, "x": 0}


def test_a_closed_slot_is_passed_over():
    """Who would go there goes one further, and out where nothing further is open."""
    found = routes(step_of("Da>Db>Dc Fx"), frozenset("b"))
    assert found.onward == {"a": "c", "c": None, "x": None}
    assert (found.reps_left["a"], found.slots_before["c"]) == (2, 1)
    assert routes(step_of("Da>Db"), frozenset("b")).onward == {"a": None}


def test_a_way_in_a_circle_never_leads_out():
    """Its slots count as one more than the step has slots; a way out of a slot that is not there ends."""
    step = step_of("Fa>Fb Fc")
    first, second, third = step.slots
    found = routes(replace(step, slots=(first, replace(second, next="a"), replace(third, next="nowhere"))))
    assert found.reps_left == {"a": 4, "b": 4, "c": 1}
    assert found.onward["c"] is None
    alone = routes(replace(step, slots=(replace(first, next="a"),)))
    assert alone.onward == {"a": "a"}
    assert routes(replace(step, slots=(replace(first, next="a"),)), frozenset("a")).onward == {}


def test_which_slot_fills_first():
    """Few players fill the beginnings of the ways; the head of the line gets the slot nearest the way out.

    Of equally near ones it is that with the longest way behind it, and then the first one of the step.
    """
    found = routes(step_of("Da>Db Dc Dz"))
    assert sorted("abcz", key=found.first_in) == ["a", "c", "z", "b"]
    assert sorted("abcz", key=found.soonest_out) == ["b", "c", "z", "a"]
    back_to_front = routes(step_of("Dz Da"))
    assert sorted("az", key=back_to_front.first_in) == ["z", "a"]
    assert sorted("az", key=back_to_front.soonest_out) == ["z", "a"]
    later_in_the_step = routes(step_of("Fc Fa>Fb"))
    assert sorted("abc", key=later_in_the_step.soonest_out) == ["b", "c", "a"]
    far_behind = routes(step_of("Fa>Fb>Fc Fx"))
    assert sorted("bx", key=far_behind.soonest_out) == ["x", "b"]
