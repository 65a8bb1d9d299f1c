"""Intervals for a share from plain counts, for where no model speaks."""

import numpy as np
from scipy.special import betainc, ndtri

Array = np.ndarray


def wilson(done: Array | float, tries: Array | float, level: float = 0.9) -> tuple[Array, Array]:
    """Return Wilson's score interval for a share.

    Wilson (1927), JASA 22:209-212; Newcombe (1998), Stat Med 17:857-872, method 3. Without tries it is 0
    to 1.
    """
    done, tries = np.asarray(done, float), np.asarray(tries, float)
    share = np.divide(done, tries, out=np.zeros(np.broadcast(done, tries).shape), where=tries > 0)
    low, high = score_interval(share, tries, ndtri((1 + level) / 2))
    return low, np.where(tries > 0, high, 1.0)


def score_interval(share: Array | float, tries: Array | float, quantile: float) -> tuple[Array, Array]:
    """Return Wilson's interval about a share of so many tries, which need not be whole, by any quantile."""
    share, z2 = np.asarray(share, float), quantile**2
    middle = (tries * share + z2 / 2) / (tries + z2)
    half = np.sqrt(z2 * (tries * share * (1 - share) + z2 / 4)) / (tries + z2)
    # the ends are exact there, and rounding must not take them away from the share
    low = np.where(share <= 0, 0.0, np.maximum(middle - half, 0.0))
    return low, np.where(share >= 1, 1.0, np.minimum(middle + half, 1.0))


def probability_below(done: float, tries: float, target: float) -> float:
    """Return the probability that the share is below a target, by Jeffreys' prior and counts alone."""
    return float(betainc(done + 0.5, tries - done + 0.5, target))
