"""Intervals of figures counted from tries that hang together in minutes.

The standard error is the jackknife's over minutes, and its quantiles Student's with one degree of freedom
less than there are minutes: what Cameron and Miller (2015), J Hum Resour 50:317-372, advise for few clusters.
Percentiles of a bootstrap over minutes are too narrow there.
"""

from collections.abc import Callable

import numpy as np
from scipy.special import stdtr, stdtrit

from evaltrack.analysis.intervals import score_interval

LEVEL = 0.9
FEWEST_MINUTES = 6  # fewer say nothing about how minutes differ

Statistic = Callable[[np.ndarray], np.ndarray]
Interval = tuple[float | None, float | None]


def jackknife_error(statistic: Statistic, tables: np.ndarray) -> float:
    """Return the standard error of a statistic of the sum of tables (minutes, k, k).

    It is nan where the statistic is not defined without one of the minutes.
    """
    without_one = statistic(tables.sum(0) - tables)
    return float(np.sqrt((len(tables) - 1) * without_one.var()))


def coefficient_interval(statistic: Statistic, tables: np.ndarray) -> Interval:
    """Return the interval of a statistic that lies between -1 and 1, by Fisher's z.

    Lin (1989), Biometrics 45:255-268, shows that coefficients of agreement, which pile up under 1, are
    nearly normal on that scale. There is none at -1 and 1, nor where minutes show no spread.
    """
    if len(tables) < FEWEST_MINUTES:
        return None, None
    value, error = float(statistic(tables.sum(0))), jackknife_error(statistic, tables)
    # not "error <= 0": nan must end here too
    if not (error > 1e-12 and abs(value) < 1):
        return None, None
    half = _quantile(tables) * error / (1 - value**2)
    return float(np.tanh(np.arctanh(value) - half)), float(np.tanh(np.arctanh(value) + half))


def share_interval(statistic: Statistic, tables: np.ndarray) -> Interval:
    """Return the interval of a share: Wilson's, with as many tries as these are worth.

    Franco, Little, Louis and Slud (2019), J Surv Stat Methodol 7:334-364, recommend it of eight.
    """
    if len(tables) < FEWEST_MINUTES:
        return None, None
    share = float(statistic(tables.sum(0)))
    low, high = score_interval(share, tries_worth(statistic, tables), _quantile(tables))
    return float(low), float(high)


def share_below(statistic: Statistic, tables: np.ndarray, target: float) -> float | None:
    """Return the probability that a share is below a target: the one by which ``share_interval`` ends.

    It is under (1 - LEVEL) / 2 just where the interval lies above the target, and over (1 + LEVEL) / 2
    just where it lies below.
    """
    if len(tables) < FEWEST_MINUTES:
        return None
    error = np.sqrt(target * (1 - target) / tries_worth(statistic, tables))
    return float(stdtr(len(tables) - 1, (target - statistic(tables.sum(0))) / error))


def tries_worth(statistic: Statistic, tables: np.ndarray) -> float:
    """Return how many tries that do not hang together would tell as much about a share.

    Never more than there are: minutes that are more alike than chance makes them are chance too (Parker et
    al. 2017, Vital Health Stat 2:175). Where all tries are alike their spread is unknown, and each
    minute counts as one.
    """
    share = float(statistic(tables.sum(0)))
    if share in (0, 1):
        return len(tables)
    variance, tries = jackknife_error(statistic, tables) ** 2, int(tables.sum())
    return share * (1 - share) / max(variance, share * (1 - share) / tries)


def _quantile(tables: np.ndarray) -> float:
    return float(stdtrit(len(tables) - 1, (1 + LEVEL) / 2))
