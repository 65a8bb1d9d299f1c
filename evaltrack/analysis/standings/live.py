"""Standings that are asked for again and again while a season file grows."""

from pathlib import Path
from uuid import UUID

import pandas as pd

from evaltrack.analysis.mixed_logit import WarmStart
from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import SkillFit, fit_season
from evaltrack.analysis.standings.coverage import coverage_by
from evaltrack.analysis.standings.severity import strict_observers
from evaltrack.analysis.standings.standing import Coverage, Standing
from evaltrack.analysis.standings.standings import standings_of
from evaltrack.analysis.standings.strict_observer import StrictObserver
from evaltrack.rink.ident import new_id
from evaltrack.store.opening import open_season
from evaltrack.store.season_file import SeasonFile


class LiveStandings:
    """The standings of one season file at a time, each fit setting out from where the last came to rest.

    ``strict`` are the observers who, by the fit that was read last, are much stricter than the others.
    """

    def __init__(self):
        self._path: Path | None = None
        self._forget()

    def _forget(self) -> None:
        self._warm_start: WarmStart | None = None
        self._facts: tuple | None = None
        self._edition: UUID | None = None
        self._standings: list[Standing] = []
        self._cells, self._fits = cells_frame([]), {}
        self.strict: list[StrictObserver] = []

    def read(self, path: Path, known: UUID | None = None) -> tuple[UUID, list[Standing] | None]:
        """Return the edition and the standings of a season file, over a connection of its own.

        Parameters
        ----------
        path : the season file. Another one than last time is begun again.
        known : the edition that the asker has. When that is still the newest, the standings are None.
        """
        with open_season(path) as season:
            self._bring_up(season)
        return self._edition, None if known == self._edition else self._standings

    def fits(self, season: SeasonFile) -> tuple[pd.DataFrame, dict[str, SkillFit]]:
        """Return the cells of a season file that is open, and the fits that its standings are made of.

        Nothing is fitted that was fitted for the standings already.
        """
        self._bring_up(season)
        return self._cells, self._fits

    def coverage(self, season: SeasonFile) -> list[Coverage]:
        """Return the coverage of a season file that is open, by the standings at hand."""
        self._bring_up(season)
        _, players, skills = self._facts
        return coverage_by(self._cells, self._fits, self._standings, players, skills)

    def _bring_up(self, season: SeasonFile) -> None:
        """Work out anew what is not of the season file as it is."""
        if season.path != self._path:
            self._path = season.path
            self._forget()
        players = season.people.everyone() or season.people.nobody()  # each as nobody, where it was closed
        facts = (season.log.cells(), players, season.catalogue.skills())
        if facts != self._facts:
            rows, players, skills = facts
            self._cells, self._fits = cells_frame(rows), {}
            self._standings = standings_of(self._cells, players, skills, fit=self._fit)
            self.strict = strict_observers(self._cells, self._fits, [one.key for one in skills])
            self._facts, self._edition = facts, new_id()

    def _fit(self, cells: pd.DataFrame, *args) -> dict[str, SkillFit]:
        fits = fit_season(cells, *args, start=self._warm_start)
        posterior = next(iter(fits.values())).fit.posterior
        self._warm_start, self._fits = posterior and posterior.warm_start, fits
        return fits


_live = LiveStandings()


def read_live(path: Path, known: UUID | None = None) -> tuple[UUID, list[Standing] | None]:
    """Return the edition and the standings of a season file, as ``LiveStandings.read`` of this process."""
    return _live.read(path, known)


def live_fits(season: SeasonFile) -> tuple[pd.DataFrame, dict[str, SkillFit]]:
    """Return the cells and the fits of a season file that is open, as ``LiveStandings.fits``."""
    return _live.fits(season)


def live_strict() -> list[StrictObserver]:
    """Return who is much stricter than the others by what ``read_live`` read last."""
    return _live.strict


def read_live_coverage(path: Path) -> list[Coverage]:
    """Return the coverage of a season file, from the fits that its standings are made of."""
    with open_season(path) as season:
        return _live.coverage(season)
