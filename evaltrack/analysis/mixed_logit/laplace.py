"""Laplace's approximation to the likelihood of a mixed logit, with exact gradients.

The coefficients v (effects and, where they have a prior, fixed effects) are normal with precision P. For
given SDs the mode of v is found by Newton's method; the integral over v is then

    log p(done) ~ log p(done | v) - v'Pv / 2 + log det P / 2 - log det H / 2,    H = A'WA + P

(Breslow and Clayton 1993, JASA 88:9-25). Its gradient follows the mode by implicit differentiation:
dv = -H^-1 dP v, so no derivative is taken numerically.
"""

from copy import copy
from dataclasses import dataclass

import numpy as np
from scipy import sparse

from evaltrack.analysis.mixed_logit.arrangement import Arrangement, Design, arrange, pair_map
from evaltrack.analysis.mixed_logit.bordered import Factor, factorise, padding

Array = np.ndarray
NEWTON_STEPS = 100
MODE_TOLERANCE = 1e-12
STEEPEST = 30.0


@dataclass(frozen=True)
class Mode:
    """The most likely coefficients for given SDs, and what is known there.

    ``log_likelihood`` is Laplace's value without the binomial constant, ``reached`` says whether
    Newton's method came to rest.
    """

    v: Array
    share: Array
    factor: Factor
    precision: Array
    log_likelihood: float
    reached: bool


class Laplace:
    """The likelihood of one set of cells as a function of the SDs and of an offset.

    Parameters
    ----------
    done, tries : (n,) counts.
    design : the sparse design of the coefficients that are integrated out.
    term_of : (q,) the term of each coefficient, or -1 where ``own_precision`` holds.
    own_precision, own_mean : (q,) the normal prior of coefficients that belong to no term.
    groups : the columns of the design of each set of terms with the same codes.
    known : an arrangement of cells much like these; it is kept where it holds.
    """

    def __init__(
        self,
        done,
        tries,
        design: Design,
        term_of,
        own_precision,
        own_mean,
        groups,
        known: Arrangement | None = None,
    ):
        self.done, self.tries, self.design = done, tries, design
        self.term_of, self.own_precision, self.own_mean = term_of, own_precision, own_mean
        self.arrangement: Arrangement = known if known and known.holds(design) else arrange(design, groups)
        self.matrix: sparse.csr_array = design.matrix()
        self.turned: sparse.csr_array = self.matrix.T.tocsr()
        self.pairs_turned = pair_map(design, self.arrangement)
        self.pairs = self.pairs_turned.T
        each = np.arange(design.width)
        self.diagonal = self.arrangement.position(each, each)
        self.pad = padding(self.arrangement)
        self.twice = np.full(sum(self.arrangement.sizes), 2.0)
        self.twice[self.diagonal] = 1.0
        self.levels = np.bincount(term_of[term_of >= 0], minlength=int(term_of.max(initial=-1)) + 1)

    def is_of(self, design: Design, *coefficients: Array) -> bool:
        """Say whether it has this design, and these terms, precisions and means of the coefficients."""
        own = (self.term_of, self.own_precision, self.own_mean)
        return design.is_same(self.design) and all(map(np.array_equal, coefficients, own))

    def with_counts(self, done: Array, tries: Array) -> "Laplace":
        """Return the same for other counts in the same cells, which saves laying them out again."""
        other = copy(self)
        other.done, other.tries = done, tries
        return other

    def precision(self, log_sd: Array) -> Array:
        """Return the prior precision of every coefficient."""
        of_terms = np.append(np.exp(-2 * log_sd), 0.0)
        return np.where(self.term_of >= 0, of_terms[self.term_of], self.own_precision)

    def mode(self, log_sd: Array, offset: Array | float = 0.0, start: Array | None = None) -> Mode:
        """Find the mode for these SDs, from ``start`` if given."""
        precision = self.precision(log_sd)
        v = self.own_mean.copy() if start is None else start
        value, share = self._log_density(v, precision, offset)
        for _ in range(NEWTON_STEPS):
            gradient = self.turned @ (self.done - self.tries * share) - precision * (v - self.own_mean)
            factor = self._factor(share, precision)
            step = factor.solve(gradient)
            if gradient @ step < MODE_TOLERANCE * (1 + abs(value)):
                return Mode(v, share, factor, precision, self._integral(value, precision, factor), True)
            v, value, share = self._line_search(v, step, value, precision, offset)
        return Mode(v, share, factor, precision, self._integral(value, precision, factor), False)

    def _line_search(self, v, step, value, precision, offset):
        """Take the step, or as large a part of it as does not lower the log density."""
        length = min(1.0, STEEPEST / max(float(np.abs(step).max(initial=0.0)), 1e-300))
        while True:
            reached, share = self._log_density(v + length * step, precision, offset)
            if reached >= value - 1e-9 * (1 + abs(value)) or length < 1e-6:
                return v + length * step, reached, share
            length /= 2

    def _log_density(self, v, precision, offset):
        """Return log p(done | v) + log p(v), without constants, and the share in each cell."""
        eta = self.matrix @ v + offset
        value, share = binomial(self.done, self.tries, eta)
        return value - 0.5 * float(precision @ (v - self.own_mean) ** 2), share

    def _factor(self, share, precision) -> Factor:
        entries = self.pairs @ (self.tries * share * (1 - share))
        entries[self.diagonal] += precision
        entries[self.pad] = 1.0
        return factorise(entries, self.arrangement)

    @staticmethod
    def _integral(value, precision, factor) -> float:
        return value + 0.5 * float(np.log(precision).sum()) - 0.5 * factor.log_det

    def gradient(self, mode: Mode, inverse: Array | None = None) -> tuple[Array, Array]:
        """Return the gradient of ``mode.log_likelihood`` in the log SDs and in the offset of each cell."""
        inverse = mode.factor.inverse() if inverse is None else inverse
        weight = self.tries * mode.share * (1 - mode.share)
        bend = self._bend(mode, inverse)
        solved = mode.factor.solve(self.turned @ bend)
        v = mode.v
        each = mode.precision * (v * v + inverse[self.diagonal] - 2 * solved * v)
        of_terms = self.term_of >= 0
        in_sd = np.bincount(self.term_of[of_terms], each[of_terms], len(self.levels)) - self.levels
        in_offset = self.done - self.tries * mode.share - bend + weight * (self.matrix @ solved)
        return in_sd, in_offset

    def _bend(self, mode: Mode, inverse: Array) -> Array:
        """Return by how much each cell pulls the mean of the coefficients away from their mode."""
        weight = self.tries * mode.share * (1 - mode.share)
        return weight * (1 - 2 * mode.share) * (self.pairs_turned @ (inverse * self.twice)) / 2

    def mean(self, mode: Mode) -> Array:
        """Return the mean of the coefficients for these SDs, to the order beyond the mode.

        The density is steeper on one side of its mode than on the other: third derivatives move the mean
        by -H^-1 A' (W (1 - 2 share) diag A H^-1 A') / 2 (Tierney and Kadane 1986, JASA 81:82-86).
        """
        return mode.v - mode.factor.solve(self.turned @ self._bend(mode, mode.factor.inverse()))

    def mode_derivative(self, mode: Mode, term: int) -> Array:
        """Return how the mode moves when the log SD of one term grows: dv / d log sd."""
        return mode.factor.solve(np.where(self.term_of == term, 2 * mode.precision * mode.v, 0.0))


def binomial(done: Array, tries: Array, eta: Array) -> tuple[float, Array]:
    """Return the log-likelihood without its constant, and the share in each cell."""
    small = np.exp(-np.abs(eta))
    share = np.where(eta >= 0, 1.0, small) / (1 + small)
    return float(np.sum(done * eta - tries * (np.maximum(eta, 0) + np.log1p(small)))), share
