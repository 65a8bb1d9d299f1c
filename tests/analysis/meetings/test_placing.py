"""An evening is the best there is, and wishes that cannot be met are named: held against all ways."""

from dataclasses import replace
from datetime import time
from random import Random

import pytest
from hypothesis import given, settings
from invented_evenings import DAY, START, ByHand, family, large_evening, small_evenings, wish

from evaltrack.analysis.meetings.placing import placed
from evaltrack.analysis.meetings.rules import Place, cost_of
from evaltrack.errors import EvaltrackError
from evaltrack.rink.meeting_evening import Evening, MeetingSlot, later


def _where(found, by_hand) -> list[Place]:
    rounds, slots = by_hand.grid.rounds, found.evening.slots
    return [Place(rounds.index(slots[one].start), slots[one].table - 1) for one in by_hand.who]


@settings(max_examples=30, deadline=None)
@given(small_evenings(4))
def test_no_way_through_a_small_evening_is_better(one):
    """As few wishes as can be are given up, and the cost of what is kept is the least; proven."""
    evening, families = one
    by_hand = ByHand(evening, families)
    found = placed(evening, by_hand.who)
    where = _where(found, by_hand)
    unmet = {wish for one in found.unmet for wish in [one.wish]}
    kept = frozenset(n for n, rule in enumerate(by_hand.rules) if not unmet & set(rule.wishes))
    assert len(by_hand.rules) - len(kept) == by_hand.best()[0]
    assert found.proven
    assert cost_of(where, by_hand.grid.tables) == by_hand.cost(kept)
    assert where in [list(way) for way in by_hand.ways]


@settings(max_examples=40, deadline=None)
@given(small_evenings(4))
def test_what_stands_against_a_wish_cannot_be_spared(one):
    """The wish does not go with all that is named, and goes as soon as any of it is left out."""
    evening, families = one
    by_hand = ByHand(evening, families)
    of = {wish: rule for rule in by_hand.rules for wish in rule.wishes}
    for unmet in placed(evening, by_hand.who).unmet:
        against = list(dict.fromkeys(of[wish] for wish in unmet.against))
        held = bool(unmet.locked)
        assert not by_hand.goes([of[unmet.wish], *against], held)
        for rule in against:
            assert by_hand.goes([of[unmet.wish], *(other for other in against if other is not rule)], held)
        if held:
            assert by_hand.goes([of[unmet.wish], *against], held=False) or len(unmet.locked) > 1


def test_the_same_evening_whatever_the_order_in_which_it_was_kept():
    """Worked out twice, and from slots in another order: the same times at the same tables."""
    evening, families = large_evening()
    first = placed(evening, families)
    mixed = list(first.evening.slots.items())
    Random(3).shuffle(mixed)
    again = placed(replace(evening, slots=dict(mixed)), families)
    assert again.evening == first.evening
    assert first.proven
    assert not first.unmet


def test_families_who_do_not_come_have_no_meeting():
    """Theirs is nobody's place, and a wish about them asks nothing."""
    asked = (wish("not coming", 1), wish("sibling", 0, 1), wish("not before", 2, time(18, 12)))
    found = placed(Evening("e", DAY, START, wishes=asked), [family(n) for n in range(3)])
    assert set(found.evening.slots) == {family(0), family(2)}
    assert [slot.start for _, slot in found.evening.in_order()] == [time(18), time(18, 12)]


def test_three_of_one_family_sit_in_a_row_without_a_break_between():
    """Two wishes make one family of three; the break is not within it, and they are at one table."""
    evening, families = large_evening()
    asked = (wish("sibling", 9, 2), wish("sibling", 2, 15))
    found = placed(replace(evening, wishes=asked), families)
    own = sorted(found.evening.slots[family(n)].start for n in (2, 9, 15))
    assert own[1:] == [later(own[0], 12), later(own[0], 24)]
    assert len({found.evening.slots[family(n)].table for n in (2, 9, 15)}) == 1
    assert not found.unmet


def test_a_locked_family_stays_and_a_lock_without_a_place_is_let_go():
    """What is locked is where it was, with its entry in calendars; a time that is gone is told."""
    evening, families = large_evening()
    first = placed(evening, families).evening
    slots = {one: replace(slot, locked=True) for one, slot in first.slots.items() if one in families[:3]}
    again = placed(replace(evening, wishes=(), slots=slots), families)
    assert all(again.evening.slots[one] == slots[one] for one in families[:3])
    moved = placed(replace(evening, start=time(18, 5), slots=slots), families)
    assert set(moved.let_go) == set(families[:3])
    assert moved.evening.slots[families[0]].uid == slots[families[0]].uid


def test_an_evening_that_is_too_short_says_what_it_needs():
    """How many rounds, for how many there is time, and what would help."""
    evening, families = large_evening()
    with pytest.raises(
        EvaltrackError, match="19 families need 10 rounds of 12 minutes at 2 tables, and there is"
    ):
        placed(replace(evening, until=time(19)), families)
    with pytest.raises(EvaltrackError, match="no family is to come"):
        placed(Evening("e", DAY, START), [])


def test_a_lock_alone_can_stand_against_a_wish():
    """Then the locked family is named."""
    slots = {family(1): MeetingSlot(START, 1, True)}
    found = placed(
        Evening("e", DAY, START, wishes=(wish("at", 0, START),), slots=slots), [family(0), family(1)]
    )
    (unmet,) = found.unmet
    assert (unmet.against, unmet.locked) == ((), (family(1),))
