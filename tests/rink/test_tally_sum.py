"""Sums of tallies by what becomes of them."""

from dataclasses import astuple

from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.tally_sum import TallySum, total

COUNT = st.integers(0, 12_000)
SUMS = st.lists(st.builds(TallySum, COUNT, COUNT, COUNT, COUNT), max_size=5)


@given(SUMS)
def test_a_total_adds_each_kind_by_itself(sums):
    """None are none of any kind, and the tallies are all kinds together."""
    whole = total(sums)
    assert astuple(whole) == tuple(sum(kind) for kind in zip((0, 0, 0, 0), *map(astuple, sums), strict=True))
    assert whole.tallies == sum(sum(astuple(one)) for one in sums)
