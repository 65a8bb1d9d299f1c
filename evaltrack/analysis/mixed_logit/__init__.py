"""The engine: a mixed logit of counts, with or without priors. It knows nothing of hockey."""

from evaltrack.analysis.mixed_logit.fitting import fit_mixed_logit
from evaltrack.analysis.mixed_logit.problem import Priors, Term
from evaltrack.analysis.mixed_logit.result import MixedFit, Posterior, WarmStart

__all__ = ["MixedFit", "Posterior", "Priors", "Term", "WarmStart", "fit_mixed_logit"]
