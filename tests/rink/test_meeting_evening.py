"""Times at which meetings can begin, and what becomes of a family's entry in calendars."""

from dataclasses import replace
from datetime import time
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from invented_evenings import DAY, START, family, small_evenings

from evaltrack.rink.meeting_evening import (
    Break,
    Evening,
    MeetingSlot,
    MeetingWish,
    MeetingWishKind,
    minute_of,
)
from evaltrack.rink.meeting_times import rounds_of, starts_of
from evaltrack.rink.placed_evening import entries_of, locked, swapped

ONE, TWO = family(1), family(2)
KEPT = Evening(
    "e", DAY, START, slots={ONE: MeetingSlot(START, 1, uid="a"), TWO: MeetingSlot(time(18, 12), 1, uid="b")}
)


@given(small_evenings(5), st.integers(5, 60))
def test_no_meeting_runs_into_a_break_or_into_another(one, minutes):
    """Each begins when the one before is over, or right after a break; all fit before the end."""
    evening = replace(one[0], minutes=minutes)
    rounds = [minute_of(start) for start in rounds_of(evening, one[1])]
    spans = [(start, start + minutes) for start in rounds]
    pauses = [(minute_of(pause.start), minute_of(pause.end)) for pause in evening.breaks]
    for before, after in pairwise(spans):
        assert before[1] <= after[0]
    assert not any(a < d and c < b for a, b in spans for c, d in pauses)
    ends = {end for _, end in spans} | {end for _, end in pauses} | {minute_of(evening.start)}
    assert all(start in ends for start in rounds)
    assert len(rounds) >= -(-one[1] // evening.tables)


def test_the_end_bounds_the_starts():
    """The last meeting is over by then; without an end midnight is."""
    evening = Evening("e", DAY, time(23), minutes=15)
    assert starts_of(replace(evening, until=time(23, 40))) == (time(23), time(23, 15))
    assert starts_of(evening)[-1] == time(23, 30)
    breaks = (Break(time(23, 10), time(23, 20)),)
    assert starts_of(replace(evening, breaks=breaks)) == (time(23, 20), time(23, 35))


@pytest.mark.parametrize("kind", list(MeetingWishKind))
def test_a_wish_has_what_its_kind_asks_for(kind):
    """Nothing else makes a wish."""
    if kind is MeetingWishKind.NOT_COMING:
        assert MeetingWish(kind, ONE).players == {ONE}
        return
    with pytest.raises(ValueError, match="does not go with"):
        MeetingWish(kind, ONE)


def test_an_entry_counts_its_own_changes():
    """The same again changes nothing; another place counts, and so does a cancelled meeting."""
    moved = swapped(KEPT, ONE, TWO)
    without = replace(moved, slots={ONE: moved.slots[ONE]})
    assert [(e.uid, e.changes) for e in entries_of([KEPT])] == [("a", 0), ("b", 0)]
    assert {e.uid: e.changes for e in entries_of([KEPT, KEPT, locked(KEPT, ONE)])} == {"a": 0, "b": 0}
    assert {e.uid: e.changes for e in entries_of([KEPT, moved])} == {"a": 1, "b": 1}
    told = {e.uid: (e.changes, e.cancelled) for e in entries_of([KEPT, moved, without, without])}
    assert told == {"a": (1, False), "b": (2, True)}


def test_a_swap_gives_places_and_not_entries():
    """Each family keeps its entry in calendars; twice is as before, but for the locks."""
    once = swapped(KEPT, ONE, TWO)
    assert once.slots[ONE] == MeetingSlot(time(18, 12), 1, True, "a")
    twice = swapped(once, ONE, TWO)
    assert {p: replace(s, locked=False) for p, s in twice.slots.items()} == dict(KEPT.slots)
