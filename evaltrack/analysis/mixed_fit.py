"""What goes into a mixed logit and what comes out, as plain values."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from scipy.special import gammaln

if TYPE_CHECKING:
    from evaltrack.analysis.laplace import Laplace
    from evaltrack.analysis.posterior import Posterior

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
    sd exp(-sd^2 / 2 s^2). It is nought at sd = 0, so no SD collapses there. (Chung, Rabe-Hesketh, Dorie,
    Gelman and Liu 2013, Psychometrika 78:685-709, use a gamma prior to the same end.)
    """

    fixed_sd: Array | float
    sd_scale: Array | float
    fixed_mean: Array | float = 0.0


@dataclass(frozen=True)
class WarmStart:
    """Where a fit with priors came to rest, for a fit of nearly the same cells to set out from.

    Attributes
    ----------
    log_sd : (terms,) logs of the SDs.
    curvature : (terms, terms) minus the second derivatives of the log SDs' density there.
    coefficients : (q,) posterior means of all coefficients.
    tries : how many tries the curvature was worked out from.
    laplace : the likelihood, with how its cells are laid out, for a fit of the same cells with other counts.

    Notes
    -----
    A start only saves work. Coefficients that do not match the new fit's in number are left out; that
    they belong to other levels costs a few steps and changes no result.
    """

    log_sd: Array
    curvature: Array
    coefficients: Array
    tries: float
    laplace: Laplace | None = None


@dataclass(frozen=True)
class MixedFit:
    """A fitted mixed logit.

    Attributes
    ----------
    fixed, fixed_se : (k,) fixed effects and their standard errors, on the logit scale. With priors they
        are the posterior means and SDs.
    term_sd : (terms,) the SD of each term. Nought when the likelihood is highest there.
    effects : for each term its (m,) effects at their joint mode, given the fixed effects and SDs;
        with priors the posterior means.
    log_likelihood : with the binomial constant. With priors, fixed effects are integrated out too.
    converged : the top of the likelihood was found, and it is a proper top.
    singular : some SD is nought, or its estimate ran to the end of its range.
    warnings : what a statistician should know, in sentences. Empty for an ordinary fit.
    method : ``laplace`` or ``quadrature``.
    posterior : with priors, the joint distribution of all coefficients; otherwise None.
    """

    fixed: Array
    fixed_se: Array
    term_sd: Array
    effects: list[Array]
    log_likelihood: float
    converged: bool
    singular: bool
    warnings: tuple[str, ...] = ()
    method: str = "laplace"
    posterior: Posterior | None = field(default=None, repr=False)


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
