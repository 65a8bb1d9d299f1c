"""The joint posterior of a mixed logit's coefficients, with the uncertainty of the SDs in it."""

from dataclasses import dataclass

import numpy as np

from evaltrack.analysis.ascent import Summit, curvature_at_top, rise
from evaltrack.analysis.bordered import Factor
from evaltrack.analysis.coefficients import laplace_of
from evaltrack.analysis.laplace import Laplace, Mode
from evaltrack.analysis.mixed_fit import Cells, MixedFit, Priors, binomial_constant

Array = np.ndarray
CLOSE = 1e-6
GUESS = 4.0  # levels of a term that tell as much about its SD as the prior does
NUDGE = 0.02
FLATTEST = 0.25


@dataclass(frozen=True)
class Posterior:
    """Mean and covariance of all coefficients: the fixed effects, then each term's effects in turn.

    Attributes
    ----------
    mean : (q,) posterior means.
    starts : (terms,) where each term's effects start among the coefficients.
    factor : the factor of the coefficients' precision were the SDs known.
    ways : (terms, q) what the doubt about the SDs adds: the covariance gains the sum of d d' over rows d.
    """

    mean: Array
    starts: Array
    factor: Factor
    ways: Array

    def moments(self, picked: Array) -> tuple[Array, Array]:
        """Return means (..., r) and covariances (..., r, r) of the coefficients ``picked`` (..., r)."""
        picked = np.asarray(picked)
        first, second = np.broadcast_arrays(picked[..., :, None], picked[..., None, :])
        ways = np.moveaxis(self.ways[:, picked], 0, -1)
        return self.mean[picked], self.factor.covariances(first, second) + ways @ ways.swapaxes(-1, -2)


class SdPosterior:
    """The posterior density of the log SDs; the coefficients are integrated out by Laplace."""

    def __init__(self, laplace: Laplace, scale: Array):
        self.laplace, self.scale = laplace, scale
        self.last: Mode | None = None

    def mode(self, log_sd: Array) -> Mode:
        """Return the mode of the coefficients for these SDs, found from where the last one was."""
        self.last = self.laplace.mode(log_sd, 0.0, None if self.last is None else self.last.v)
        return self.last

    def __call__(self, log_sd: Array) -> tuple[float, Array]:
        """Return the log posterior density and its gradient."""
        mode = self.mode(log_sd)
        ratio = np.exp(2 * log_sd) / self.scale**2
        prior = float(np.sum(log_sd - ratio / 2))
        return mode.log_likelihood + prior, self.laplace.gradient(mode)[0] + 1 - ratio


def fit_posterior(cells: Cells, priors: Priors) -> MixedFit:
    """Fit with priors: SDs at their posterior mode on the log scale, coefficients integrated out.

    The covariance of the coefficients is that for known SDs plus J S J', where J is how the coefficients
    move with the log SDs and S is the covariance of these (Kass and Steffey 1989, JASA 84:717-726,
    first order). So an interval is as wide as doubt about the SDs makes it.
    """
    count = len(cells.terms)
    fixed_sd, fixed_mean = (_each(values, cells.columns) for values in (priors.fixed_sd, priors.fixed_mean))
    laplace = laplace_of(cells, fixed_mean, fixed_sd)
    density = SdPosterior(laplace, _each(priors.sd_scale, count))
    start = np.log(density.scale) - np.log(2) / 2
    summit = rise(density, start, 1 + laplace.levels / GUESS, CLOSE)
    bent = curvature_at_top(density, summit.at, NUDGE)
    mode = density.mode(summit.at)
    return _fit(cells, mode, summit, _ways(laplace, mode, bent))


def _each(values, count: int) -> Array:
    spread_out = np.broadcast_to(np.asarray(values, float), count)
    if not np.isfinite(spread_out).all():
        raise ValueError("priors must be finite numbers")
    return spread_out


def _ways(laplace: Laplace, mode: Mode, bent: Array) -> Array:
    """Return how the coefficients move along the axes of the log SDs' density, one SD along each.

    Where the density of the log SDs is flatter than that of a normal with SD 2 it is taken to be one:
    that is a factor of 50 either way, and the first order holds no further.
    """
    drift = np.array([laplace.drift(mode, term) for term in range(len(bent))]).reshape(len(bent), len(mode.v))
    values, axes = np.linalg.eigh(bent)
    return (axes.T @ drift) / np.sqrt(np.maximum(values, FLATTEST))[:, None]


def _fit(cells: Cells, mode: Mode, summit: Summit, ways: Array) -> MixedFit:
    posterior = Posterior(mode.v, cells.starts[:-1], mode.factor, ways)
    warnings = [] if summit.reached and mode.reached else ["The SDs' most likely values were not found."]
    _, variances = posterior.moments(np.arange(cells.columns)[:, None])
    return MixedFit(
        fixed=mode.v[: cells.columns],
        fixed_se=np.sqrt(variances[:, 0, 0]),
        term_sd=np.exp(summit.at),
        effects=cells.split(mode.v),
        log_likelihood=mode.log_likelihood + binomial_constant(cells),
        converged=summit.reached and mode.reached,
        singular=False,
        warnings=tuple(warnings),
        posterior=posterior,
    )
