"""Maximise a smooth function with known gradient, and say honestly whether the maximum was reached."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize

Array = np.ndarray
Objective = Callable[[Array], tuple[float, Array]]
FLAT = 1e-3
SPACING = 1e-3
STEPS = 100
LONGEST = 1.5


@dataclass(frozen=True)
class Optimum:
    """Where an optimiser stopped: the place, the value, whether the gradient is zero, and what it is."""

    at: Array
    value: float
    reached: bool
    gradient: Array | None = None


def maximise(
    objective: Objective, start: Array, low: Array, high: Array, tolerance: float = 1e-12
) -> Optimum:
    """Maximise ``objective`` (value and gradient) between ``low`` and ``high`` by a quasi-Newton method."""

    def negated(at):
        value, gradient = objective(at)
        return -value, -gradient

    if not len(start):
        return Optimum(start, objective(start)[0], True)
    optimum = Optimum(start, -np.inf, False)
    for ftol in (tolerance, tolerance / 1e3):
        options = {"ftol": ftol, "gtol": 1e-6, "maxiter": 300, "maxcor": 20}
        bounds = list(zip(low, high, strict=True))
        found = minimize(negated, optimum.at, jac=True, method="L-BFGS-B", bounds=bounds, options=options)
        gradient = -found.jac
        outward = ((found.x <= low) & (gradient < 0)) | ((found.x >= high) & (gradient > 0))
        flat = np.abs(gradient[~outward]).max(initial=0.0) < FLAT * max(1.0, np.sqrt(abs(found.fun)))
        optimum = Optimum(found.x, float(-found.fun), bool(np.isfinite(found.fun) and flat))
        if optimum.reached:
            break
    return optimum


def bfgs(objective: Objective, start: Array, hessian: Array, tolerance: float) -> Optimum:
    """Maximise a function of a few coordinates that falls off on every side, by the BFGS method.

    The same as ``maximise`` for the places where it is called a hundred times a second: a general optimiser
    spends more on itself than on the function there, and its library starts threads for it.

    Parameters
    ----------
    objective : value and gradient.
    start : (d,) where to begin.
    hessian : a guess of the Hessian of minus the function, positive definite (d, d) or its diagonal (d,).
    tolerance : it stops when the next step promises to gain less than this.
    """
    at, (value, gradient) = start, objective(start)
    inverse = np.diag(1 / hessian) if hessian.ndim == 1 else np.linalg.inv(hessian)
    for _ in range(STEPS):
        step = inverse @ gradient
        step = step / max(1.0, float(np.abs(step).max(initial=0.0)) / LONGEST)
        gain = float(gradient @ step)
        if gain < tolerance:
            return Optimum(at, value, True, gradient)
        while (found := objective(at + step))[0] < value + 1e-4 * float(gradient @ step):
            step = step / 2
            if np.abs(step).max() < 1e-9:
                return Optimum(at, value, False, gradient)
        at, value = at + step, found[0]
        inverse = _bfgs_update(inverse, step, gradient - found[1])
        gradient = found[1]
    return Optimum(at, value, False, gradient)


def _bfgs_update(inverse: Array, step: Array, gradient_change: Array) -> Array:
    """Return the inverse of the Hessian after a step along which the gradient changed (BFGS)."""
    along = float(step @ gradient_change)
    if along <= 1e-12:
        return inverse
    shear = np.eye(len(step)) - np.outer(step, gradient_change) / along
    return shear @ inverse @ shear.T + np.outer(step, step) / along


def hessian_of(objective: Objective, at: Array, spacing: float = SPACING) -> Array:
    """Return the Hessian of minus the objective, from central differences of the exact gradient."""
    rows = []
    for offset in np.eye(len(at)) * spacing:
        rows.append((objective(at - offset)[1] - objective(at + offset)[1]) / (2 * spacing))
    hessian = np.array(rows).reshape(len(at), len(at))
    return (hessian + hessian.T) / 2


def hessian_one_sided(objective: Objective, optimum: Optimum, spacing: float) -> Array:
    """Return the Hessian of minus the objective at an optimum, from one-sided differences.

    The gradient that is left there is small, but not against the difference that the spacing makes.
    """
    size = len(optimum.at)
    rows = [
        (optimum.gradient - objective(optimum.at + offset)[1]) / spacing for offset in np.eye(size) * spacing
    ]
    hessian = np.array(rows).reshape(size, size)
    return (hessian + hessian.T) / 2
