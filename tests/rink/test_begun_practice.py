"""Practices that tablets began without each other: which are one, and under which key each is held.

Cases: at once, late, an hour off; morning and evening; a second one of one tablet; what was loaded;
any order.
"""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.begun_practice import Begun, NewKeys, keys_of

DAY, SECOND, THIRD = "2025-11-12", "2025-11-12.2", "2025-11-12.3"
MINUTE, NOON = 60_000, 1_762_945_200_000


def begun(tablet: str, minutes: int | None, prefers: str = DAY) -> Begun:
    """Return a practice begun so many minutes after noon; without a tablet one that was loaded."""
    at = None if minutes is None else NOON + minutes * MINUTE
    return Begun((at or NOON) if tablet else 0, tablet, prefers, at)


@pytest.mark.parametrize(
    ("practices", "keys"),
    [
        ([begun("A", 0), begun("B", 4)], [DAY, DAY]),
        ([begun("A", 0), begun("B", 64)], [DAY, DAY]),
        ([begun("A", 0), begun("B", 91)], [DAY, SECOND]),
        ([begun("A", 360), begun("B", 0)], [SECOND, DAY]),
        ([begun("A", 0), begun("A", 70, SECOND)], [DAY, SECOND]),
        ([begun("A", 0), begun("A", 360, SECOND), begun("B", 365)], [DAY, SECOND, SECOND]),
        ([begun("A", 0), begun("A", 80, SECOND), begun("B", 75)], [DAY, SECOND, SECOND]),
        ([begun("", None), begun("B", 75)], [DAY, DAY]),
        ([begun("", None), begun("A", 0, SECOND), begun("B", 5)], [DAY, SECOND, SECOND]),
        ([begun("", 0), begun("B", 360)], [DAY, SECOND]),
        ([begun("A", 0, SECOND)], [SECOND]),
        ([begun("A", 0), begun("B", 200), begun("C", 400)], [DAY, SECOND, THIRD]),
    ],
)
def test_what_is_one_ice_time_has_one_key(practices, keys):
    """Each list is of one day."""
    found = keys_of(practices)
    assert [found[one] for one in practices] == keys


ANY = st.builds(
    begun,
    st.sampled_from(["", "A", "B", "C"]),
    st.one_of(st.none(), st.integers(0, 900)),
    st.sampled_from([DAY, SECOND, "2025-11-13", "of old"]),
)


@given(st.lists(ANY, unique=True, max_size=8), st.randoms(use_true_random=False))
def test_it_depends_on_what_is_given_and_not_on_the_order(practices, chance: random.Random):
    """Two of one tablet are two; the day stays; each group has a key of its own."""
    found = keys_of(practices)
    assert keys_of(chance.sample(practices, len(practices))) == found
    of_tablets = [(one.tablet, key) for one, key in found.items() if one.tablet]
    assert len(of_tablets) == len(set(of_tablets))
    assert all(key.startswith(one.day) for one, key in found.items())


def test_what_a_tablet_noted_goes_with_the_practice_that_it_began():
    """What else was noted goes with the one that was begun first."""
    early, late = begun("A", 0), begun("B", 60)
    new = NewKeys({early: DAY, late: SECOND}, {early: DAY, late: DAY})
    assert [new.of(DAY, tablet) for tablet in ("A", "B", "C", "")] == [DAY, SECOND, DAY, DAY]
    assert new.of("2025-12-01", "B") == "2025-12-01"
    assert not new.same
    assert NewKeys({early: DAY, late: DAY}, {early: DAY, late: DAY}).same
