"""In which line a player of two groups waits: everybody in one, the lines as even as they can be."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from lined_up import D, F, ident, player, players, step_of

from evaltrack.rink.rotation.lines import lines_joined
from evaltrack.rink.rotation.rotation import Rotation

STEP = step_of("Dbreakout>Dline Fwall Fmiddle Ggoal")


def both(name: str):
    """Return a player of this group who plays in the other one too."""
    one = player(name)
    return replace(one, also=F if one.position is D else D)


def groups(*names: str, squad: str, step=STEP) -> list[str]:
    """Return the lines of players of two groups, lined up before a squad of players of one."""
    lines = lines_joined(step, [*map(both, names), *players(squad)])
    return [lines[ident(name)] for name in names]


def test_the_shorter_line_is_the_one_in_which_turns_come_round_soonest():
    """Three to one way in for defenders against four to two for forwards: the forwards' line is shorter."""
    assert groups("D9", squad="D1 D2 D3 F1 F2 F3 F4") == [F]
    assert groups("D9", squad="D1 F1 F2 F3 F4") == [D]


def test_of_equal_lines_it_is_that_of_the_first_group():
    """With one to one and two to two, who is named a forward first waits with the forwards."""
    assert groups("D9", squad="D1 F1 F2") == [D]
    assert groups("F9", squad="D1 F1 F2") == [F]


def test_several_of_two_groups_fill_both_lines():
    """Each sees where the one before went: four alone make one pair of forwards to each way in."""
    assert sorted(groups("D6", "D7", "D8", "D9", squad="")) == [D, D, F, F]


def test_nobody_waits_for_a_step_that_has_no_slot_for_that_line():
    """A step of forwards alone takes a defender who is a forward too, however many forwards wait."""
    assert groups("D9", squad="F1 F2 F3 F4", step=step_of("Fwall Fmiddle")) == [F]


def test_who_comes_late_joins_the_shorter_line_and_stays_in_it():
    """The lines that stand are looked at; who is in a line already changes nothing by coming again."""
    rotation = Rotation.first(STEP, players("D1 D2 D3 F1 F2 F3"))
    after = rotation.arrive(both("D9"))
    assert after.groups[ident("D9")] is F
    assert after.arrive(both("D9")) is after
    assert after.arrive(player("D9")).groups[ident("D9")] is D


@given(st.lists(st.sampled_from(["D1", "D2", "D3", "D4", "F1", "F2", "F3", "F4", "F5", "F6"]), unique=True))
def test_nobody_would_have_been_better_off_in_the_other_line(names):
    """As many as there are of two groups: no line is longer by more than whoever joined it last."""
    squad = [both(name) if int(name[1:]) % 2 else player(name) for name in names]
    lines = lines_joined(STEP, squad)
    assert list(lines) == [one.id for one in squad]
    assert all(lines[one.id] in one.positions for one in squad)
    shares = {group: sum(line is group for line in lines.values()) / ways for group, ways in ((D, 1), (F, 2))}
    for group, other, step in ((D, F, 1), (F, D, 0.5)):
        if any(lines[one.id] is group for one in squad if one.also):
            assert shares[group] - step <= shares[other]
