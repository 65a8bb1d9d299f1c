"""The shares of several players at once, and their mean, from the joint posterior of all they are made of.

Players' shares rise and fall together with what their tries have in common, so a number of players, or the
mean of a team, is as doubtful as this says and not as players who have nothing to do with each other.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import expit, logit

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.outlook import Outlook
from evaltrack.analysis.season.season_model import SkillFit

Array = np.ndarray
DRAWS = 4_000
_SEED = 1  # the same figures from the same season
_NEXT_TO_NOTHING = 1e-9  # of variance, so that the covariance of players who hang together has a root


@dataclass(frozen=True)
class Together:
    """Some of a skill's players together.

    Attributes
    ----------
    outlook : what each one's share is made of.
    places : (P, r) which of the ``cov`` each player's coefficients are.
    cov : (R, R) the joint posterior covariance of all coefficients that any of them has.
    """

    outlook: Outlook
    places: Array
    cov: Array

    def shares(self, times: Array) -> tuple[Array, Array]:
        """Return the logits of the players' shares (P, T) and their gradients (P, T, R).

        ``times`` are the same for all, (T,), or each player's own, (P, T).
        """
        middle, own = self.outlook.at(times)
        return middle, self.among_all(own)

    def at(self, times: Array) -> tuple[Array, Array]:
        """Return the logits of the players' shares (P,), each at their own time, and their covariance."""
        middle, gradient = (part[:, 0] for part in self.shares(np.asarray(times)[:, None]))
        return middle, gradient @ self.cov @ gradient.T

    def mean(self, times: Array) -> tuple[Array, Array]:
        """Return the logits of the players' mean share (T,), and their gradients (T, R)."""
        middle, gradient = self.shares(times)
        share = expit(middle)
        total = share.mean(0)
        slopes = (share * (1 - share))[..., None] * gradient
        return logit(total), slopes.mean(0) / (total * (1 - total))[:, None]

    def among_all(self, own: Array) -> Array:
        """Return gradients (P, ..., r) in each player's own coefficients as (P, ..., R) in those of all."""
        gradient = np.zeros((*own.shape[:-1], len(self.cov)))
        for player, places in enumerate(self.places):
            gradient[player][..., places] = own[player]
        return gradient

    def variance_of_sum(self, own: Array) -> float:
        """Return the variance of the sum of what has these gradients (P, r) in each player's coefficients."""
        whole = self.among_all(own).sum(0)
        return float(whole @ self.cov @ whole)


def together_of(fit: SkillFit, rows: Sequence[int]) -> Together:
    """Return these players of a fit (k,), taken together."""
    predictor = fit.predictor
    numbers = predictor.things(Effect.LEVEL)[list(rows)]
    picked = predictor.picked(numbers, predictor.design.group[numbers])
    every, places = np.unique(picked, return_inverse=True)
    _, cov = fit.fit.posterior.moments(every)
    return Together(fit.outlook.of(list(rows)), places.reshape(picked.shape), cov)


def drawn_logits(middle: Array, cov: Array) -> Array:
    """Return logits (draws, P) drawn together from their posterior; the same ones each time."""
    # a triangular root moves little when the covariance does, so that the last digit of a fit flips no count
    root = np.linalg.cholesky(cov + _NEXT_TO_NOTHING * np.eye(len(cov)))
    normal = np.random.default_rng(_SEED).standard_normal((DRAWS, len(middle)))
    return middle + normal @ root.T
