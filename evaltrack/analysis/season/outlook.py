"""Shares at chosen moments, from the joint posterior of what they are made of.

A share is the mean, over a mix of steps, pressure and observers, of the inverse logits of linear predictors.
Its logit is close to linear in the coefficients, so it is taken as normal on the logit scale (delta
method), jointly for two moments.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.special import expit, logit, ndtr, ndtri

Array = np.ndarray
NODES, MASSES = np.polynomial.hermite_e.hermegauss(21)
MASSES = MASSES / MASSES.sum()
BISECTIONS = 45


@dataclass(frozen=True)
class Outlook:
    """What a set of players' shares are made of, in one skill.

    Attributes
    ----------
    mean, cov : (P, r) and (P, r, r) posterior moments of the coefficients of each player.
    level : (C, r) design of each kind of try at time zero.
    rate : (r,) what each unit of time adds to it.
    mix : (P, C) how often each kind of try counts for each player; rows sum to one.
    """

    mean: Array
    cov: Array
    level: Array
    rate: Array
    mix: Array

    def of(self, rows: Sequence[int]) -> "Outlook":
        """Return the outlook of some of the players."""
        return replace(self, mean=self.mean[rows], cov=self.cov[rows], mix=self.mix[rows])

    def at(self, times: Array) -> tuple[Array, Array]:
        """Return the logits of the shares (P, T) and their gradients in the coefficients (P, T, r).

        ``times`` are the same for all, (T,), or each player's own, (P, T).
        """
        times = np.broadcast_to(times, (len(self.mean), np.shape(times)[-1]))
        gone = times * (self.mean @ self.rate)[:, None]
        share = expit((self.mean @ self.level.T)[:, None, :] + gone[..., None])
        total = np.einsum("ptc,pc->pt", share, self.mix)
        weighted = self.mix[:, None, :] * share * (1 - share) / (total * (1 - total))[..., None]
        gradient = weighted @ self.level + (weighted.sum(-1) * times)[..., None] * self.rate
        return logit(total), gradient

    def path(self, times: Array) -> tuple[Array, Array]:
        """Return means and SDs of the shares' logits, both (P, T)."""
        middle, gradient = self.at(times)
        return middle, np.sqrt(np.sum((gradient @ self.cov) * gradient, axis=-1))

    def joint(self, now: Array, start: Array) -> tuple[Array, Array]:
        """Return means (P, 2) and covariances (P, 2, 2) of the shares' logits now and at the start.

        Both times are each player's own, (P,).
        """
        middle, gradient = self.at(np.column_stack([now, start]))
        return middle, gradient @ self.cov @ gradient.swapaxes(-1, -2)


def expected_share(middle: Array, sd: Array) -> Array:
    """Return the mean of a share whose logit is normal."""
    return expit(middle[..., None] + sd[..., None] * NODES) @ MASSES


def share_quantile(middle: Array, sd: Array, level: float) -> Array:
    """Return the quantile of a share whose logit is normal."""
    return expit(middle + ndtri(level) * sd)


def probability_below(middle: Array, sd: Array, target: float) -> Array:
    """Return the probability that a share whose logit is normal is below the target."""
    return ndtr((logit(target) - middle) / np.maximum(sd, 1e-12))


def probability_up(middle: Array, cov: Array) -> Array:
    """Return the probability that the share now is above that at the start."""
    sd = np.sqrt(np.maximum(cov[:, 0, 0] + cov[:, 1, 1] - 2 * cov[:, 0, 1], 0.0))
    return ndtr((middle[:, 0] - middle[:, 1]) / np.maximum(sd, 1e-9))


def change_quantile(middle: Array, cov: Array, level: float) -> Array:
    """Return the quantile of the share now minus the share at the start.

    Notes
    -----
    With m the mean and d the difference of the two logits, the change is c exactly when
    d = 2 (k + arcsinh(sinh k cosh m)), k = arctanh c. So the probability of a change below c is that of a
    normal d given m, averaged over m; c is found by bisection.
    """
    m, d = middle.mean(1), middle[:, 0] - middle[:, 1]
    m_var = np.maximum(cov.sum((1, 2)) / 4, 1e-18)
    together = (cov[:, 0, 0] - cov[:, 1, 1]) / 2
    d_var = cov[:, 0, 0] + cov[:, 1, 1] - 2 * cov[:, 0, 1]
    rest = np.sqrt(np.maximum(d_var - together**2 / m_var, 1e-18))[:, None]
    m_at = m[:, None] + np.sqrt(m_var)[:, None] * NODES
    d_at = d[:, None] + (together / m_var)[:, None] * (m_at - m[:, None])
    low, high = np.full(len(m), -1.0), np.full(len(m), 1.0)
    for _ in range(BISECTIONS):
        c = (low + high) / 2
        k = np.arctanh(c)[:, None]
        below = ndtr((2 * (k + np.arcsinh(np.sinh(k) * np.cosh(m_at))) - d_at) / rest) @ MASSES
        low, high = np.where(below < level, c, low), np.where(below < level, high, c)
    # on which side of no change it lies is known without the nodes, which are coarse where d hangs on m alone
    found, falls = (low + high) / 2, ndtr(-d / np.sqrt(np.maximum(d_var, 1e-18)))
    return np.where(falls < level, np.maximum(found, 0.0), np.minimum(found, 0.0))
