"""What comes out of a mixed logit, as plain values."""

from dataclasses import dataclass, field

import numpy as np

from evaltrack.analysis.mixed_logit.bordered import Factor
from evaltrack.analysis.mixed_logit.laplace import Laplace

Array = np.ndarray


@dataclass(frozen=True)
class WarmStart:
    """Where a fit with priors came to rest, for a fit of nearly the same cells to set out from.

    Attributes
    ----------
    log_sd : (terms,) logs of the SDs.
    hessian : (terms, terms) Hessian of minus the log SDs' log density there.
    coefficients : (q,) the joint mode of all coefficients.
    tries : how many tries the Hessian was worked out from.
    laplace : the likelihood, with how its cells are laid out, for a fit of the same cells with other counts.

    Notes
    -----
    A start only saves work. Coefficients that do not match the new fit's in number are left out; that
    they belong to other levels costs a few steps and changes no result.
    """

    log_sd: Array
    hessian: Array
    coefficients: Array
    tries: float
    laplace: Laplace | None = None


@dataclass(frozen=True)
class Posterior:
    """Mean and covariance of all coefficients: the fixed effects, then each term's effects in turn.

    Attributes
    ----------
    mean : (q,) posterior means.
    factor : the factor of the coefficients' precision were the SDs known.
    sd_factor : (terms, q) what the doubt about the SDs adds: the covariance gains d d' for each row d.
    warm_start : where a fit of nearly the same cells may set out from.
    """

    mean: Array
    factor: Factor
    sd_factor: Array
    warm_start: WarmStart

    def moments(self, picked: Array) -> tuple[Array, Array]:
        """Return means (..., r) and covariances (..., r, r) of the coefficients ``picked`` (..., r)."""
        picked = np.asarray(picked)
        first, second = np.broadcast_arrays(picked[..., :, None], picked[..., None, :])
        sd_factor = np.moveaxis(self.sd_factor[:, picked], 0, -1)
        return self.mean[picked], self.factor.covariances(first, second) + sd_factor @ sd_factor.swapaxes(
            -1, -2
        )


@dataclass(frozen=True)
class MixedFit:
    """A fitted mixed logit.

    Attributes
    ----------
    fixed, fixed_se : (k,) fixed effects and their standard errors, on the logit scale. With priors they
        are the posterior means and SDs.
    term_sd : (terms,) the SD of each term. Zero when the likelihood is highest there.
    effects : for each term its (m,) effects at their joint mode, given the fixed effects and SDs;
        with priors the posterior means.
    log_likelihood : with the binomial constant. With priors, fixed effects are integrated out too.
    converged : the maximum of the likelihood was found, and it is a proper one.
    singular : some SD is zero, or its estimate ran to the end of its range.
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
