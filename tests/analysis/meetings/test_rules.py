"""The rules of an evening and its cost, by hand; and what is told when there is no time to find the best."""

from datetime import time

import pytest
from invented_evenings import DAY, START, family, large_evening, wish

from evaltrack.analysis.meetings import placing
from evaltrack.analysis.meetings.placing import placed
from evaltrack.analysis.meetings.programme import Found, Programme
from evaltrack.analysis.meetings.rules import Place, broken, cost_at, cost_of, grid_of, is_kept, rules_of
from evaltrack.errors import EvaltrackError
from evaltrack.rink.meeting_evening import Break, Evening, later

ROUNDS = (time(18), time(18, 12), time(18, 34), time(18, 46), time(18, 58))
EVENING = Evening("e", DAY, START, 12, 2, (Break(time(18, 24), time(18, 34)),))
GRID = grid_of(EVENING, ROUNDS)
WHO = [family(n) for n in range(5)]


def one_rule(*wishes):
    (rule,) = rules_of(Evening("e", DAY, START, 12, 2, wishes=wishes), WHO, GRID)
    return rule


def test_runs_do_not_go_over_a_break():
    """Two in a row and three in a row, at each table; four there are not."""
    starts = {length: sorted({run[0].round for run in GRID.runs(length)}) for length in (1, 2, 3, 4)}
    assert starts == {1: [0, 1, 2, 3, 4], 2: [0, 2, 3], 3: [2], 4: []}
    assert all(len({place.table for place in run}) == 1 for run in GRID.runs(3))
    assert GRID.runs(3)[0] == (Place(2, 0), Place(3, 0), Place(4, 0))


@pytest.mark.parametrize(
    ("asked", "allowed"),
    [
        (wish("not before", 1, time(18, 34)), {2, 3, 4}),
        (wish("not after", 1, time(18, 46)), {0, 1, 2}),
        (wish("at", 1, time(18, 12)), {1}),
    ],
)
def test_a_time_allows_rounds(asked, allowed):
    """From then on, over by then, just then; at either table."""
    rule = one_rule(asked)
    assert rule.families == (1,)
    assert rule.allowed == {Place(r, t) for r in allowed for t in (0, 1)}


def test_a_table_allows_all_its_rounds():
    """Tables count from one."""
    assert one_rule(wish("table", 3, 2)).allowed == {Place(r, 1) for r in range(5)}


def test_rules_are_kept_or_not():
    """Next to each other in either order; not at the same time; one of a family of three apart breaks it."""
    both = one_rule(wish("sibling", 0, 1))
    assert is_kept(both, [Place(1, 0), Place(0, 0)], GRID)
    assert not is_kept(both, [Place(1, 0), Place(2, 0)], GRID)
    assert not is_kept(both, [Place(0, 0), Place(1, 1)], GRID)
    three = one_rule(wish("sibling", 2, 1), wish("sibling", 2, 0))
    assert three.families == (0, 1, 2)
    assert is_kept(three, [Place(4, 1), Place(2, 1), Place(3, 1)], GRID)
    assert not is_kept(three, [Place(4, 1), Place(0, 1), Place(3, 1)], GRID)
    apart = one_rule(wish("not with", 0, 1))
    assert is_kept(apart, [Place(1, 0), Place(0, 0)], GRID)
    assert not is_kept(apart, [Place(1, 0), Place(1, 1)], GRID)


def test_the_cost_of_a_place():
    """A hundred for each round, four for each squared round away from one's turn, one for the other table."""
    assert [cost_at(0, Place(r, 0), 2) for r in range(4)] == [0, 104, 216, 336]
    assert cost_at(5, Place(0, 1), 2) == 16
    assert cost_at(5, Place(2, 0), 2) == 201
    assert cost_of([Place(0, 0), Place(1, 1)], 2) == 104
    assert cost_of([Place(0, 0), Place(0, 1)], 2) == 0


def test_whatever_is_wrong_with_places_is_said():
    """Two at one place, a place that is not there, a rule that is not kept, one who is not held."""
    rule = one_rule(wish("at", 0, time(18)))
    good = [Place(0, 0), Place(0, 1)]
    assert broken(good, [rule], {1: Place(0, 1)}, GRID) == []
    assert broken([Place(0, 0), Place(0, 0)], [], {}, GRID) == ["1 meetings share a place"]
    assert broken([Place(0, 0), Place(9, 0)], [], {}, GRID)[0].startswith("no place")
    assert broken(good[::-1], [one_rule(wish("table", 0, 1))], {}, GRID) == ["table of (0,)"]
    assert broken(good, [], {0: Place(0, 1)}, GRID) == ["0 is not held"]


def test_without_wishes_families_come_in_order_of_number():
    """One after the other at each table, and none later than need be."""
    evening, families = large_evening()
    found = placed(Evening("e", DAY, START, 12, 2, evening.breaks), families)
    assert [player for player, _ in found.evening.in_order()] == families
    assert [slot.table for _, slot in found.evening.in_order()] == [1, 2] * 9 + [1]


def test_an_evening_that_is_not_proven_says_by_how_much(monkeypatch):
    """A bound below the cost leaves a gap; then nothing is called the best."""
    evening, families = large_evening()
    solve = Programme.solve
    monkeypatch.setattr(Programme, "solve", lambda *given: solve(*given)._replace(bound=0.0))
    found = placed(evening, families)
    assert not found.proven
    assert found.gap > placing.LEAST_GAP


def test_no_evening_in_time_is_a_sentence(monkeypatch):
    """A limit that passes without an answer is not taken for a clash of wishes."""
    evening, families = large_evening()
    monkeypatch.setattr(Programme, "solve", lambda *_: Found(None, frozenset(), False, float("-inf")))
    with pytest.raises(EvaltrackError, match="no evening was found in time"):
        placed(evening, families)


def test_an_answer_that_breaks_a_rule_is_never_shown(monkeypatch):
    """What the solver says is counted again in plain Python."""
    evening, families = large_evening()
    solve = Programme.solve

    def wrong(*given):
        found = solve(*given)
        return found._replace(where=(found.where[1], *found.where[1:]))

    monkeypatch.setattr(Programme, "solve", wrong)
    with pytest.raises(ArithmeticError, match="1 meetings share a place"):
        placed(evening, families)


def test_two_families_with_brothers_and_sisters_are_two_rules():
    """Each pair sits in a row, whatever the other does."""
    asked = (wish("sibling", 0, 7), wish("sibling", 3, 9))
    rules = rules_of(Evening("e", DAY, START, wishes=asked), [family(n) for n in range(10)], GRID)
    assert [(rule.families, rule.wishes) for rule in rules] == [((0, 7), asked[:1]), ((3, 9), asked[1:])]
    evening, families = large_evening()
    found = placed(Evening("e", DAY, START, 12, 2, evening.breaks, wishes=asked), families)
    slots = found.evening.slots
    for one, other in ((0, 7), (3, 9)):
        pair = sorted(slots[family(n)].start for n in (one, other))
        assert pair[1] == later(pair[0], 12)
        assert slots[family(one)].table == slots[family(other)].table


def test_brothers_and_sisters_without_a_row_long_enough_are_told():
    """Breaks leave no three in a row: the family is not met, and no other wish is blamed for it."""
    breaks = tuple(Break(later(START, 24 + 34 * n), later(START, 34 + 34 * n)) for n in range(6))
    asked = (wish("at", 4, START), wish("sibling", 0, 1), wish("sibling", 1, 2))
    found = placed(Evening("e", DAY, START, 12, 1, breaks, wishes=asked), WHO)
    assert [(one.wish, one.against, one.locked) for one in found.unmet] == [(w, (), ()) for w in asked[1:]]
    assert found.evening.slots[WHO[4]].start == START
