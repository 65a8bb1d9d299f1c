"""Plain maximum likelihood of a mixed logit: no priors, so that it can be held against published fits."""

from dataclasses import dataclass

import numpy as np

from evaltrack.analysis.mixed_logit.design import laplace_of
from evaltrack.analysis.mixed_logit.laplace import Laplace, Mode, binomial
from evaltrack.analysis.mixed_logit.laplace_bias import sd_shifts
from evaltrack.analysis.mixed_logit.optimiser import Optimum, hessian_of, maximise
from evaltrack.analysis.mixed_logit.problem import Cells, binomial_constant
from evaltrack.analysis.mixed_logit.quadrature import integrate
from evaltrack.analysis.mixed_logit.result import MixedFit

Array = np.ndarray
LOWEST, HIGHEST, SMALL = -7.0, 3.0, 0.1
START_SD = 0.5
SAME = 1e-4
BIAS = 0.1
SHIFT = 0.05
GLM_STEPS = 50
FLATTEST = 1e-7


@dataclass(frozen=True)
class Scaled:
    """Fixed effects on a scale where their information is the identity, so that every direction is alike.

    beta = ``centre`` + ``unit`` @ at.
    """

    centre: Array
    unit: Array

    def beta(self, at: Array) -> Array:
        """Return the fixed effects at a place."""
        return self.centre + self.unit @ at


class LaplaceObjective:
    """Laplace's log-likelihood in the scaled fixed effects followed by the log SDs."""

    def __init__(self, cells: Cells, scaled: Scaled):
        self.cells, self.scaled = cells, scaled
        self.laplace: Laplace = laplace_of(cells)
        self.last: Mode | None = None

    def mode(self, at: Array) -> Mode:
        """Return the mode of the effects, found from where the last one was."""
        k = self.cells.columns
        offset = self.cells.fixed @ self.scaled.beta(at[:k])
        self.last = self.laplace.mode(at[k:], offset, None if self.last is None else self.last.v)
        return self.last

    def __call__(self, at: Array) -> tuple[float, Array]:
        """Return the log-likelihood without its constant, and its gradient."""
        mode = self.mode(at)
        in_sd, in_offset = self.laplace.gradient(mode)
        in_fixed = self.scaled.unit.T @ (self.cells.fixed.T @ in_offset)
        return mode.log_likelihood, np.concatenate([in_fixed, in_sd])


class QuadratureObjective(LaplaceObjective):
    """The same by adaptive Gauss-Hermite quadrature, for a single term."""

    def __call__(self, at: Array) -> tuple[float, Array]:
        """Return the log-likelihood without its constant, and its gradient."""
        k = self.cells.columns
        mode = self.mode(at)
        weight = self.cells.tries * mode.share * (1 - mode.share)
        spreads = ((self.laplace.pairs @ weight)[self.laplace.diagonal] + mode.precision) ** -0.5
        offset = self.cells.fixed @ self.scaled.beta(at[:k])
        found = integrate(self.cells, offset, float(at[k]), mode.v, spreads)
        in_fixed = self.scaled.unit.T @ (self.cells.fixed.T @ found.in_offset)
        return found.log_likelihood, np.append(in_fixed, found.in_sd)


def fit_likelihood(cells: Cells, method: str) -> MixedFit:
    """Fit by maximum likelihood; ``method`` is ``auto``, ``laplace`` or ``quadrature``.

    ``auto`` takes quadrature for a single term when its log-likelihood at Laplace's estimate differs
    by more than .1. For several terms it says when an SD is off by more than a twentieth.
    """
    k, count = cells.columns, len(cells.terms)
    objective = LaplaceObjective(cells, _scaled(cells))
    low = np.concatenate([np.full(k, -np.inf), np.full(count, LOWEST)])
    high = np.concatenate([np.full(k, np.inf), np.full(count, HIGHEST)])
    start = np.concatenate([np.zeros(k), np.full(count, np.log(START_SD))])
    optimum = maximise(objective, start, low, high)
    notes = []
    if count == 1 and method != "laplace":
        exact = QuadratureObjective(cells, objective.scaled)
        gap = exact(optimum.at)[0] - optimum.value
        if method == "quadrature" or abs(gap) > BIAS:
            objective, optimum = exact, maximise(exact, optimum.at, low, high)
            notes = [f"Laplace's log-likelihood is off by {gap:.2f}; quadrature is used."]
    optimum, tiny = _without_tiny(objective, optimum, low, high)
    hessian = hessian_of(objective, optimum.at)
    if count > 1:
        notes = _biased(objective, optimum, tiny, hessian)
    return _result(objective, optimum, tiny, hessian, notes if method == "auto" else [])


def _biased(objective: LaplaceObjective, optimum: Optimum, tiny: Array, hessian: Array) -> list[str]:
    """Say how far Laplace's SDs are off, if they are."""
    cells, k = objective.cells, objective.cells.columns
    mode = objective.mode(optimum.at)
    effects = cells.split(np.append(np.zeros(k), mode.v))
    eta = cells.fixed @ objective.scaled.beta(optimum.at[:k]) + objective.laplace.matrix @ mode.v
    shifts = sd_shifts(cells, eta, optimum.at[k:], effects, np.diag(hessian)[k:])[~tiny]
    worst = float(np.abs(shifts).max(initial=0.0))
    told = f"Laplace puts an SD off by about {100 * worst:.0f} %, because its levels have few tries."
    return [told] if worst > SHIFT else []


def _scaled(cells: Cells) -> Scaled:
    """Return the scale on which the fixed effects alone have their best fit at zero."""
    beta = np.zeros(cells.columns)
    root = np.eye(cells.columns)
    for _ in range(GLM_STEPS):
        share = binomial(cells.done, cells.tries, cells.fixed @ beta)[1]
        weight = cells.tries * share * (1 - share)
        root = np.linalg.cholesky(cells.fixed.T @ (weight[:, None] * cells.fixed))
        step = np.linalg.solve(root, cells.fixed.T @ (cells.done - cells.tries * share))
        beta = beta + np.linalg.solve(root.T, step) * min(1.0, 10 / max(np.abs(step).max(initial=0), 1e-300))
        if step @ step < 1e-16:
            break
    return Scaled(beta, np.linalg.inv(root.T))


def _without_tiny(objective: LaplaceObjective, optimum: Optimum, low: Array, high: Array):
    """Hold an SD at zero when the likelihood is no lower there, and maximise again over the others."""
    count = len(objective.cells.terms)
    tiny = np.zeros(count, bool)
    k = len(optimum.at) - count
    for term in np.flatnonzero(optimum.at[k:] < np.log(SMALL)):
        at = optimum.at.copy()
        at[k + term] = LOWEST
        if objective(at)[0] >= optimum.value - SAME:
            tiny[term] = True
            upper = np.where(np.append(np.zeros(k, bool), tiny), LOWEST, high)
            optimum = maximise(objective, np.minimum(at, upper), low, upper)
    return optimum, tiny


def _result(
    objective: LaplaceObjective, optimum: Optimum, tiny: Array, hessian: Array, notes: list[str]
) -> MixedFit:
    cells, k = objective.cells, objective.cells.columns
    mode = objective.mode(optimum.at)
    covariance, proper = _covariance(objective, hessian, tiny)
    proper = proper and optimum.reached and mode.reached
    edge = bool(np.any(optimum.at[k:] >= HIGHEST))
    said = {
        "The top of the likelihood was not found, or it is no proper top.": not proper,
        "An SD ran to the end of its range.": edge,
        "An SD is estimated as zero.": bool(tiny.any()),
    }
    effects = cells.split(np.append(np.zeros(k), mode.v))
    return MixedFit(
        fixed=objective.scaled.beta(optimum.at[:k]),
        fixed_se=np.sqrt(np.diag(covariance)),
        term_sd=np.where(tiny, 0.0, np.exp(optimum.at[k:])),
        effects=[np.zeros_like(b) if none else b for b, none in zip(effects, tiny, strict=True)],
        log_likelihood=optimum.value + binomial_constant(cells),
        converged=proper and not edge,
        singular=bool(tiny.any() or edge),
        warnings=(*notes, *(sentence for sentence, holds in said.items() if holds)),
        method="quadrature" if isinstance(objective, QuadratureObjective) else "laplace",
    )


def _covariance(objective: LaplaceObjective, hessian: Array, tiny: Array) -> tuple[Array, bool]:
    """Return the covariance of the fixed effects, and whether the likelihood falls off on every side.

    Not a number where it does not.
    """
    k = objective.cells.columns
    free = np.append(np.ones(k, bool), ~tiny)
    hessian = hessian[np.ix_(free, free)]
    values = np.linalg.eigvalsh(hessian) if len(hessian) else np.ones(1)
    if values[0] <= FLATTEST * max(1.0, values[-1]):
        return np.full((k, k), np.nan), False
    unit = objective.scaled.unit
    return unit @ np.linalg.inv(hessian)[:k, :k] @ unit.T, True
