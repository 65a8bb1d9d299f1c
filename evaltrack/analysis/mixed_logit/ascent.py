"""Climb a smooth function with known gradient, and say honestly whether the top was reached."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize

Array = np.ndarray
Objective = Callable[[Array], tuple[float, Array]]
FLAT = 1e-3
NUDGE = 1e-3
STEPS = 100
LONGEST = 1.5


@dataclass(frozen=True)
class Summit:
    """Where the climb ended: the place, the value, whether the slope there is nought, and what it is."""

    at: Array
    value: float
    reached: bool
    slope: Array | None = None


def ascend(objective: Objective, start: Array, low: Array, high: Array, close: float = 1e-12) -> Summit:
    """Maximise ``objective`` (value and gradient) between ``low`` and ``high`` by a quasi-Newton method."""

    def downhill(at):
        value, slope = objective(at)
        return -value, -slope

    if not len(start):
        return Summit(start, objective(start)[0], True)
    summit = Summit(start, -np.inf, False)
    for tolerance in (close, close / 1e3):
        options = {"ftol": tolerance, "gtol": 1e-6, "maxiter": 300, "maxcor": 20}
        bounds = list(zip(low, high, strict=True))
        found = minimize(downhill, summit.at, jac=True, method="L-BFGS-B", bounds=bounds, options=options)
        slope = -found.jac
        outward = ((found.x <= low) & (slope < 0)) | ((found.x >= high) & (slope > 0))
        flat = np.abs(slope[~outward]).max(initial=0.0) < FLAT * max(1.0, np.sqrt(abs(found.fun)))
        summit = Summit(found.x, float(-found.fun), bool(np.isfinite(found.fun) and flat))
        if summit.reached:
            break
    return summit


def rise(objective: Objective, start: Array, bent: Array, close: float) -> Summit:
    """Maximise a function of a few coordinates that falls off on every side, by the BFGS method.

    The same as ``ascend`` for the places where it is called a hundred times a second: a general optimiser
    spends more on itself than on the function there, and its library starts threads for it.

    Parameters
    ----------
    objective : value and gradient.
    start : (d,) where to begin.
    bent : a guess of minus the second derivatives, positive definite (d, d) or its diagonal (d,).
    close : the climb ends when the next step promises to gain less than this.
    """
    at, (value, slope) = start, objective(start)
    inverse = np.diag(1 / bent) if bent.ndim == 1 else np.linalg.inv(bent)
    for _ in range(STEPS):
        step = inverse @ slope
        step = step / max(1.0, float(np.abs(step).max(initial=0.0)) / LONGEST)
        gain = float(slope @ step)
        if gain < close:
            return Summit(at, value, True, slope)
        while (found := objective(at + step))[0] < value + 1e-4 * float(slope @ step):
            step = step / 2
            if np.abs(step).max() < 1e-9:
                return Summit(at, value, False, slope)
        at, value = at + step, found[0]
        inverse = _updated(inverse, step, slope - found[1])
        slope = found[1]
    return Summit(at, value, False, slope)


def _updated(inverse: Array, step: Array, turn: Array) -> Array:
    """Return the inverse of the curvature after a step along which the slope turned (BFGS)."""
    along = float(step @ turn)
    if along <= 1e-12:
        return inverse
    shear = np.eye(len(step)) - np.outer(step, turn) / along
    return shear @ inverse @ shear.T + np.outer(step, step) / along


def curvature(objective: Objective, at: Array, nudge: float = NUDGE) -> Array:
    """Return minus the second derivatives at a place, from central differences of the exact gradient."""
    rows = []
    for way in np.eye(len(at)) * nudge:
        rows.append((objective(at - way)[1] - objective(at + way)[1]) / (2 * nudge))
    bent = np.array(rows).reshape(len(at), len(at))
    return (bent + bent.T) / 2


def curvature_at_top(objective: Objective, top: Summit, nudge: float) -> Array:
    """Return minus the second derivatives at the end of a rise, from one side only.

    The slope that is left there is small, but not against the difference that a nudge makes.
    """
    size = len(top.at)
    rows = [(top.slope - objective(top.at + way)[1]) / nudge for way in np.eye(size) * nudge]
    bent = np.array(rows).reshape(size, size)
    return (bent + bent.T) / 2
