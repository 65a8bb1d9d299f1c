"""Intervals for a share against published tables."""

import pytest

from evaltrack.analysis.intervals import chance_below, jeffreys, newcombe, wilson


@pytest.mark.parametrize(
    ("done", "tries", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_wilson(done, tries, low, high):
    """Newcombe (1998), Stat Med 17:857-872, Table I, method 3, 95 %."""
    found = wilson(done, tries, 0.95)
    assert found == pytest.approx((low, high), abs=5.1e-5)


def test_wilson_without_tries_says_nothing():
    """Nothing seen is anything from none to all."""
    assert wilson(0, 0) == pytest.approx((0, 1))


@pytest.mark.parametrize(
    ("counts", "low", "high"),
    [
        ((56, 70, 48, 80), 0.0524, 0.3339),
        ((9, 10, 3, 10), 0.1705, 0.8090),
        ((10, 10, 0, 20), 0.6791, 1.0),
    ],
)
def test_newcombe(counts, low, high):
    """Newcombe (1998), Stat Med 17:873-890, Table II, method 10, 95 %."""
    assert newcombe(*counts, level=0.95) == pytest.approx((low, high), abs=5.1e-5)


@pytest.mark.parametrize(
    ("done", "low", "high"), [(0, 0, 0.2172), (1, 0.0110, 0.3813), (5, 0.2235, 0.7765), (10, 0.7828, 1)]
)
def test_jeffreys(done, low, high):
    """Brown, Cai and DasGupta (2001), Stat Sci 16:101-133, of 10 tries at 95 %.

    The printed values are from memory; those of scipy's beta quantiles agree.
    """
    assert jeffreys(done, 10, 0.95) == pytest.approx((low, high), abs=1.1e-4)


def test_jeffreys_holds_what_its_density_holds():
    """The probability below the upper end is what the level says."""
    low, high = jeffreys(7, 12, 0.9)
    assert chance_below(7, 12, low) == pytest.approx(0.05)
    assert chance_below(7, 12, high) == pytest.approx(0.95)
