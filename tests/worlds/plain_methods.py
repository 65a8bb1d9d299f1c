"""The plain methods that a careful person would use without a model, as something to measure ours against.

They take counts as they are: nothing here knows of drills, pressure, observers or of a player's other
skills. ``tests/analysis/test_plain_methods.py`` holds each of them against published figures.
"""

import numpy as np
from scipy.special import betaincinv

from evaltrack.analysis.intervals import wilson

Array = np.ndarray


def exact_interval(done: Array | float, tries: Array | float, level: float = 0.9) -> tuple[Array, Array]:
    """Return the exact interval for a share: equal tails of the binomial itself.

    Clopper and Pearson (1934), Biometrika 26:404-413.
    """
    return _beta_tails(done, np.subtract(tries, done), level, 0.0, 1.0)


def jeffreys(done: Array | float, tries: Array | float, level: float = 0.9) -> tuple[Array, Array]:
    """Return Jeffreys' interval: equal tails of Beta(done + 1/2, missed + 1/2), 0 and 1 at the ends.

    Brown, Cai and DasGupta (2001), Stat Sci 16:101-133.
    """
    return _beta_tails(done, np.subtract(tries, done), level, 0.5, 0.5)


def _beta_tails(done, missed, level: float, own: float, other: float) -> tuple[Array, Array]:
    """Return the lower tail of Beta(done + own, missed + other), the upper of the mirrored one."""
    tail, done = (1 - level) / 2, np.asarray(done, float)
    # where a count is zero the end is 0 or 1, and Beta there may not exist
    low = betaincinv(np.maximum(done + own, 0.5), missed + other, tail)
    high = betaincinv(done + other, np.maximum(missed + own, 0.5), 1 - tail)
    return np.where(done == 0, 0.0, low), np.where(missed == 0, 1.0, high)


def newcombe(done, tries, other_done, other_tries, level: float = 0.9) -> tuple[Array, Array]:
    """Return the interval for the first share minus the second.

    Newcombe (1998), Stat Med 17:873-890, method 10: Wilson's intervals put together.
    """
    first, second = np.divide(done, tries), np.divide(other_done, other_tries)
    low, high = wilson(done, tries, level)
    other_low, other_high = wilson(other_done, other_tries, level)
    gap = first - second
    return gap - np.hypot(first - low, other_high - second), gap + np.hypot(high - first, second - other_low)


def james_stein(shares: Array, variances: Array) -> Array:
    """Return shares (m,) drawn towards their mean, the more the less they differ beyond their variances.

    With equal variances it is the estimator of Efron and Morris (1975), JASA 70:311-319, for an unknown
    mean, never drawn past it. With others each is drawn as the spread between players, so estimated,
    asks.
    """
    shares, variances = np.asarray(shares, float), np.broadcast_to(variances, np.shape(shares))
    mean = shares.mean()
    seen = np.sum((shares - mean) ** 2) / max(len(shares) - 3, 1)
    between = max(seen - variances.mean(), 0.0)
    return mean + between / (between + variances) * (shares - mean)


def mann_kendall(values: Array) -> tuple[int, float, float]:
    """Return S, its variance with ties, and Z with a correction for continuity, of values in order of time.

    Mann (1945), Econometrica 13:245-259; Kendall (1975), Rank Correlation Methods.
    """
    values = np.asarray(values, float)
    n = len(values)
    first, second = np.triu_indices(n, 1)
    s = int(np.sign(values[second] - values[first]).sum())
    ties = np.unique(values, return_counts=True)[1]
    variance = (n * (n - 1) * (2 * n + 5) - np.sum(ties * (ties - 1) * (2 * ties + 5))) / 18
    return s, float(variance), (s - np.sign(s)) / np.sqrt(variance) if variance > 0 else 0.0


def theil_slope(times: Array, values: Array) -> float:
    """Return the median of the slopes between every two points.

    Theil (1950), Proc Kon Ned Akad Wet A 53:386-392.
    """
    times, values = np.asarray(times, float), np.asarray(values, float)
    first, second = np.triu_indices(len(times), 1)
    return float(np.median((values[second] - values[first]) / (times[second] - times[first])))


def benjamini_hochberg(p: Array, q: float) -> Array:
    """Return which hypotheses to reject so that at most q of the rejected are expected to be true.

    Benjamini and Hochberg (1995), JRSSB 57:289-300, the step-up procedure.
    """
    p = np.asarray(p, float)
    ranked = np.sort(p)
    kept = np.flatnonzero(ranked <= q * np.arange(1, len(p) + 1) / len(p))
    return p <= ranked[kept[-1]] if len(kept) else np.zeros(len(p), bool)
