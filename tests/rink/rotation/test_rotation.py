"""Whose turn it is, case by case as they happen at the bench.

Cases: the shipped steps; late; hurt, in a slot and in line; the goalie; an extra turn; the wrong player; two
players changed over; a slot left empty; too few players; a step changed, meant or not; a defender as forward;
what cannot be. Names such as D3 are position group and number.
"""

from dataclasses import replace

import pytest
from lined_up import D, F, G, drill_of, ident, in_line, in_slots, player, players, shipped_drill, step_of

from evaltrack.rink.rotation.rotation import Rotation

SQUAD = "D1 D2 D3 D4 F1 F2 F3 F4 F5 F6 F7 G1"
DRILLS = ("breakout_attack", "stops_starts", "wall_work", "small_area")
BREAKOUT = "Dbreakout>Dline Fwall Fmiddle Ggoal"


def begun(recipe: str = BREAKOUT, squad: str = SQUAD) -> Rotation:
    """Return the first rep of a step with this squad."""
    return Rotation.first(step_of(recipe), players(squad))


def on(rotation: Rotation, reps: int) -> Rotation:
    """Return the rotation some reps later."""
    for _ in range(reps):
        rotation = rotation.next_rep()
    return rotation


def turns_of(rotation: Rotation, who) -> int:
    """Return how often a player came in, in slots of the group they line up with."""
    return rotation.turns.get((who, rotation.groups.get(who)), 0)


def test_a_defender_is_new_then_old_then_out():
    """Common practice, no source: in the step with two regroups a defender plays one rep as the new one.

    The next rep they play as the old one, then they go out, to the end of the queue.
    """
    step = shipped_drill("breakout_attack").step("two_regroups")
    rotation = on(Rotation.first(step, players(SQUAD)), 1)
    newcomer = rotation.slots["new_d"]
    after, later = rotation.next_rep(), on(rotation, 2)
    assert after.slots["old_d"] == newcomer
    assert newcomer not in later.slots.values()
    assert later.queues[D][-1] == newcomer


def test_it_is_known_when_those_in_a_slot_came_in_and_of_nobody_else():
    """By rep, and within a rep by the order in which they came; whoever goes out is forgotten."""
    rotation = begun()
    for rep in range(1, 8):
        assert rotation.came_in.keys() == set(rotation.slots.values())
        new = [place for number, place in rotation.came_in.values() if number == rep]
        assert sorted(new) == list(range(1, len(new) + 1))
        assert all(number <= rep for number, _ in rotation.came_in.values())
        rotation = rotation.next_rep()
    for other in (rotation.leave(rotation.slots["wall"]), rotation.empty("wall")):
        assert other.came_in.keys() == set(other.slots.values())


def test_every_defender_comes_through_both_slots_in_order():
    """The one who starts deepest is the first in line, so they come out in the order in which they stood."""
    rotation, seen = begun(squad="D1 D2 D3 D4"), []
    for _ in range(5):
        seen.append((rotation.slots["breakout"], rotation.slots["line"]))
        rotation = rotation.next_rep()
    pairs = [("D2", "D1"), ("D3", "D2"), ("D4", "D3"), ("D1", "D4"), ("D2", "D1")]
    assert seen == [(ident(new), ident(old)) for new, old in pairs]


@pytest.mark.parametrize(("drill", "key"), [(d, s.key) for d in DRILLS for s in shipped_drill(d).steps])
def test_turns_in_the_shipped_steps(drill, key):
    """After every rep, turns in a group differ by at most one."""
    step = shipped_drill(drill).step(key)
    rotation = Rotation.first(step, players(SQUAD))
    for _ in range(25):
        rotation = rotation.next_rep()
        for group in {slot.position for slot in step.slots}:
            turns = [turns_of(rotation, p.id) for p in players(SQUAD) if p.position == group]
            assert max(turns) - min(turns) <= 1


def test_who_comes_late_joins_the_end_of_his_line():
    """They stand behind those who wait, and before those who are still in the drill."""
    rotation = on(begun(squad="D1 D2 D3 D4 F1 F2 F3"), 2).arrive(player("F9"))
    assert in_line(rotation, F) == "F1 F9"
    after = rotation.next_rep()
    assert (after.slots["wall"], after.slots["middle"]) == (ident("F1"), ident("F9"))
    assert in_line(after, F) == "F2 F3"
    assert turns_of(rotation, ident("F9")) == 0


def test_who_arrives_where_nobody_waits_steps_in():
    """A slot that only lacks a player is taken at once."""
    rotation = begun(squad="D1 F1 F2")
    assert in_slots(rotation) == {"breakout": "D1", "wall": "F1", "middle": "F2"}
    assert in_slots(rotation.arrive(player("G1")).arrive(player("D2"))) == {
        "breakout": "D1",
        "line": "D2",
        "wall": "F1",
        "middle": "F2",
        "goal": "G1",
    }


def test_who_is_hurt_in_a_slot_is_replaced_from_the_line():
    """The next in the queue takes their slot; their turns stay counted, and they are nowhere."""
    rotation = on(begun(), 1)
    hurt = rotation.slots["wall"]
    after = rotation.leave(hurt)
    assert after.slots["wall"] == rotation.queues[F][0]
    assert after.slots | {"wall": hurt} == rotation.slots
    assert after.queues[F] == rotation.queues[F][1:]
    assert hurt not in after.groups
    assert after.turns[hurt, F] == rotation.turns[hurt, F] == 1


def test_who_is_hurt_in_line_leaves_the_order():
    """The others keep their order and nobody in a slot changes."""
    rotation = begun()
    after = rotation.leave(rotation.queues[F][2])
    assert after.slots == rotation.slots
    assert after.queues[F] == (*rotation.queues[F][:2], *rotation.queues[F][3:])


def test_a_slot_stays_empty_when_nobody_waits():
    """Without a second goalie the goal is empty, now and in the reps to come."""
    rotation = begun().leave(ident("G1"))
    assert "goal" not in rotation.slots
    assert "goal" not in rotation.next_rep().slots


def test_who_comes_back_is_last_and_keeps_his_turns():
    """A torn lace: gone for a rep, then at the end of the line."""
    rotation = begun().leave(ident("F1")).next_rep().arrive(player("F1"))
    assert rotation.queues[F][-1] == ident("F1")
    assert turns_of(rotation, ident("F1")) == 1


def test_goalies():
    """Two take turns, one stays, and one is changed for the other with two taps."""
    two = begun(squad="D1 D2 F1 F2 G1 G2")
    assert [on(two, n).slots["goal"] for n in range(4)] == [ident("G1"), ident("G2")] * 2
    assert {on(begun(), n).slots["goal"] for n in range(4)} == {ident("G1")}
    changed = two.swap("goal", ident("G2"))
    assert changed.slots["goal"] == ident("G2")
    assert in_line(changed, G) == "G1"
    assert (turns_of(changed, ident("G1")), turns_of(changed, ident("G2"))) == (0, 1)


def test_an_extra_turn_costs_nobody_his_own():
    """Who was to go goes next; the others wait one player longer."""
    rotation = on(begun(), 1)
    again = rotation.queues[F][-1]
    after = rotation.swap("wall", again)
    assert after.slots["wall"] == again
    assert after.queues[F] == (rotation.slots["wall"], *rotation.queues[F][:-1])
    assert turns_of(after, rotation.slots["wall"]) == 0
    assert turns_of(after, again) == 2
    assert on(after, 1).slots["wall"] == rotation.slots["wall"]


def test_a_wrong_player_is_put_right():
    """The player who is really there comes from the queue, and turns stay within one."""
    rotation = begun()
    there = rotation.queues[F][1]
    after = rotation.swap("middle", there)
    assert after.slots | {"middle": rotation.slots["middle"]} == rotation.slots
    assert after.slots["middle"] == there
    for n in range(12):
        turns = [turns_of(on(after, n), p.id) for p in players(SQUAD) if p.position == F]
        assert max(turns) - min(turns) <= 1


def test_who_makes_way_in_mid_turn_has_had_it():
    """A defender who came in a rep ago goes to the end of the queue, as if they had come out."""
    rotation = on(begun(), 1)
    old = rotation.slots["line"]
    after = rotation.swap("line", rotation.queues[D][0])
    assert after.queues[D][-1] == old
    assert turns_of(after, old) == turns_of(rotation, old)


def test_two_in_slots_change_places():
    """Wall and middle the other way round, and still so when they come in again."""
    rotation = begun()
    changed = rotation.swap("wall", rotation.slots["middle"])
    assert (changed.slots["wall"], changed.slots["middle"]) == (ident("F2"), ident("F1"))
    assert changed.turns == rotation.turns
    assert in_line(changed.next_rep(), F).endswith("F2 F1")
    defence = begun().swap("breakout", ident("D1"))
    assert (defence.slots["breakout"], defence.slots["line"]) == (ident("D1"), ident("D2"))
    assert defence.next_rep().slots["line"] == ident("D1")


def test_two_in_slots_change_places_though_one_came_in_earlier():
    """The two defenders are the same as before, nobody comes in for them, and each keeps his own way out."""
    rotation = on(begun(), 1)
    new, old = rotation.slots["breakout"], rotation.slots["line"]
    changed = rotation.swap("line", new)
    assert (changed.slots["breakout"], changed.slots["line"]) == (old, new)
    assert (changed.turns, changed.queues) == (rotation.turns, rotation.queues)
    assert changed.swap("line", old) == rotation


def test_players_of_different_groups_do_not_change_places():
    """A forward put into a defender's slot: the next forward comes in for him, and the defender is next."""
    rotation = on(begun(), 1)
    forward, defender = rotation.slots["wall"], rotation.slots["breakout"]
    changed = rotation.swap("breakout", forward)
    assert changed.slots["breakout"] == forward
    assert changed.slots["wall"] == rotation.queues[F][0]
    assert changed.queues[D] == (defender, *rotation.queues[D])
    assert changed.turns[forward, F] == rotation.turns[forward, F] - 1


def test_a_slot_left_empty_on_purpose_stays_so():
    """Its player is next in line, who would move there goes out, and a swap opens it again."""
    rotation = begun().empty("wall")
    assert "wall" not in rotation.slots
    assert in_line(rotation, F) == "F1 F3 F4 F5 F6 F7"
    assert in_slots(rotation.next_rep())["middle"] == "F1"
    without_line = begun().empty("line").next_rep()
    assert without_line.slots["breakout"] == ident("D1")
    assert in_line(without_line, D) == "D3 D4 D2"
    long_way = begun("Fa>Fb>Fc", "F1 F2 F3 F4").empty("b")
    assert in_slots(long_way.next_rep()) == {"a": "F2", "c": "F3"}
    again = rotation.next_rep().swap("wall", ident("F5"))
    assert again.slots["wall"] == ident("F5")
    assert again.closed == frozenset()


@pytest.mark.parametrize(
    ("squad", "slots"),
    [
        ("", {}),
        ("D1", {"breakout": "D1"}),
        ("F1", {"wall": "F1"}),
        ("D1 D2 F1", {"breakout": "D2", "line": "D1", "wall": "F1"}),
    ],
)
def test_fewer_players_than_slots(squad, slots):
    """The slots at the beginning of a way are filled, the others stay empty, nobody is there twice."""
    assert in_slots(begun(squad=squad)) == slots


def test_one_defender_alternates():
    """Alone they break out, then defend the line, then break out again."""
    rotation = begun(squad="D1")
    assert [list(on(rotation, n).slots) for n in range(4)] == [["breakout"], ["line"]] * 2


def test_a_new_step_goes_on_with_the_order_of_turns():
    """Who has a next slot in it moves there; who has not goes out; the head of the queue comes in."""
    drill = drill_of(BREAKOUT, "Dbreakout>Dline Fwall Fmiddle Ffar Ggoal", "Dnew>Dold Fwall Ggoal")
    rotation = on(Rotation.first(drill.step("step0"), players(SQUAD)), 1)
    assert in_slots(rotation) == {"breakout": "D3", "line": "D2", "wall": "F3", "middle": "F4", "goal": "G1"}
    harder = rotation.change_step(drill.step("step1"))
    assert in_slots(harder) == {
        "breakout": "D4", "line": "D3", "wall": "F5", "middle": "F6", "far": "F7", "goal": "G1",
    }  # fmt: skip
    assert in_line(harder, F) == "F1 F2 F3 F4"
    other = rotation.change_step(drill.step("step2"))
    assert in_slots(other) == {"new": "D1", "old": "D4", "wall": "F5", "goal": "G1"}
    assert in_line(other, D) == "D2 D3"


def test_a_rep_that_was_not_played_goes_on_in_the_other_step():
    """Who finds his slot in it stays, whoever came in for nothing is next again, and the rep is the same."""
    drill = drill_of(BREAKOUT, "Dbreakout>Dline Fwall Ffar Ggoal")
    rotation = on(Rotation.first(drill.step("step0"), players(SQUAD)), 1)
    skipped = rotation.change_step(drill.step("step1"), played=False)
    assert (skipped.step, skipped.rep) == (drill.step("step1"), rotation.rep)
    assert in_slots(skipped) == {"breakout": "D3", "line": "D2", "wall": "F3", "far": "F4", "goal": "G1"}
    assert skipped.queues == rotation.queues
    assert in_slots(skipped.next_rep())["far"] == "F6"


def test_who_has_no_slot_in_the_other_step_is_back_in_line_in_the_old_order():
    """Whoever came in for the rep stands at the head as before it; who had had a turn, at the end as ever."""
    without_forwards = begun().change_step(step_of("Dbreakout>Dline Ggoal"), played=False)
    assert in_line(without_forwards, F) == "F1 F2 F3 F4 F5 F6 F7"
    assert turns_of(without_forwards, ident("F1")) == 0
    assert in_line(on(begun(), 1).change_step(step_of("Fwall"), played=False), D) == "D3 D4 D1 D2"
    long_way = on(begun("Fa>Fb>Fc", "F1 F2 F3 F4 F5"), 2)
    assert in_slots(long_way) == {"a": "F5", "b": "F4", "c": "F3"}
    assert in_line(long_way.change_step(step_of("Dx"), played=False), F) == "F5 F1 F2 F3 F4"


def test_a_step_tapped_by_mistake_costs_nobody_his_turn():
    """Round through all steps without a play and back: the same players as before come next."""
    drill = shipped_drill("breakout_attack")
    first, second, third = drill.steps
    rotation = on(Rotation.first(first, players(SQUAD)), 2)
    back = rotation
    for step in (second, third, first):
        back = back.change_step(step, played=False)
    assert back.slots["wall_f"] == rotation.slots["wall_f"]
    assert back.queues[F] == rotation.queues[F]
    assert back.rep == rotation.rep
    # of the two defenders one was in the second rep and has had a turn; the other one is still in
    assert rotation.slots["breakout_d"] in back.slots.values()
    turns = [turns_of(back, p.id) for p in players(SQUAD) if p.position == F]
    assert max(turns) - min(turns) <= 1


def test_a_defender_plays_forward_for_a_day():
    """They line up with the forwards, from the start or from now on."""
    as_forward = replace(player("D4"), position=F)
    rotation = Rotation.first(step_of(BREAKOUT), [*players("D1 D2 D3 F1 F2"), as_forward])
    assert in_line(rotation, F) == "D4"
    assert begun().arrive(as_forward).queues[F][-1] == ident("D4")
    assert ident("D4") not in begun().arrive(as_forward).queues[D]


def test_a_defender_helps_out_in_a_forward_slot():
    """They come out of it to the end of their own queue, and it is one of their turns as a forward only."""
    rotation = begun().swap("wall", ident("D4"))
    assert in_line(rotation, F).startswith("F1 ")
    assert ident("D4") not in rotation.queues[D]
    assert turns_of(rotation, ident("D4")) == 0
    assert in_line(rotation.next_rep(), D).endswith("D4")


def test_what_cannot_be_changes_nothing():
    """An unknown slot, an absent player, somebody who is there already: the rotation is the same."""
    rotation = on(begun(), 3)
    stays = (
        rotation.swap("nowhere", ident("F1")),
        rotation.swap("wall", ident("F99")),
        rotation.swap("wall", rotation.slots["wall"]),
        rotation.empty("nowhere"),
        rotation.leave(ident("F99")),
        rotation.arrive(player("F1")),
    )
    assert all(other == rotation for other in stays)
    assert rotation.empty("wall").empty("wall") == rotation.empty("wall")


def test_a_step_without_slots():
    """Everyone waits, and a rep is still a rep."""
    rotation = begun("", "D1 F1").next_rep()
    assert rotation.slots == {}
    assert in_line(rotation, D) == "D1"


def test_slots_that_lead_round_in_a_circle():
    """Nobody ever comes out, and nothing hangs: the players go round."""
    step = step_of("Fa>Fb")
    round_and_round = replace(step, slots=(step.slots[0], replace(step.slots[1], next="a")))
    rotation = Rotation.first(round_and_round, players("F1 F2 F3"))
    assert {on(rotation, n).slots["a"] for n in range(4)} == {ident("F1"), ident("F2")}
    assert in_line(on(rotation, 5), F) == "F3"


def test_nobody_moves_on_into_a_slot_that_has_become_another_groups():
    """A forward whose next slot is a defender's in the step that follows goes out to the end of the queue."""
    after = begun("Fa>Fb Dc", "F1 F2 F3 D1 D2").change_step(step_of("Fa Db"))
    assert in_slots(after) == {"a": "F3", "b": "D2"}
    assert in_line(after, F) == "F1 F2"


def test_who_is_not_here_cannot_leave():
    """It is the very same rotation then, and nothing is to be drawn again."""
    rotation = begun()
    assert rotation.leave(ident("F9")) is rotation
