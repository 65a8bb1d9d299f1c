"""How much stricter each observer is than the others, over all skills, from the fit of a season."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
import pandas as pd
from scipy.special import stdtr, stdtrit

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.season_model import SkillFit
from evaltrack.analysis.standings.strict_observer import StrictObserver, TeamCount
from evaltrack.rink.plain_text import by_letters

Array = np.ndarray
MUCH = 0.3  # logits; at a share of .6 these are 7 points
SURE = 0.9
HIGH = 0.95


@dataclass(frozen=True)
class Severities:
    """By how many logits each observer's shares are lower than the others' in the same skills.

    Attributes
    ----------
    observers : their names, of those who share a skill with another.
    severity, sd : (O,) posterior mean and SD.
    df : from how many observers in skills the SD of observers is known; as many degrees of freedom has the
        t distribution by which doubt is told.
    """

    observers: list[str]
    severity: Array
    sd: Array
    df: int

    @property
    def p_strict(self) -> Array:
        """The probability that it is more than ``MUCH``, (O,)."""
        return stdtr(self.df, (self.severity - MUCH) / self.sd)

    @property
    def interval(self) -> tuple[Array, Array]:
        """The ends of the 90 % interval, (O,) each."""
        wide = stdtrit(self.df, HIGH) * self.sd
        return self.severity - wide, self.severity + wide


def severities(fit: SkillFit) -> Severities:
    """Return how strict each observer is, by a fit of any skill: it holds those of all.

    Each skill counts as often as the observer has tries in it. The others of a skill count as often as they
    have tries. A skill with one observer tells nothing.
    """
    design = fit.predictor.design
    pairs, posterior = design.within[Effect.OBSERVER], fit.fit.posterior
    tries = np.bincount(pairs.codes, design.tries, pairs.size)
    same_skill = pairs.skill[:, None] == pairs.skill
    others = np.where(same_skill & ~np.eye(pairs.size, dtype=bool), tries, 0.0)
    together = others.sum(1)
    against = np.divide(others, together[:, None], out=np.zeros_like(others), where=together[:, None] > 0)
    counted = np.where(together > 0, tries, 0.0)
    numbers = np.unique(pairs.thing[counted > 0])
    weight = np.where(pairs.thing == numbers[:, None], counted, 0.0)
    weight = weight / weight.sum(1, keepdims=True)
    contrast = weight @ (against - np.eye(pairs.size))
    mean, cov = posterior.moments(design.columns.of(Effect.OBSERVER))
    variance = np.sum((contrast @ cov) * contrast, axis=1)
    names = [design.observers[number] for number in numbers]
    return Severities(names, contrast @ mean, np.sqrt(np.maximum(variance, 1e-18)), pairs.size)


def strict_observers(
    cells: pd.DataFrame, fits: Mapping[str, SkillFit], skills: Iterable[str]
) -> list[StrictObserver]:
    """Return who is very likely much stricter than the others, or notes mostly failures; the surest first.

    Parameters
    ----------
    cells, fits : the season's cells and the fits of them.
    skills : keys of the skills in the order in which counts are wanted.

    Notes
    -----
    Where the fit did not settle nobody is named. With one observer it cannot be seen.
    """
    fit = next(iter(fits.values()), None)
    if fit is None or not fit.trusted:
        return []
    found = severities(fit)
    named = [at for at in np.argsort(-found.p_strict, kind="stable") if found.p_strict[at] >= SURE]
    return [_strict(found, at, cells, list(skills)) for at in named]


def _strict(found: Severities, at: int, cells: pd.DataFrame, skills: list[str]) -> StrictObserver:
    name = found.observers[at]
    own = cells["observer"] == name
    watched = cells["skill"].isin(cells.loc[own, "skill"])
    shared = cells[watched & cells["skill"].isin(cells.loc[watched & ~own, "skill"])]
    of_all = shared.groupby("skill")[["tries", "done"]].sum()
    without = shared[shared["observer"] != name].groupby("skill")[["tries", "done"]].sum()
    known = [key for key in skills if key in of_all.index]
    low, high = found.interval
    return StrictObserver(
        observer=name,
        others=tuple(sorted(set(shared["observer"]) - {name}, key=by_letters)),
        tries=int(shared.loc[shared["observer"] == name, "tries"].sum()),
        severity=float(found.severity[at]),
        low=float(low[at]),
        high=float(high[at]),
        p_strict=float(found.p_strict[at]),
        counts=tuple(TeamCount(key, *map(int, (*of_all.loc[key], *without.loc[key]))) for key in known),
    )
