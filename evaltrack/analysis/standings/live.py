"""Standings that are asked for again and again while a season file grows."""

from pathlib import Path
from uuid import UUID

import pandas as pd

from evaltrack.analysis.mixed_logit import WarmStart
from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import SkillFit, fit_season
from evaltrack.analysis.standings.severity import strict_observers
from evaltrack.analysis.standings.standing import Standing
from evaltrack.analysis.standings.standings import standings_of
from evaltrack.analysis.standings.strict_observer import StrictObserver
from evaltrack.analysis.standings.team_skill import TeamSkill
from evaltrack.analysis.standings.team_view import team_of
from evaltrack.rink.ident import new_id
from evaltrack.store.opening import open_season


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
        self._fits: dict[str, SkillFit] = {}
        self.strict: list[StrictObserver] = []

    def read(self, path: Path, known: UUID | None = None) -> tuple[UUID, list[Standing] | None]:
        """Return the edition and the standings of a season file, over a connection of its own.

        Parameters
        ----------
        path : the season file. Another one than last time is begun again.
        known : the edition that the asker has. When that is still the newest, the standings are None.
        """
        if path != self._path:
            self._path = path
            self._forget()
        with open_season(path) as season:
            facts = (season.log.cells(), season.people.everyone(), season.catalogue.skills())
        if facts != self._facts:
            rows, players, skills = facts
            cells, self._fits = cells_frame(rows), {}
            self._standings = standings_of(cells, players, skills, fit=self._fit)
            self.strict = strict_observers(cells, self._fits, [one.key for one in skills])
            self._facts, self._edition = facts, new_id()
        return self._edition, None if known == self._edition else self._standings

    def team(self, path: Path, skill: str) -> TeamSkill | None:
        """Return what the team does in a skill of a season file; None where nobody has a try in it."""
        self.read(path)
        own = [one for one in self._standings if one.skill == skill]
        return next(iter(team_of({skill: self._fits[skill]}, own, self._facts[1])), None) if own else None

    def _fit(self, cells: pd.DataFrame, *args) -> dict[str, SkillFit]:
        fits = fit_season(cells, *args, start=self._warm_start)
        posterior = next(iter(fits.values())).fit.posterior
        self._warm_start, self._fits = posterior and posterior.warm_start, fits
        return fits


_live = LiveStandings()


def read_live(path: Path, known: UUID | None = None) -> tuple[UUID, list[Standing] | None]:
    """Return the edition and the standings of a season file, as ``LiveStandings.read`` of this process."""
    return _live.read(path, known)


def read_live_team(path: Path, skill: str) -> TeamSkill | None:
    """Return what the team does in a skill of a season file, from the fit of the standings at hand."""
    return _live.team(path, skill)


def live_strict() -> list[StrictObserver]:
    """Return who is much stricter than the others by what ``read_live`` read last."""
    return _live.strict
