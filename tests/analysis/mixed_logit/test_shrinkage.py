"""How far the engine draws raw shares towards the mean, against published shrinkage and its formula."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import AT_BATS, HITS, REST
from scipy.special import expit
from scipy.stats import binom

from evaltrack.analysis.mixed_logit import Priors, Term, fit_mixed_logit


def fitted(done, tries, priors=None):
    """Return the shares of players, all watched alike, by the engine with one term, and the fit."""
    each = np.arange(len(done))
    fit = fit_mixed_logit(done, np.full(len(done), tries), np.ones((len(done), 1)), [Term(each)], priors)
    return expit(fit.fixed[0] + fit.effects[0]), fit


def reliability(tries, mean, sd):
    """Return which part of the differences between raw shares is real: n / (n + a + b).

    The true shares have this mean and SD; a + b = mean (1 - mean) / sd^2 - 1.
    """
    return tries / (tries + mean * (1 - mean) / sd**2 - 1)


@pytest.mark.parametrize("priors", [None, Priors(1.5, 0.5)], ids=["likelihood", "priors"])
def test_the_rest_of_a_season_as_well_as_james_and_stein(priors):
    """Efron and Morris (1975), JASA 70:311-319: from 45 at-bats each to the rest of the season.

    The squared error of raw shares is .0753, that of James and Stein's .0213. The engine's, on the logit
    scale and by likelihood, has to come within a tenth of that.
    """
    shares, fit = fitted(HITS, AT_BATS, priors)
    assert fit.converged
    assert np.sum((HITS / AT_BATS - REST) ** 2) == pytest.approx(0.0753, abs=5.1e-5)
    assert np.sum((shares - REST) ** 2) < 1.1 * 0.0213
    assert np.all(np.diff(shares) <= 1e-9)  # in the order of the raw shares, and less apart
    assert np.ptp(shares) < np.ptp(HITS / AT_BATS)


def crowd(tries, level, spread, players=600):
    """Return counts of players whose logits are normal, as they fall without luck, and mean and SD of shares.

    The counts are the quantiles of their own distribution, so nothing hangs on a seed.
    """
    nodes, masses = np.polynomial.hermite_e.hermegauss(61)
    share, masses = expit(level + spread * nodes), masses / masses.sum()
    below = np.cumsum(masses @ binom.pmf(np.arange(tries + 1), tries, share[:, None]))
    counts = np.searchsorted(below, (np.arange(players) + 0.5) / players)
    mean = masses @ share
    return counts, mean, np.sqrt(masses @ (share - mean) ** 2)


@pytest.mark.parametrize("priors", [None, Priors(1.5, 0.5)], ids=["likelihood", "priors"])
@pytest.mark.parametrize(("level", "spread"), [(0.0, 0.7), (1.2, 0.7), (0.4, 0.35)])
@pytest.mark.parametrize("tries", [10, 20, 45])
def test_shrinkage_is_the_reliability(tries, level, spread, priors):
    """With balanced counts each share moves to the mean as n / (n + a + b) says, to .02.

    The formula is exact for beta shares. Ours are normal on the logit scale, and nearly the same.
    """
    counts, mean, sd = crowd(tries, level, spread)
    shares, fit = fitted(counts, tries, priors)
    assert fit.converged
    slope = np.polyfit(counts / tries, shares, 1)[0]
    assert slope == pytest.approx(reliability(tries, mean, sd), abs=0.02)


@pytest.mark.parametrize("priors", [None, Priors(1.5, 0.5)], ids=["likelihood", "priors"])
def test_shrinkage_with_luck_in_the_counts(priors):
    """Of 1500 simulated players with 15 tries, shares move as the truth asks: slope one of truth on share."""
    rng = np.random.default_rng(12)
    truth = expit(0.4 + 0.7 * rng.normal(size=1500))
    shares, _ = fitted(rng.binomial(15, truth), 15, priors)
    assert np.polyfit(shares, truth, 1)[0] == pytest.approx(1, abs=0.08)


@given(st.floats(0.1, 0.9), st.floats(0.02, 0.2), st.integers(1, 60))
def test_the_formula_is_what_a_beta_prior_does(mean, sd, tries):
    """The beta with this mean and SD, met with counts, draws the raw share by just n / (n + a + b)."""
    worth = mean * (1 - mean) / sd**2 - 1
    a, b = mean * worth, (1 - mean) * worth
    assert a * b / ((a + b) ** 2 * (a + b + 1)) == pytest.approx(sd**2)  # the variance of Beta(a, b)
    none, every = a / (a + b + tries), (a + tries) / (a + b + tries)
    assert every - none == pytest.approx(reliability(tries, mean, sd))
    assert none == pytest.approx(mean * (1 - reliability(tries, mean, sd)))
