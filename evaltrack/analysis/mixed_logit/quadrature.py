"""Adaptive Gauss-Hermite quadrature for one term: the integral over each level's effect, one at a time.

Laplace's approximation is biased where a level has few tries: five yes-or-no answers a person make the SD
of the LSAT data .709 instead of .755. Quadrature with nodes placed around each level's own mode is exact
to many digits (Pinheiro and Bates 1995, J Comput Graph Stat 4:12-35).
"""

from dataclasses import dataclass

import numpy as np
from numpy.polynomial.hermite import hermgauss
from scipy import sparse

from evaltrack.analysis.mixed_logit.problem import Cells

Array = np.ndarray
NODES = 25


@dataclass(frozen=True)
class Integral:
    """The log-likelihood without its constant, with its gradient in the offset and the log SD."""

    log_likelihood: float
    in_offset: Array
    in_sd: float


def integrate(cells: Cells, offset: Array, log_sd: float, modes: Array, spreads: Array) -> Integral:
    """Integrate the effects of the only term out.

    Parameters
    ----------
    cells : the counts, with one term.
    offset : (n,) the fixed part on the logit scale.
    log_sd : the log SD of the effects.
    modes, spreads : (m,) where each level's integrand peaks, and its width there.

    Notes
    -----
    The gradient is the score averaged over the effects' distribution given the counts (Fisher's
    identity), by the same nodes.
    """
    (term,) = cells.terms
    nodes, masses = hermgauss(NODES)
    effect = modes[:, None] + np.sqrt(2) * spreads[:, None] * nodes
    weight = np.ones(len(offset)) if term.weights is None else term.weights
    eta = offset[:, None] + weight[:, None] * effect[term.codes]
    small = np.exp(-np.abs(eta))
    rows = cells.done[:, None] * eta - cells.tries[:, None] * (np.maximum(eta, 0) + np.log1p(small))
    ratio = effect**2 * np.exp(-2 * log_sd)
    of_level = sparse.csr_array((np.ones(len(offset)), (term.codes, np.arange(len(offset)))),
                                shape=(term.size, len(offset)))  # fmt: skip
    height = of_level @ rows - ratio / 2 + np.log(masses) + nodes**2
    top = height.max(1, keepdims=True)
    chance = np.exp(height - top)
    total = chance.sum(1, keepdims=True)
    chance = chance / total
    value = np.sum(top + np.log(total)) + np.sum(np.log(spreads) - log_sd) - term.size * np.log(np.pi) / 2
    share = np.where(eta >= 0, 1.0, small) / (1 + small)
    expected = np.sum(chance[term.codes] * share, axis=1)
    in_sd = float(np.sum(chance * ratio) - term.size)
    return Integral(float(value), cells.done - cells.tries * expected, in_sd)
