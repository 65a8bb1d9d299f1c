"""In which step a skill comes off how often: what each step costs is known from the tries so far.

A step that was never tried is predicted as any other of the skill could be: with the spread of the steps.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from scipy.special import expit, logit, ndtr

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.linear_predictor import Kinds
from evaltrack.analysis.season.outlook import Outlook, expected_share, share_quantile
from evaltrack.analysis.season.season_model import SkillFit
from evaltrack.analysis.season.together import Together, together_of
from evaltrack.rink.plan import BAND, Forecast, Likely

Array = np.ndarray
LOW, HIGH = 0.05, 0.95
Step = tuple[str, str]  # drill and step, by key


@dataclass(frozen=True)
class Asker:
    """A group in one skill: its rows in the fit, and each one's moment on the time axis."""

    skill: str
    fit: SkillFit
    rows: Sequence[int]
    now: Array

    @cached_property
    def together(self) -> Together:
        """The group's players together."""
        return together_of(self.fit, self.rows)


def tries_by_step(fit: SkillFit) -> dict[Step, int]:
    """Return how many tries the skill has in each step."""
    predictor = fit.predictor
    steps, acting = predictor.things(Effect.STEP), predictor.acting(Effect.STEP)
    tries = np.bincount(acting, predictor.design.tries[predictor.cells], len(steps)).astype(int).tolist()
    names = (tuple(predictor.design.steps[step].split("/", 1)) for step in steps)
    return dict(zip(names, tries, strict=True))


def forecasts(asker: Asker, steps: Sequence[Step], band: tuple[float, float] = BAND) -> list[Forecast]:
    """Return how often the skill is predicted to come off in each of these steps, for the group.

    It is the group's share now, as the season's observers see it on an ordinary day, under the pressure that
    its position groups usually have and against those whom they usually meet.

    Parameters
    ----------
    band : the shares between which a player's tries fit.
    """
    tried = tries_by_step(asker.fit)
    places = {step: number for number, step in enumerate(tried)}
    return [_forecast(asker, step, places.get(step), tried.get(step, 0), band) for step in steps]


def best(found: Sequence[Forecast]) -> Forecast:
    """Return the step in which most of the group are expected within the band; of equal ones the first."""
    return max(found, key=lambda one: round(one.fits, 9))


def _forecast(asker: Asker, step: Step, place: int | None, tries: int, band: tuple[float, float]) -> Forecast:
    look = _look(asker, place)
    middle, gradient = (part[:, 0] for part in look.at(asker.now[:, None]))
    unknown = 0.0 if place is not None else _spread(asker.fit)
    variance = np.einsum("pr,prs,ps->p", gradient, look.cov, gradient) + unknown
    sd = np.sqrt(np.maximum(variance, 1e-12))
    low, high = (ndtr((logit(end) - middle) / sd) for end in band)
    share, spread = _together(asker, middle, gradient, unknown)
    ends = (float(share_quantile(share, spread, level)) for level in (LOW, HIGH))
    mean = float(expected_share(np.array([share]), np.array([spread]))[0])
    return Forecast(asker.skill, *step, Likely(mean, *ends), float((high - low).mean()), tries)


def _together(asker: Asker, middle: Array, gradient: Array, unknown: float) -> tuple[float, float]:
    """Return mean and SD of the logit of the group's share, to which all its players count alike."""
    shares = expit(middle)
    total = shares.mean()
    weight = shares * (1 - shares) / (len(shares) * total * (1 - total))
    known = asker.together.variance_of_sum(weight[:, None] * gradient)
    return float(logit(total)), float(np.sqrt(max(known + weight.sum() ** 2 * unknown, 1e-12)))


def _spread(fit: SkillFit) -> float:
    return fit.sd(Effect.STEP) ** 2


def _look(asker: Asker, place: int | None) -> Outlook:
    """Return what the group's shares are made of when all tries are in one step, None for an unknown one."""
    fit = asker.fit
    kinds = _in_one_step(fit.kinds, place or 0)
    players = fit.predictor.things(Effect.LEVEL)[list(asker.rows)]
    group = fit.predictor.design.group[players]
    level = fit.predictor.level(kinds)
    if place is None:
        level[:, fit.predictor.columns.of(Effect.STEP)] = 0.0
    return replace(fit.outlook.of(list(asker.rows)), level=level, mix=kinds.seen(group))


def _in_one_step(kinds: Kinds, place: int) -> Kinds:
    """Return the kinds of try as if each were in one step, under pressure as often as so far."""
    under, which = np.unique(kinds.pressed, return_inverse=True)
    mix = kinds.mix @ np.eye(len(under))[which.ravel()]
    return replace(kinds, step=np.full(len(under), place), pressed=under, mix=mix)


def best_steps(
    askers: Mapping[str, Asker], steps: Mapping[str, Sequence[Step]], band: tuple[float, float] = BAND
) -> dict[str, list[Forecast]]:
    """Return the forecasts of each skill in the steps that have it, those in which most fit first."""
    found = {key: forecasts(asker, steps.get(key, ()), band) for key, asker in askers.items()}
    return {key: sorted(every, key=lambda one: -round(one.fits, 9)) for key, every in found.items()}
