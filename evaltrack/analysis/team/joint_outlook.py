"""The shares of several players at once, and their mean, from the joint posterior of all they are made of."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import expit, logit

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.outlook import Outlook
from evaltrack.analysis.season.season_model import SkillFit

Array = np.ndarray


@dataclass(frozen=True)
class TeamOutlook:
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
        gradient = np.zeros((*middle.shape, len(self.cov)))
        for player, places in enumerate(self.places):
            gradient[player][:, places] = own[player]
        return middle, gradient

    def mean(self, times: Array) -> tuple[Array, Array]:
        """Return the logits of the players' mean share (T,), and their gradients (T, R)."""
        middle, gradient = self.shares(times)
        share = expit(middle)
        total = share.mean(0)
        slopes = (share * (1 - share))[..., None] * gradient
        return logit(total), slopes.mean(0) / (total * (1 - total))[:, None]


def team_outlook(fit: SkillFit, rows: Sequence[int]) -> TeamOutlook:
    """Return the outlook of these players of a fit (k,), taken together."""
    predictor = fit.predictor
    numbers = predictor.things(Effect.LEVEL)[list(rows)]
    picked = predictor.picked(numbers, predictor.design.group[numbers])
    every, places = np.unique(picked, return_inverse=True)
    _, cov = fit.fit.posterior.moments(every)
    return TeamOutlook(fit.outlook.of(rows), places.reshape(picked.shape), cov)
