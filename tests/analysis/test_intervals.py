"""What plain counts say of a share, against published tables and reference libraries."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest

from evaltrack.analysis.intervals import probability_below, wilson

COUNTS = st.integers(1, 400).flatmap(lambda tries: st.tuples(st.integers(0, tries), st.just(tries)))


@pytest.mark.parametrize(
    ("done", "tries", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_wilson(done, tries, low, high):
    """Newcombe (1998), Stat Med 17:857-872, Table I, method 3, 95 %."""
    assert wilson(done, tries, 0.95) == pytest.approx((low, high), abs=5.1e-5)


@given(COUNTS, st.sampled_from([0.5, 0.9, 0.99]))
def test_wilson_is_that_of_scipy(counts, level):
    """For any counts the interval is that of scipy's binomtest."""
    known = binomtest(*counts).proportion_ci(level, "wilson")
    assert wilson(*counts, level) == pytest.approx(tuple(known), abs=1e-12)


def test_wilson_without_tries_says_nothing():
    """Nothing seen is anything from none to all."""
    assert wilson(0, 0) == pytest.approx((0, 1))


@pytest.mark.parametrize(
    ("done", "end", "below"),
    [(0, 0.2172, 0.975), (1, 0.0110, 0.025), (1, 0.3813, 0.975), (5, 0.2235, 0.025), (5, 0.7765, 0.975),
     (10, 0.7828, 0.025)],
)  # fmt: skip
def test_probability_below_at_the_ends_of_the_published_intervals(done, end, below):
    """Brown, Cai and DasGupta (2001), Stat Sci 16:101-133, of 10 tries: the ends cut off .025 a side.

    The printed ends are from memory. They have four digits, so the chance is held between theirs.
    """
    assert probability_below(done, 10, end - 5.1e-5) < below < probability_below(done, 10, end + 5.1e-5)
