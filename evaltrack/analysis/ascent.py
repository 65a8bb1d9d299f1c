"""Climb a smooth function with known gradient, and say honestly whether the top was reached."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize

Array = np.ndarray
Objective = Callable[[Array], tuple[float, Array]]
FLAT = 1e-3
NUDGE = 1e-3


@dataclass(frozen=True)
class Summit:
    """Where the climb ended: the place, the value, and whether the slope there is nought."""

    at: Array
    value: float
    reached: bool


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


def curvature(objective: Objective, at: Array, nudge: float = NUDGE) -> Array:
    """Return minus the second derivatives at a place, from central differences of the exact gradient."""
    rows = []
    for way in np.eye(len(at)) * nudge:
        rows.append((objective(at - way)[1] - objective(at + way)[1]) / (2 * nudge))
    bent = np.array(rows).reshape(len(at), len(at))
    return (bent + bent.T) / 2
