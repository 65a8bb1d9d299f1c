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
    z2 = ndtri((1 + level) / 2) ** 2
    middle = (done + z2 / 2) / (tries + z2)
    share = np.divide(done, tries, out=np.zeros(np.broadcast(done, tries).shape), where=tries > 0)
    half = np.sqrt(z2 * (tries * share * (1 - share) + z2 / 4)) / (tries + z2)
    # the ends are exact there, and rounding must not take them away from the share
    low = np.where(done <= 0, 0.0, np.maximum(middle - half, 0.0))
    return low, np.where(done >= tries, 1.0, np.minimum(middle + half, 1.0))


def probability_below(done: float, tries: float, target: float) -> float:
    """Return the probability that the share is below a target, by Jeffreys' prior and counts alone."""
    return float(betainc(done + 0.5, tries - done + 0.5, target))
