"""The line of a tablet: each change is the rotation's own, and its fact makes it again.

Cases: every change; the rep that begins or runs on; going back, and where that ends; attendance; another
drill; a log that starts in the middle or twice.
"""

from dataclasses import replace

import pytest
from lined_up import F, drill_of, ident, player, players

from evaltrack.rink.practice import Rep
from evaltrack.rink.rotation.rotation import Rotation
from evaltrack.rink.rotation.rotation_fact import Change
from evaltrack.rink.rotation.running import RunningRotation, changes_for, replay

SQUAD = players("D1 D2 D3 F1 F2 F3 F4 G1")
DRILL = drill_of("Dbreakout>Dline Fwall Fmiddle Ggoal", "Dbreakout Fwall Ffar")
OTHER = drill_of("Fwall", key="other")
AT = 1_759_600_000_000


def lined_up(reps: int = 0):
    """Return a line some reps after its start, and its facts."""
    line, fact = RunningRotation.first(
        [DRILL, OTHER], Rep("2025-10-04", "a_drill", "step0", {}, "bench", AT), SQUAD
    )
    facts = [fact]
    for _ in range(reps):
        line, fact = line.next_rep(AT)
        facts.append(fact)
    return line, facts


CHANGES = {
    Change.NEXT: (lambda line: line.next_rep(AT), lambda r: r.next_rep()),
    Change.STEP: (
        lambda line: line.change_step("a_drill", "step1", at=AT),
        lambda r: r.change_step(DRILL.step("step1")),
    ),
    Change.SKIP: (
        lambda line: line.change_step("other", "step0", played=False, at=AT),
        lambda r: r.change_step(OTHER.step("step0"), played=False),
    ),
    Change.ARRIVE: (lambda line: line.arrive(player("F9"), AT), lambda r: r.arrive(player("F9"))),
    Change.LEAVE: (lambda line: line.leave(ident("F3"), AT), lambda r: r.leave(ident("F3"))),
    Change.SWAP: (lambda line: line.swap("wall", ident("F2"), AT), lambda r: r.swap("wall", ident("F2"))),
    Change.EMPTY: (lambda line: line.empty("wall", AT), lambda r: r.empty("wall")),
}


@pytest.mark.parametrize("change", CHANGES)
def test_a_change_and_its_fact(change):
    """The line after it has the rotation's own answer, and the fact makes it again."""
    line, facts = lined_up(2)
    make, expected = CHANGES[change]
    after, fact = make(line)
    assert fact.change is change
    assert after.rotation == expected(line.rotation) != line.rotation
    assert replay([DRILL, OTHER], [*facts, fact]) == after
    assert (fact.practice, fact.tablet, fact.at) == ("2025-10-04", "bench", AT)


@pytest.mark.parametrize("change", CHANGES)
def test_a_fact_says_all_that_is_needed_and_no_more(change):
    """Slot, player and group stand in a fact where the change asks for them, and nowhere else."""
    _, fact = CHANGES[change][0](lined_up()[0])
    said = {name for name in ("slot", "player", "group") if getattr(fact, name) is not None}
    assert said == set(change.needs)
    assert Change.FIRST.needs == Change.BACK.needs == ()


def test_what_begins_a_rep():
    """A start, the next one and another step, played or not; nothing that only moves players."""
    begins = {change for change in Change if change.begins_rep}
    assert begins == {Change.FIRST, Change.NEXT, Change.STEP, Change.SKIP}


@pytest.mark.parametrize("change", CHANGES)
def test_a_rep_begins_or_runs_on(change):
    """A change that begins a rep has a new one with the slots of that moment; the others keep the old one."""
    line, _ = lined_up(1)
    after, fact = CHANGES[change][0](line)
    assert fact.rep == after.rep.id
    if change.begins_rep:
        assert after.rep.id != line.rep.id
        assert after.rep.slots == after.rotation.slots
        assert (after.rep.drill, after.rep.step) == (fact.drill, fact.step)
    else:
        assert after.rep is line.rep


def test_the_start_has_everyone_with_his_group_of_the_day():
    """A defender who plays forward today lines up with the forwards, also when it is played again."""
    squad = [*SQUAD, replace(player("D9"), position=F)]
    line, fact = RunningRotation.first([DRILL], Rep("2025-10-04", "a_drill", "step0", {}, "bench", AT), squad)
    assert fact.start[-1] == (ident("D9"), F)
    assert line.rotation == Rotation.first(DRILL.step("step0"), squad)
    assert replay([DRILL], [fact]) == line


def test_going_back():
    """Two changes taken back one after the other, and no more than there were."""
    line, facts = lined_up()
    swapped, swap = line.swap("wall", ident("F3"), AT)
    after, onward = swapped.next_rep(AT)
    once, back = after.back(AT)
    twice, back_again = once.back(AT)
    assert (once, twice) == (swapped, line)
    assert (once.rep.id, once.can_go_back, twice.can_go_back) == (line.rep.id, True, False)
    assert twice.back(AT)[0] == line
    assert replay([DRILL], [*facts, swap, onward, back, back_again]) == line


@pytest.mark.parametrize("change", [Change.ARRIVE, Change.LEAVE])
def test_who_came_or_went_is_not_taken_back(change):
    """Attendance is a fact outside the line too, so going back ends there."""
    line, _ = lined_up(1)
    after, _ = CHANGES[change][0](line)
    assert not after.can_go_back
    assert after.back(AT)[0] == after


def test_the_line_follows_attendance():
    """Whoever is gone leaves, then whoever is new arrives, and then nothing is left to do."""
    line, facts = lined_up(1)
    present = [p for p in SQUAD if p.number != "3"] + players("F8 D7")
    made = changes_for(line, present, AT)
    assert [fact.change for _, fact in made] == [Change.LEAVE] * 2 + [Change.ARRIVE] * 2
    after = made[-1][0]
    assert after.rotation.groups.keys() == {p.id for p in present}
    assert replay([DRILL], [*facts, *(fact for _, fact in made)]) == after
    assert changes_for(after, present, AT) == []


def test_a_log_without_a_start_has_no_line():
    """Facts before the first start say nothing, and a later start begins again."""
    line, facts = lined_up(2)
    again, first = lined_up()
    assert replay([DRILL], facts[1:]) is None
    assert replay([DRILL], []) is None
    assert replay([DRILL], [facts[1], *facts]) == line
    assert replay([DRILL], [*facts, *first]) == again


def test_who_was_put_right():
    """The corrected slot, both when two change places, and none by a move of the line or a step back."""
    line, facts = lined_up()
    was = line.rotation.slots
    swapped, swap = line.swap("wall", line.rotation.queues[F][0], AT)
    assert swapped.put_right == {"wall": (was["wall"], swapped.rotation.slots["wall"])}
    assert replay([DRILL, OTHER], [*facts, swap]).put_right == swapped.put_right
    changed, _ = line.swap("wall", was["middle"], AT)
    assert changed.put_right == {"wall": (was["wall"], was["middle"]), "middle": (was["middle"], was["wall"])}
    guessed, _ = line.swap("breakout", was["wall"], AT)  # a forward: the queue fills the slot again
    assert guessed.put_right == {"breakout": (was["breakout"], was["wall"])}
    for same in (
        line,
        swapped.next_rep(AT)[0],
        swapped.back(AT)[0],
        swapped.swap("wall", was["goal"])[0].back()[0],
    ):
        assert same.put_right == (swapped.put_right if same == swapped else {})
    assert line.swap("wall", was["wall"], AT)[0].put_right == {}
    assert line.empty("wall", AT)[0].swap("wall", was["wall"], AT)[0].put_right == {}


def test_lines_are_equal_by_what_stands_now():
    """Not by the way there, nor by whether it is kept already: the same players in the same places."""
    line, facts = lined_up(1)
    once, _ = line.empty("wall", AT)
    twice, _ = once.empty("wall", AT)
    assert twice == once
    assert twice.back(AT)[0] is once
    kept = replay([DRILL, OTHER], [replace(fact, nth=n) for n, fact in enumerate(facts, 1)])
    assert (kept.nth, line.nth) == (2, 0)
    assert kept == line


@pytest.mark.parametrize("change", CHANGES)
def test_only_a_swap_names_the_slot_that_was_put_right(change):
    """Whoever looks for what was corrected by hand finds nothing after any other change."""
    line, _ = lined_up(1)
    after, fact = CHANGES[change][0](line)
    assert after.corrected == (fact.slot if change is Change.SWAP else "")


def test_two_of_different_groups_do_not_change_places():
    """Whom the line puts where the one who was moved had been is its guess: nobody has said so."""
    line, _ = lined_up()
    forward = line.rotation.slots["wall"]
    there, _ = line.swap("breakout", forward, AT)  # a forward in the slot of a defender
    other = there.rotation.slots["wall"]
    back, _ = there.swap("breakout", other, AT)
    assert back.rotation.slots["wall"] == forward
    assert back.put_right == {"breakout": (forward, other)}


def test_a_drill_counts_its_reps_from_one():
    """Steps of a drill count on, a rep that was not played is no rep, and an earlier drill begins again."""
    line, facts = lined_up(6)
    told = [line.number]
    for drill, step, played in (
        ("a_drill", "step1", True),
        ("a_drill", "step0", False),
        ("other", "step0", True),
        ("a_drill", "step0", False),
    ):
        line, fact = line.change_step(drill, step, played, AT)
        facts.append(fact)
        told.append(line.number)
        line, fact = line.next_rep(AT)
        facts.append(fact)
        told.append(line.number)
    assert told == [7, 8, 9, 9, 10, 1, 2, 1, 2]
    assert replay([DRILL, OTHER], facts).number == 2
    assert line.back(AT)[0].number == 1


def test_a_line_knows_the_number_of_its_change():
    """Also when later changes were taken back: it is the one that going back would undo next."""
    line, facts = lined_up(1)
    swapped, swap = line.swap("wall", ident("F3"), AT)
    after, onward = swapped.next_rep(AT)
    _, back = after.back(AT)
    numbered = [replace(fact, nth=n) for n, fact in enumerate([*facts, swap, onward, back], 1)]
    assert replay([DRILL, OTHER], numbered[:4]).nth == 4
    assert replay([DRILL, OTHER], numbered).nth == 3


def test_who_stood_in_a_rep_is_what_was_put_right():
    """A swap, a slot left empty and a late player count for the whole rep; going back takes that back."""
    line, _ = lined_up()
    assert line.stood == line.rotation.slots
    swapped, _ = line.swap("wall", ident("F3"), AT)
    assert (swapped.stood, swapped.rep.slots) == (swapped.rotation.slots, line.rotation.slots)
    assert swapped.put_right_since(line) == {"wall": ident("F3")}
    emptied, _ = swapped.empty("line", AT)
    assert emptied.put_right_since(swapped) == {"line": None}
    back, _ = emptied.back(AT)
    assert back.stood == swapped.stood
    assert back.put_right_since(emptied) == {"line": swapped.stood["line"]}


def test_who_leaves_stood_there():
    """A slot whose player goes off keeps who was there, though the queue has filled it."""
    line, _ = lined_up()
    gone = line.rotation.slots["wall"]
    left, _ = line.leave(gone, AT)
    assert left.rotation.slots["wall"] != gone
    assert left.stood == line.stood
    assert left.put_right_since(line) == {}


def test_another_rep_puts_nothing_right():
    """Who stands in a new rep says nothing of the one before."""
    line, _ = lined_up()
    onward, _ = line.next_rep(AT)
    assert onward.stood == onward.rotation.slots != line.stood
    assert onward.put_right_since(line) == onward.back(AT)[0].put_right_since(onward) == {}
