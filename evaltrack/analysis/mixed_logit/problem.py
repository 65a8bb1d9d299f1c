"""What goes into a mixed logit, as plain values."""

from dataclasses import dataclass

import numpy as np
from scipy.special import gammaln

Array = np.ndarray


@dataclass(frozen=True)
class Term:
    """A grouping: cell i belongs to level ``codes[i]``, one of 0..m-1.

    ``weights`` (n,) multiplies the effect in each cell: ones for a level, a time for a slope. Two terms
    with the same codes are a level and a slope of the same units, independent of each other.
    ``levels`` is m; by default one more than the highest code.
    """

    codes: Array
    weights: Array | None = None
    levels: int | None = None

    @property
    def size(self) -> int:
        """The number of levels."""
        return int(np.max(self.codes, initial=-1)) + 1 if self.levels is None else self.levels


@dataclass(frozen=True)
class Priors:
    """What is believed before the counts are seen.

    Attributes
    ----------
    fixed_sd : (k,) or scalar, the SD of each fixed effect's normal prior.
    sd_scale : (terms,) or scalar, s in the half-normal prior of each term's SD, exp(-sd^2 / 2 s^2).
    fixed_mean : (k,) or scalar, the mean of each fixed effect's prior.

    Notes
    -----
    The SDs are estimated and integrated over on the log scale, where the half-normal prior has density
    sd exp(-sd^2 / 2 s^2). It is zero at sd = 0, so no SD collapses there. (Chung, Rabe-Hesketh, Dorie,
    Gelman and Liu 2013, Psychometrika 78:685-709, use a gamma prior to the same end.)
    """

    fixed_sd: Array | float
    sd_scale: Array | float
    fixed_mean: Array | float = 0.0


@dataclass(frozen=True)
class Cells:
    """Checked counts with their explanation: the arguments of a fit as arrays of the right kinds."""

    done: Array
    tries: Array
    fixed: Array
    terms: tuple[Term, ...]

    @property
    def columns(self) -> int:
        """The number of fixed effects."""
        return self.fixed.shape[1]

    @property
    def starts(self) -> Array:
        """Where each term's effects start among all coefficients: the fixed effects come first."""
        return self.columns + np.concatenate([[0], np.cumsum([term.size for term in self.terms])]).astype(int)

    def split(self, coefficients: Array) -> list[Array]:
        """Return each term's effects among all coefficients."""
        return np.split(coefficients, self.starts[:-1])[1:] if self.terms else []


def binomial_constant(cells: Cells) -> float:
    """Return the log of the binomial coefficients of all cells."""
    done, missed = cells.done, cells.tries - cells.done
    return float(np.sum(gammaln(cells.tries + 1) - gammaln(done + 1) - gammaln(missed + 1)))


def checked(done, tries, fixed, terms) -> Cells:
    """Return the arguments as arrays; ValueError with a sentence when they cannot be fitted."""
    done, tries = np.asarray(done, float), np.asarray(tries, float)
    fixed = np.asarray(fixed, float)
    if done.ndim != 1 or done.shape != tries.shape or fixed.ndim != 2 or len(fixed) != len(done):
        raise ValueError("done and tries must have one entry, and fixed one row, for each cell")
    if not all(np.isfinite(values).all() for values in (done, tries, fixed)):
        raise ValueError("done, tries and fixed must be finite numbers")
    if (done < 0).any() or (done > tries).any():
        raise ValueError("done must lie between 0 and tries in every cell")
    return Cells(done, tries, fixed, tuple(_checked_term(term, len(done)) for term in terms))


def _checked_term(term: Term, n: int) -> Term:
    codes = np.asarray(term.codes)
    if codes.shape != (n,) or (n and not np.issubdtype(codes.dtype, np.integer)):
        raise ValueError("a term's codes must be whole numbers, one for each cell")
    weights = None if term.weights is None else np.asarray(term.weights, float)
    if weights is not None and (weights.shape != (n,) or not np.isfinite(weights).all()):
        raise ValueError("a term's weights must be finite numbers, one for each cell")
    known = Term(codes.astype(int), weights, term.levels)
    if n and (codes.min() < 0 or codes.max() >= known.size):
        raise ValueError("a term's codes must be 0 to m - 1")
    return known
