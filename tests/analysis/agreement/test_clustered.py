"""Errors and intervals of tries that hang together in minutes: against other methods, laws, and coverage."""

import numpy as np
import pytest
import statsmodels.api as sm
from bench_agreement import STATISTICS, WORLDS, covers, rows_of
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats.inter_rater import cohens_kappa

from evaltrack.analysis.agreement.agreement import (
    ENOUGH,
    cohen_kappa,
    done_difference,
    gwet_ac1,
    raw_share,
)
from evaltrack.analysis.agreement.clustered import (
    FEWEST_MINUTES,
    coefficient_interval,
    jackknife_error,
    share_below,
    share_interval,
    tries_worth,
)

MINUTES = st.lists(
    st.lists(st.integers(0, 6), min_size=4, max_size=4).filter(any), min_size=FEWEST_MINUTES, max_size=40
).map(lambda cells: np.reshape(cells, (-1, 2, 2)))


def agreed(rng: np.random.Generator, minutes: int, tries) -> np.ndarray:
    """Return tables whose minutes agree in nine tenths or in half of their tries."""
    alike = rng.binomial(tries, rng.choice([0.9, 0.5], minutes))
    return np.stack([alike, tries - alike, 0 * alike, 0 * alike], -1).reshape(-1, 2, 2)


def test_the_error_of_equal_minutes_is_that_of_a_mean():
    """Where each minute has as many tries, the error of a share is s / sqrt(m)."""
    tables = agreed(np.random.default_rng(3), 12, np.full(12, 10))
    shares = raw_share(tables)
    assert jackknife_error(raw_share, tables) == pytest.approx(shares.std(ddof=1) / np.sqrt(12), rel=1e-12)


def test_the_error_of_unequal_minutes_is_the_cluster_robust_one():
    """Over 300 minutes it is what statsmodels' regression on nothing finds with clusters, to one in fifty."""
    rng = np.random.default_rng(4)
    tries = rng.integers(2, 9, 300)
    tables = agreed(rng, 300, tries)
    groups = np.repeat(np.arange(300), tries)
    seen = np.concatenate([np.arange(n) < alike for n, alike in zip(tries, tables[:, 0, 0], strict=True)])
    known = sm.OLS(seen.astype(float), np.ones(len(seen))).fit(
        cov_type="cluster", cov_kwds={"groups": groups}
    )
    assert jackknife_error(raw_share, tables) == pytest.approx(known.bse[0], rel=0.02)


@pytest.mark.parametrize("table", [[[40, 9], [6, 45]], [[120, 30], [20, 30]]])
def test_the_error_of_kappa_is_the_published_one(table):
    """Where each minute has one try, it is Fleiss, Cohen and Everitt's (1969), as statsmodels has it."""
    cells = np.repeat(np.eye(4, dtype=int), np.ravel(table), axis=0).reshape(-1, 2, 2)
    known = cohens_kappa(np.array(table)).std_kappa
    assert jackknife_error(cohen_kappa, cells) == pytest.approx(known, rel=0.02)


@given(MINUTES)
def test_the_chance_of_too_little_goes_with_the_interval(tables):
    """It is under .05 or over .95 just where the interval lies above or below what is enough."""
    low, high = share_interval(raw_share, tables)
    below = share_below(raw_share, tables, ENOUGH)
    if min(abs(low - ENOUGH), abs(high - ENOUGH)) > 1e-9:
        assert (below < 0.05, below > 0.95) == (low > ENOUGH, high < ENOUGH)


@given(MINUTES)
def test_intervals_hold_the_figure(tables):
    """Every interval lies within what is possible and holds the figure it is about."""
    low, high = share_interval(raw_share, tables)
    assert 0 <= low <= raw_share(tables.sum(0)) <= high <= 1
    for statistic in (cohen_kappa, gwet_ac1, done_difference):
        low, high = coefficient_interval(statistic, tables)
        assert low is None or -1 <= low < statistic(tables.sum(0)) < high <= 1


@given(MINUTES)
def test_tries_are_never_worth_more_than_they_are(tables):
    """Minutes that happen to be alike do not make more of the tries than there were."""
    assert 0 < tries_worth(raw_share, tables) <= tables.sum() * (1 + 1e-12)


def test_equal_minutes_are_no_certainty():
    """Four of five in every one of ten minutes shows no spread, yet 50 tries leave room for .7 and .88."""
    tables = np.array([[[4, 1], [0, 0]]] * 10)
    low, high = share_interval(raw_share, tables)
    assert (low, high) == pytest.approx((0.68, 0.88), abs=0.01)
    assert coefficient_interval(gwet_ac1, tables) == (None, None)


@pytest.mark.parametrize("world", WORLDS)
def test_intervals_cover_what_they_say(world):
    """Of 500 comparisons of 15 minutes nine in ten intervals hold the truth, as near as 500 can tell.

    Where nearly all agree there are two splits or three to count, and intervals hold a little more.
    """
    pair = WORLDS[world]
    found = rows_of(pair, minutes=15, times=500)
    for name, statistic in STATISTICS.items():
        held, none = covers(found, name, float(statistic(pair.truth())))
        assert 0.87 <= held <= (0.98 if pair.agree > 0.95 else 0.96), name
        assert none < 0.2, name
