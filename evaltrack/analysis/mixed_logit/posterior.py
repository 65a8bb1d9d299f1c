"""Fitting a mixed logit with priors: the uncertainty of the SDs is in the posterior of the coefficients."""

import numpy as np

from evaltrack.analysis.mixed_logit.ascent import Summit, curvature_at_top, rise
from evaltrack.analysis.mixed_logit.design import laplace_of
from evaltrack.analysis.mixed_logit.laplace import Laplace, Mode
from evaltrack.analysis.mixed_logit.problem import Cells, Priors, binomial_constant
from evaltrack.analysis.mixed_logit.result import MixedFit, Posterior, WarmStart

Array = np.ndarray
CLOSE = 1e-6
GUESS = 4.0  # levels of a term that tell as much about its SD as the prior does
NUDGE = 0.02
FLATTEST = 0.25
SAME = 1e-4  # of the tries may be new before the curvature is worked out anew


class SdPosterior:
    """The posterior density of the log SDs; the coefficients are integrated out by Laplace."""

    def __init__(self, laplace: Laplace, scale: Array, coefficients: Array | None = None):
        self.laplace, self.scale = laplace, scale
        self.last = coefficients

    def mode(self, log_sd: Array) -> Mode:
        """Return the mode of the coefficients for these SDs, found from where the last one was."""
        mode = self.laplace.mode(log_sd, 0.0, self.last)
        self.last = mode.v
        return mode

    def __call__(self, log_sd: Array) -> tuple[float, Array]:
        """Return the log posterior density and its gradient."""
        mode = self.mode(log_sd)
        ratio = np.exp(2 * log_sd) / self.scale**2
        prior = float(np.sum(log_sd - ratio / 2))
        return mode.log_likelihood + prior, self.laplace.gradient(mode)[0] + 1 - ratio


def fit_posterior(cells: Cells, priors: Priors, start: WarmStart | None = None) -> MixedFit:
    """Fit with priors: SDs at their posterior mode on the log scale, coefficients integrated out.

    The covariance of the coefficients is that for known SDs plus J S J', where J is how the coefficients
    move with the log SDs and S is the covariance of these (Kass and Steffey 1989, JASA 84:717-726,
    first order). So an interval is as wide as doubt about the SDs makes it.
    """
    count = len(cells.terms)
    fixed_sd, fixed_mean = (_each(values, cells.columns) for values in (priors.fixed_sd, priors.fixed_mean))
    laplace = laplace_of(cells, fixed_mean, fixed_sd, start and start.laplace)
    scale = _each(priors.sd_scale, count)
    start = start if start and len(start.log_sd) == count else None
    summit, density = _top(laplace, scale, start)
    if start and not summit.reached:
        return fit_posterior(cells, priors)
    bent, counted = _curvature(density, summit, float(cells.tries.sum()), start)
    # the climb stops short by what promises next to nothing; now that the curvature is known it costs nothing
    at = summit.at + np.linalg.solve(bent, summit.slope) * summit.reached
    mode = density.mode(at)
    rest = WarmStart(at, bent, mode.v, counted, laplace)
    return _fit(cells, mode, summit.reached, _ways(laplace, mode, bent), rest)


def _top(laplace: Laplace, scale: Array, start: WarmStart | None) -> tuple[Summit, SdPosterior]:
    """Climb to the most likely SDs, from where another fit came to rest or from the priors."""
    if start is None:
        density = SdPosterior(laplace, scale)
        guess = 1 + laplace.levels / GUESS
        return rise(density, np.log(scale) - np.log(2) / 2, guess, CLOSE), density
    known = start.coefficients if len(start.coefficients) == len(laplace.term_of) else None
    density = SdPosterior(laplace, scale, known)
    return rise(density, start.log_sd, start.curvature, CLOSE), density


def _curvature(density: SdPosterior, top: Summit, tries: float, start: WarmStart | None):
    """Return the curvature of the log SDs' density, positive definite, and the tries it is worked out from.

    It is kept while nearly all tries and every coefficient are the same. Where the density is flatter than
    that of a normal with SD 2 it is taken to be one: that is a factor of 50 either way, and the first order
    holds no further.
    """
    same = start and len(start.coefficients) == len(density.last)
    if same and abs(tries - start.tries) <= SAME * start.tries:
        return start.curvature, start.tries
    values, axes = np.linalg.eigh(curvature_at_top(density, top, NUDGE))
    return (axes * np.maximum(values, FLATTEST)) @ axes.T, tries


def _each(values, count: int) -> Array:
    spread_out = np.broadcast_to(np.asarray(values, float), count)
    if not np.isfinite(spread_out).all():
        raise ValueError("priors must be finite numbers")
    return spread_out


def _ways(laplace: Laplace, mode: Mode, bent: Array) -> Array:
    """Return how the coefficients move along the axes of the log SDs' density, one SD along each."""
    drift = np.array([laplace.drift(mode, term) for term in range(len(bent))]).reshape(len(bent), len(mode.v))
    values, axes = np.linalg.eigh(bent)
    return (axes.T @ drift) / np.sqrt(values)[:, None]


def _fit(cells: Cells, mode: Mode, reached: bool, ways: Array, rest: WarmStart) -> MixedFit:
    posterior = Posterior(mode.v, mode.factor, ways, rest)
    reached = reached and mode.reached
    warnings = [] if reached else ["The SDs' most likely values were not found."]
    _, variances = posterior.moments(np.arange(cells.columns)[:, None])
    return MixedFit(
        fixed=mode.v[: cells.columns],
        fixed_se=np.sqrt(variances[:, 0, 0]),
        term_sd=np.exp(rest.log_sd),
        effects=cells.split(mode.v),
        log_likelihood=mode.log_likelihood + binomial_constant(cells),
        converged=reached,
        singular=False,
        warnings=tuple(warnings),
        posterior=posterior,
    )
