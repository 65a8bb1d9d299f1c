"""How well a share is known, and how many more tries make it known well enough."""

import numpy as np
from scipy.special import expit, ndtri

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.season_model import SkillFit

Array = np.ndarray
WANTED = 0.30  # points across of the 90 % interval: 15 to either side
Z = float(ndtri(0.95))
BISECTIONS = 50


def width(middle: Array, sd: Array) -> Array:
    """Return how many points the 90 % interval is across, of a share whose logit is normal."""
    return expit(middle + Z * sd) - expit(middle - Z * sd)


def information(fit: SkillFit, middle: Array) -> Array:
    """Return what one more try tells of the logit of a share, as precision.

    A try at a share s tells s (1 - s). Tries of one practice share its good or bad day, so n of them tell
    no more than n s (1 - s) / (1 + n s (1 - s) var): n is how many a player usually has at a practice in
    this skill, var the variance between practices.
    """
    predictor, share = fit.predictor, expit(middle)
    day = predictor.acting(Effect.PRACTICE)
    visits = np.unique(predictor.acting(Effect.LEVEL) * (day.max() + 1) + day)
    each = predictor.design.tries[predictor.cells].sum() / len(visits)
    plain = share * (1 - share)
    return plain / (1 + each * plain * fit.sd(Effect.PRACTICE) ** 2)


def tries_to_go(middle: Array, variance: Array, information: Array) -> Array:
    """Return how many more tries bring the 90 % interval to 30 points across, as whole numbers.

    Parameters
    ----------
    middle, variance : mean and variance of each share's logit.
    information : what one more try tells of it, as precision.
    """
    low, high = np.zeros_like(variance), np.asarray(variance, float)
    for _ in range(BISECTIONS):
        middle_one = (low + high) / 2
        wide = width(middle, np.sqrt(middle_one)) > WANTED
        low, high = np.where(wide, low, middle_one), np.where(wide, middle_one, high)
    enough = width(middle, np.sqrt(variance)) <= WANTED
    return np.where(enough, 0, np.ceil((1 / low - 1 / variance) / information)).astype(int)
