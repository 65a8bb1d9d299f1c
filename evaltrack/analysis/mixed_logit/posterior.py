"""Fitting a mixed logit with priors: the uncertainty of the SDs is in the posterior of the coefficients."""

import numpy as np

from evaltrack.analysis.mixed_logit.design import laplace_of
from evaltrack.analysis.mixed_logit.laplace import Laplace, Mode
from evaltrack.analysis.mixed_logit.optimiser import Optimum, bfgs, hessian_one_sided
from evaltrack.analysis.mixed_logit.problem import Cells, Priors, binomial_constant
from evaltrack.analysis.mixed_logit.result import MixedFit, Posterior, WarmStart

Array = np.ndarray
TOLERANCE = 1e-6
GUESS = 4.0  # levels of a term that tell as much about its SD as the prior does
SPACING = 0.02
FLATTEST = 0.25
SAME = 1e-4  # of the tries may be new before the Hessian is worked out again


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
    optimum, density = _optimum(laplace, scale, start)
    if start and not optimum.reached:
        return fit_posterior(cells, priors)
    hessian, counted = _hessian(density, optimum, float(cells.tries.sum()), start)
    # the optimiser stops short by what promises next to nothing; with the Hessian known it costs nothing
    at = optimum.at + np.linalg.solve(hessian, optimum.gradient) * optimum.reached
    mode = density.mode(at)
    warm_start = WarmStart(at, hessian, mode.v, counted, laplace)
    return _fit(cells, laplace, mode, optimum.reached, warm_start)


def _optimum(laplace: Laplace, scale: Array, start: WarmStart | None) -> tuple[Optimum, SdPosterior]:
    """Find the most likely SDs, from where another fit came to rest or from the priors."""
    if start is None:
        density = SdPosterior(laplace, scale)
        guess = 1 + laplace.levels / GUESS
        return bfgs(density, np.log(scale) - np.log(2) / 2, guess, TOLERANCE), density
    known = start.coefficients if len(start.coefficients) == len(laplace.term_of) else None
    density = SdPosterior(laplace, scale, known)
    return bfgs(density, start.log_sd, start.hessian, TOLERANCE), density


def _hessian(density: SdPosterior, optimum: Optimum, tries: float, start: WarmStart | None):
    """Return the Hessian of minus the log SDs' log density, positive definite, and the tries it is of.

    It is kept while nearly all tries and every coefficient are the same. Where the density is flatter than
    that of a normal with SD 2 it is taken to be one: that is a factor of 50 either way, and the first order
    holds no further.
    """
    same = start and len(start.coefficients) == len(density.last)
    if same and abs(tries - start.tries) <= SAME * start.tries:
        return start.hessian, start.tries
    values, axes = np.linalg.eigh(hessian_one_sided(density, optimum, SPACING))
    return (axes * np.maximum(values, FLATTEST)) @ axes.T, tries


def _each(values, count: int) -> Array:
    spread_out = np.broadcast_to(np.asarray(values, float), count)
    if not np.isfinite(spread_out).all():
        raise ValueError("priors must be finite numbers")
    return spread_out


def _sd_factor(laplace: Laplace, mode: Mode, hessian: Array) -> Array:
    """Return how the coefficients move along the axes of the log SDs' density, one SD along each."""
    terms = range(len(hessian))
    moves = np.array([laplace.mode_derivative(mode, term) for term in terms]).reshape(
        len(hessian), len(mode.v)
    )
    values, axes = np.linalg.eigh(hessian)
    return (axes.T @ moves) / np.sqrt(values)[:, None]


def _fit(cells: Cells, laplace: Laplace, mode: Mode, reached: bool, warm_start: WarmStart) -> MixedFit:
    sd_factor = _sd_factor(laplace, mode, warm_start.hessian)
    posterior = Posterior(laplace.mean(mode), mode.factor, sd_factor, warm_start)
    reached = reached and mode.reached
    warnings = [] if reached else ["The SDs' most likely values were not found."]
    _, variances = posterior.moments(np.arange(cells.columns)[:, None])
    return MixedFit(
        fixed=posterior.mean[: cells.columns],
        fixed_se=np.sqrt(variances[:, 0, 0]),
        term_sd=np.exp(warm_start.log_sd),
        effects=cells.split(posterior.mean),
        log_likelihood=mode.log_likelihood + binomial_constant(cells),
        converged=reached,
        singular=False,
        warnings=tuple(warnings),
        posterior=posterior,
    )
