"""How far Laplace's SDs are off where levels have few tries, judged for one term at a time.

Several terms together have no integral that quadrature could find. But each term by itself, the others held
at their mode, has one, and its gradient in the log SD, less Laplace's own, says which way and about how far
the SD is wrong: one Newton step.
"""

from dataclasses import replace

import numpy as np

from evaltrack.analysis.mixed_logit.design import laplace_of
from evaltrack.analysis.mixed_logit.problem import Cells
from evaltrack.analysis.mixed_logit.quadrature import integrate

Array = np.ndarray


def sd_shifts(cells: Cells, eta: Array, log_sd: Array, effects: list[Array], hessian: Array) -> Array:
    """Return about how far each term's exact log SD is from Laplace's.

    Parameters
    ----------
    cells : the counts and their terms.
    eta : (n,) the linear predictor at the mode, with all effects.
    log_sd : (terms,) Laplace's estimates.
    effects : each term's effects at the mode.
    hessian : (terms,) second derivatives of minus Laplace's log-likelihood in the log SDs.
    """
    gaps = []
    for term, at, effect in zip(cells.terms, log_sd, effects, strict=True):
        own = effect[term.codes] * (1.0 if term.weights is None else term.weights)
        gaps.append(_gradient_gap(replace(cells, terms=(term,)), eta - own, float(at)))
    return np.divide(gaps, hessian, out=np.zeros(len(gaps)), where=hessian > 0)


def _gradient_gap(cells: Cells, offset: Array, log_sd: float) -> float:
    """Return the gradient in the log SD of the only term's exact log-likelihood, less that of Laplace's."""
    laplace = laplace_of(cells)
    mode = laplace.mode(np.array([log_sd]), offset)
    spreads = np.sqrt(mode.factor.inverse()[laplace.diagonal])
    exact = integrate(cells, offset, log_sd, mode.v, spreads)
    return exact.in_sd - float(laplace.gradient(mode)[0][0])
