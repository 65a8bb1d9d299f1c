"""The mixed logit: counts of done among tries, explained by fixed effects and by normal effects of terms.

    done_i ~ Binomial(tries_i, pi_i),   logit pi_i = fixed_i' beta + sum over terms of weight_i effect[code_i]

The effects of a term are independent and normal with the term's own SD. This module knows nothing of what
the counts are about.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evaltrack.analysis.mixed_logit.likelihood import fit_likelihood
from evaltrack.analysis.mixed_logit.posterior import fit_posterior
from evaltrack.analysis.mixed_logit.problem import Cells, Priors, Term, checked
from evaltrack.analysis.mixed_logit.result import MixedFit, Posterior, WarmStart
from evaltrack.analysis.mixed_logit.separation import separated

__all__ = ["MixedFit", "Posterior", "Priors", "Term", "WarmStart", "fit_mixed_logit"]

METHODS = ("auto", "laplace", "quadrature")
WEAK = 5.0


def fit_mixed_logit(
    done: np.ndarray,
    tries: np.ndarray,
    fixed: np.ndarray,
    terms: Sequence[Term],
    priors: Priors | None = None,
    *,
    method: str = "auto",
    start: WarmStart | None = None,
) -> MixedFit:
    """Fit a mixed logit to counts.

    Parameters
    ----------
    done, tries : (n,) counts, 0 <= done <= tries. Cells without tries are allowed and say nothing.
    fixed : (n, k) design of the fixed effects; k may be 0.
    terms : the groupings.
    priors : None is plain maximum likelihood. With priors the result also has a ``posterior``.
    method : ``laplace``, ``quadrature`` (one term and no priors only), or ``auto``: quadrature where it
        is possible and Laplace is biased. ``warnings`` tells when it was.
    start : with priors, where a fit of nearly the same cells with the same terms came to rest. It saves
        time; within the fit's own tolerance the result is the same.

    Returns
    -------
    The fit. One that did not converge, is singular or stands on too little says so in its fields.

    Raises
    ------
    ValueError : the arguments contradict each other; or, without priors, there are no tries or the
        columns of ``fixed`` depend on each other.
    """
    cells = checked(done, tries, fixed, terms)
    _refuse_method(method, len(cells.terms), priors)
    if priors is not None:
        return fit_posterior(cells, priors, start)
    _refuse_unidentified(cells)
    apart = separated(cells.done, cells.tries, cells.fixed)
    return _held_finite(cells) if apart else fit_likelihood(cells, method)


def _refuse_method(method: str, terms: int, priors: Priors | None) -> None:
    if method not in METHODS:
        raise ValueError(f"method must be one of {', '.join(METHODS)}")
    if method == "quadrature" and (priors is not None or terms != 1):
        raise ValueError("quadrature needs exactly one term and no priors")


def _refuse_unidentified(cells: Cells) -> None:
    seen = cells.tries > 0
    if not seen.any():
        raise ValueError("there are no tries to fit")
    if cells.columns and np.linalg.matrix_rank(cells.fixed[seen]) < cells.columns:
        raise ValueError("the columns of fixed depend on each other in the cells that have tries")


def _held_finite(cells: Cells) -> MixedFit:
    """Return estimates that a weak prior keeps finite, and say that they are no maximum."""
    size = np.sqrt(np.mean(cells.fixed**2, axis=0))
    fit = fit_posterior(cells, Priors(WEAK / size, 1.0))
    told = "The fixed effects separate done from missed, so the likelihood has no maximum; "
    told += "a weak prior keeps the estimates finite."
    return replace(fit, converged=False, warnings=(told, *fit.warnings), posterior=None)
