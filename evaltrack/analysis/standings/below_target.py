"""How many of the players who can be judged are below a target, by the joint posterior of their shares."""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from pathlib import Path

import numpy as np
import pandas as pd
from scipy.special import logit, ndtr

from evaltrack.analysis.season.cells import cells_frame, of_players
from evaltrack.analysis.season.season_model import SkillFit, fit_season
from evaltrack.analysis.season.together import DRAWS, Together, drawn_logits, together_of
from evaltrack.analysis.standings.counts import counted, own_time
from evaltrack.analysis.standings.live import live_fits
from evaltrack.analysis.standings.standings import doubts, positions_of
from evaltrack.analysis.standings.targets import Below
from evaltrack.analysis.standings.views import HIGH, LOW
from evaltrack.store.opening import open_season
from evaltrack.store.season_file import SeasonFile

Array = np.ndarray
OwnTimes = Mapping[tuple[Hashable, Hashable], tuple[date, date]]


@dataclass(frozen=True)
class AtOneMoment:
    """Players of one skill together, each at a moment of their own."""

    together: Together
    times: Array

    @cached_property
    def _logits(self) -> tuple[Array, Array]:
        return self.together.at(self.times)

    @cached_property
    def drawn(self) -> Array:
        """The logits of their shares, drawn together, (draws, P)."""
        return drawn_logits(*self._logits)

    def below(self, target: float) -> Below:
        """Return how many are below a target: what is expected is exact, its interval is drawn."""
        middle, cov = self._logits
        sd = np.sqrt(np.maximum(np.diag(cov), 1e-18))
        expected = float(ndtr((logit(target) - middle) / sd).sum())
        count = np.sort((self.drawn < logit(target)).sum(1))
        low, high = int(count[int(LOW * DRAWS)]), int(count[int(HIGH * DRAWS) - 1])
        return Below(
            target, len(middle), expected, min(low, int(expected)), max(high, int(np.ceil(expected)))
        )


class Judged:
    """The players of a skill who can be judged, at the start and at the end of each one's own time."""

    def __init__(self, fit: SkillFit, times: Iterable[tuple[bytes, tuple[date, date]]]):
        # in an order of its own, so that whoever asks draws the same
        self._fit, self._times = fit, sorted(times)

    def then(self, target: float) -> Below:
        """Return how many were below a target at the start."""
        return self._starts.below(target) if self._times else Below(target, 0)

    def now(self, target: float) -> Below:
        """Return how many are below a target at the end."""
        return self._ends.below(target) if self._times else Below(target, 0)

    @cached_property
    def _together(self) -> Together:
        place = {ident: row for row, ident in enumerate(self._fit.players)}
        return together_of(self._fit, [place[ident] for ident, _ in self._times])

    @cached_property
    def _starts(self) -> AtOneMoment:
        return AtOneMoment(self._together, self._fit.axis.at([start for _, (start, _) in self._times]))

    @cached_property
    def _ends(self) -> AtOneMoment:
        return AtOneMoment(self._together, self._fit.axis.at([end for _, (_, end) in self._times]))


def judged_in(cells: pd.DataFrame, fit: SkillFit, own: OwnTimes) -> Judged:
    """Return who can be judged in a skill whose estimate may be shown.

    Parameters
    ----------
    cells : those of the players who are meant, in the skill alone.
    own : the ends of each one's own time, as ``own_time`` has them of the whole season.
    """
    tried = counted(cells)
    return Judged(fit, [(pair[0], own[pair]) for pair, one in tried.items() if one.enough])


def read_below(season: SeasonFile, targets: Mapping[str, Sequence[float]]) -> dict[str, tuple[Below, ...]]:
    """Return how many of the team are below each of some targets now, by skill."""
    cells = cells_frame(season.log.cells())
    fits = fit_season(cells, positions_of(season.people.everyone())) if len(cells) else {}
    return _below_in(season, cells, fits, targets)


def read_live_below(path: Path, targets: Mapping[str, Sequence[float]]) -> dict[str, tuple[Below, ...]]:
    """Return what ``read_below`` does of a season file, from the fits that its standings are made of."""
    with open_season(path) as season:
        return _below_in(season, *live_fits(season), targets)


def _below_in(
    season: SeasonFile,
    cells: pd.DataFrame,
    fits: Mapping[str, SkillFit],
    targets: Mapping[str, Sequence[float]],
) -> dict[str, tuple[Below, ...]]:
    if not fits:
        return {key: tuple(Below(target, 0) for target in every) for key, every in targets.items()}
    team = of_players(cells, [player.id.bytes for player in season.people.in_figures()])
    doubted, own, found = doubts(cells, fits), own_time(cells), {}
    for key, every in targets.items():
        known = key in fits and not doubted[key]
        judged = judged_in(team[team["skill"] == key], fits[key], own) if known else None
        found[key] = tuple(judged.now(target) if judged else Below(target, 0) for target in every)
    return found
