"""The plain methods against published figures: what the estimates are measured against must be right."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plain_methods import (
    benjamini_hochberg,
    exact_interval,
    james_stein,
    jeffreys,
    mann_kendall,
    newcombe,
    theil_slope,
)
from published import AT_BATS, HITS, REST
from scipy.stats import false_discovery_control, theilslopes

from evaltrack.analysis.intervals import probability_below


def test_exact_interval():
    """NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4: 4 defectives of 20, 90 %."""
    assert exact_interval(4, 20, 0.9) == pytest.approx((0.0714, 0.4010), abs=5.1e-5)


@pytest.mark.parametrize(("done", "low", "high"), [(0, 0, 0.025 ** (1 / 10)), (10, 0.025 ** (1 / 10), 1)])
def test_exact_interval_at_the_ends(done, low, high):
    """With none or all done in ten the open end is where ten alike have the chance .025, by hand."""
    known = (low, 1 - high) if done == 0 else (low, high)
    assert exact_interval(done, 10, 0.95) == pytest.approx(known)


@pytest.mark.parametrize(
    ("done", "low", "high"), [(0, 0, 0.2172), (1, 0.0110, 0.3813), (5, 0.2235, 0.7765), (10, 0.7828, 1)]
)
def test_jeffreys(done, low, high):
    """Brown, Cai and DasGupta (2001), Stat Sci 16:101-133, of 10 tries at 95 %.

    The printed values are from memory; those of scipy's beta quantiles agree.
    """
    assert jeffreys(done, 10, 0.95) == pytest.approx((low, high), abs=5.1e-5)


def test_jeffreys_holds_what_its_density_holds():
    """The probability below each end is what the level says."""
    low, high = jeffreys(7, 12, 0.9)
    assert probability_below(7, 12, low) == pytest.approx(0.05)
    assert probability_below(7, 12, high) == pytest.approx(0.95)


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


def test_james_stein():
    """Efron and Morris (1975), JASA 70:311-319, Table 1, on the scale of shares.

    The mean is .265 and the factor .212; the first player goes from .400 to .294. The squared error of
    the rest of the season falls from .0753 to .0213, printed as .077 and .022, 3.5 times as little.
    """
    shares = HITS / AT_BATS
    mean = shares.mean()
    drawn = james_stein(shares, mean * (1 - mean) / AT_BATS)
    assert mean == pytest.approx(0.265, abs=5.1e-4)
    np.testing.assert_allclose((drawn - mean) / (shares - mean), 0.212, atol=5.1e-4)
    assert drawn[0] == pytest.approx(0.294, abs=5.1e-4)
    raw, less = np.sum((shares - REST) ** 2), np.sum((drawn - REST) ** 2)
    assert (raw, less) == pytest.approx((0.0753, 0.0213), abs=5.1e-5)
    assert (raw, less) == pytest.approx((0.077, 0.022), abs=2e-3)
    assert raw / less == pytest.approx(3.5, abs=0.051)


def test_james_stein_never_goes_past_the_mean():
    """Shares that differ less than luck alone would make them are all drawn to their mean."""
    np.testing.assert_allclose(james_stein([0.5, 0.52, 0.48, 0.5], 0.02), 0.5)


def test_mann_kendall_with_ties():
    """EPA QA/G-9S (2006), Data Quality Assessment: S 22, variance 155.33, Z 1.685."""
    s, variance, z = mann_kendall([10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15])
    assert s == 22
    assert variance == pytest.approx(155.33, abs=5.1e-3)
    assert z == pytest.approx(1.685, abs=5.1e-4)


def test_mann_kendall_turned_round():
    """Backwards in time the trend is the opposite, and equal values have none."""
    values = [10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15]
    assert mann_kendall(values[::-1]) == pytest.approx(np.multiply(mann_kendall(values), (-1, 1, -1)))
    assert mann_kendall([3, 3, 3, 3]) == (0, 0.0, 0.0)


def test_theil_slope():
    """Hollander and Wolfe, Nonparametric Statistical Methods, example 9.1: -.05625."""
    assert theil_slope([1, 2, 3, 4, 5], [1.26, 1.27, 1.12, 1.16, 1.03]) == pytest.approx(-0.05625, abs=1e-9)


@settings(max_examples=30)
@given(st.lists(st.floats(-5, 5), min_size=2, max_size=12))
def test_theil_slope_is_that_of_scipy(values):
    """The median of the slopes is that of scipy's theilslopes."""
    times = np.arange(len(values))
    assert theil_slope(times, values) == pytest.approx(theilslopes(values, times).slope)


PRINTED = np.array(
    [0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262, 0.5719, 0.6528,
     0.7590, 1.000]
)  # fmt: skip


def test_benjamini_hochberg():
    """Benjamini and Hochberg (1995), JRSSB 57:289-300: of 15 at q .05, 4 rejected, and 3 by Bonferroni."""
    assert benjamini_hochberg(PRINTED, 0.05).tolist() == [True] * 4 + [False] * 11
    assert np.sum(PRINTED <= 0.05 / 15) == 3


@settings(max_examples=30)
@given(st.lists(st.floats(1e-6, 1), min_size=1, max_size=20), st.sampled_from([0.05, 0.1, 0.3]))
def test_benjamini_hochberg_is_that_of_scipy(p, q):
    """Rejected are those whose adjusted p by scipy's false_discovery_control is at most q."""
    adjusted = false_discovery_control(p)
    clear = np.abs(adjusted - q) > 1e-12
    assert (benjamini_hochberg(np.array(p), q) == (adjusted <= q))[clear].all()


def test_benjamini_hochberg_takes_none_where_none_is_sure():
    """Large p values are all kept."""
    assert not benjamini_hochberg(np.array([0.4, 0.9, 0.2]), 0.1).any()
