"""The shares of players in a skill together: they rise and fall with what their tries have in common."""

from collections.abc import Sequence

import numpy as np
from scipy.special import expit

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.outlook import Outlook
from evaltrack.analysis.season.season_model import SkillFit

Array = np.ndarray
DRAWS = 4000
SEED = 20260914  # the same plan from the same season


def joint_logits(fit: SkillFit, look: Outlook, rows: Sequence[int], now: Array) -> tuple[Array, Array]:
    """Return the shares' logits (P,) and their covariance (P, P) by the delta method.

    Parameters
    ----------
    fit : the fit of the skill.
    look : what the shares of the players in ``rows`` of the fit are made of.
    now : (P,) each one's moment.
    """
    middle, gradient = (part[:, 0] for part in look.at(np.asarray(now)[:, None]))
    return middle, covariance(fit, rows, gradient)


def covariance(fit: SkillFit, rows: Sequence[int], gradients: Array) -> Array:
    """Return the covariance (P, P) of sums with these gradients (P, r) in the players' coefficients."""
    posterior = fit.fit.posterior
    whole = np.zeros((len(rows), len(posterior.mean)))
    np.put_along_axis(whole, columns_of(fit, rows), gradients, axis=1)
    solved = np.array([posterior.factor.solve(row) for row in whole]).reshape(whole.shape)
    doubt = whole @ posterior.sd_factor.T
    both = whole @ solved.T + doubt @ doubt.T
    return (both + both.T) / 2


def variance_of_sum(fit: SkillFit, rows: Sequence[int], gradients: Array) -> float:
    """Return the variance of the sum of what has these gradients (P, r) in the players' coefficients."""
    posterior = fit.fit.posterior
    whole = np.zeros(len(posterior.mean))
    np.add.at(whole, columns_of(fit, rows), gradients)
    return float(whole @ posterior.factor.solve(whole) + np.sum((posterior.sd_factor @ whole) ** 2))


def columns_of(fit: SkillFit, rows: Sequence[int]) -> Array:
    """Return which of the fit's coefficients make the shares of the players in these rows, (P, r)."""
    players = fit.predictor.things(Effect.LEVEL)[list(rows)]
    return fit.predictor.picked(players, fit.predictor.design.group[players])


def drawn_shares(middle: Array, cov: Array, draws: int = DRAWS) -> Array:
    """Return shares (draws, P) drawn together from their posterior; the same ones each time."""
    values, axes = np.linalg.eigh(cov)
    root = axes * np.sqrt(np.maximum(values, 0.0))
    noise = np.random.default_rng(SEED).standard_normal((draws, len(middle)))
    return expit(middle + noise @ root.T)
