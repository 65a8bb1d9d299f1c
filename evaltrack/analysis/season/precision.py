"""How well a share is known, and how many more tries make it known well enough.

The tries of one player are not made while the season stands still: others go on as well, the steps and the
observers become better known, and the share that is asked for is that of a later day. So the season is taken
to go on as it went so far. With half as many tries again of everyone, spread over the new time axis as the
ones so far are over the old one, all that tries told grows by a half, and what is believed beforehand stays.
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import expit, ndtri

from evaltrack.analysis.season.outlook import Outlook
from evaltrack.analysis.season.season_design import FULL_PRACTICES
from evaltrack.analysis.season.season_model import SkillFit

Array = np.ndarray
WANTED = 0.30  # points across of the 90 % interval: 15 to either side
Z = float(ndtri(0.95))
BISECTIONS = 40
LEAST = 1e-12  # of the variance beforehand: less is rounding


def width(middle: Array, sd: Array) -> Array:
    """Return how many points the 90 % interval is across, of a share whose logit is normal."""
    return expit(middle + Z * sd) - expit(middle - Z * sd)


@dataclass(frozen=True)
class Precision:
    """What tries have told of each player's share now, along directions that do not hang together.

    Attributes
    ----------
    middle : (P,) mean of the share's logit.
    told : (P, r) precision by the tries of each direction, in units of the one beforehand.
    load : (P, r) what each direction would add to the variance of the share's logit without any try.
    """

    middle: Array
    told: Array
    load: Array

    def variance(self, growth: Array) -> Array:
        """Return the variance of each share's logit (P,) when tries tell ``growth`` (P,) times as much."""
        return np.sum(self.load / (1 + growth[:, None] * self.told), axis=1)

    def wide(self, growth: Array) -> Array:
        """Return whether each 90 % interval is then more than 30 points across."""
        return width(self.middle, np.sqrt(self.variance(growth))) > WANTED


def precision_of(look: Outlook, beforehand: Array, now: Array) -> Precision:
    """Return what is known of the shares of an outlook.

    Parameters
    ----------
    look : what the shares are made of.
    beforehand : (r,) the SD that is expected of each coefficient before any try tells of it.
    now : (P,) each player's own moment.
    """
    middle, gradient = (part[:, 0] for part in look.at(now[:, None]))
    left, axes = np.linalg.eigh(look.cov / np.outer(beforehand, beforehand))
    left = np.maximum(left, LEAST)
    told = np.maximum(1 / left - 1, 0.0)  # doubt about the SDs may leave more than was expected
    load = np.einsum("pri,pr->pi", axes, gradient * beforehand) ** 2 * left * (1 + told)
    return Precision(middle, told, load)


def tries_to_go(known: Precision, tries: Array) -> list[int | None]:
    """Return how many more tries bring each 90 % interval to 30 points across, if the season goes on so.

    None where as many tries again as so far, (P,) ``tries``, would not: further ahead than one can look
    back nothing is foretold.
    """
    low, high = np.zeros(len(tries)), np.ones(len(tries))
    for _ in range(BISECTIONS):
        half = (low + high) / 2
        wide = known.wide(1 + half)
        low, high = np.where(wide, half, low), np.where(wide, high, half)
    never, enough = known.wide(1 + high), ~known.wide(np.ones(len(tries)))
    more = np.where(enough, 0, np.ceil(high * tries)).astype(int)
    return [None if out_of_reach else one for out_of_reach, one in zip(never, more.tolist(), strict=True)]


def to_go_of(fit: SkillFit, look: Outlook, now: Array, tries: Array) -> list[int | None]:
    """Return how many more tries each player of an outlook needs, as ``tries_to_go``.

    In a season too short to fill the time axis only those who need none are told: as it fills, more
    becomes possible than so far, and what tries so far told says little of those to come.
    """
    predictor = fit.predictor
    beforehand = predictor.columns.spread_out({effect: fit.sd(effect) for effect in predictor.effects})
    found = tries_to_go(precision_of(look, beforehand, now), tries)
    if len(np.unique(predictor.design.time)) >= FULL_PRACTICES:
        return found
    return [0 if one == 0 else None for one in found]
