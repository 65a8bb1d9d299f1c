"""Standings: what can be said of every player in every skill, from the season's cells."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date

import pandas as pd

from evaltrack.analysis.season.cells import cells_frame, up_to
from evaltrack.analysis.season.season_model import SkillFit, fit_season
from evaltrack.analysis.standings.calls import Evidence, calls, trend
from evaltrack.analysis.standings.counts import counted, days_of, own_time
from evaltrack.analysis.standings.opponents import with_opponents
from evaltrack.analysis.standings.severity import strict_observers
from evaltrack.analysis.standings.standing import Standing
from evaltrack.analysis.standings.strict_observer import StrictObserver
from evaltrack.analysis.standings.views import by_counts, by_model
from evaltrack.language import mark
from evaltrack.rink.player import Player, Position, Status, by_number
from evaltrack.rink.skill import Skill
from evaltrack.store.season_file import SeasonFile

LEAST_TRIES, LEAST_PRACTICES = 10, 2


def read_standings(
    season: SeasonFile, as_of: date | None = None, skill: str | None = None, left: bool = False
) -> list[Standing]:
    """Return the standings of a season file: players by number, skills in catalogue order.

    Parameters
    ----------
    season : an open season file.
    as_of : nothing after this day is used, and the window ends at the last practice on or before it.
    skill : the key of the only skill to return. The others still inform it.
    left : return those of players who have left too, of whom one may have another's number.
    """
    return read_with_observers(season, as_of, skill, left)[0]


def read_with_observers(
    season: SeasonFile, as_of: date | None = None, skill: str | None = None, left: bool = False
) -> tuple[list[Standing], list[StrictObserver]]:
    """Return the standings of a season file, as ``read_standings`` does, and who is much stricter.

    That is judged over all skills, also where only one is asked for.
    """
    cells, fits = cells_frame(season.log.cells(as_of)), {}

    def fit(*args) -> dict[str, SkillFit]:
        fits.update(fit_season(*args))
        return fits

    skills = season.catalogue.skills()
    standings = standings_of(cells, season.people.everyone(), skills, fit=fit, left=left)
    strict = strict_observers(cells, fits, [one.key for one in skills])
    return [one for one in standings if skill in (None, one.skill)], strict


def read_strict_observers(season: SeasonFile) -> list[StrictObserver]:
    """Return who is very likely much stricter than the other observers of a season file."""
    cells = cells_frame(season.log.cells())
    if cells.empty:
        return []
    fits = fit_season(cells, positions_of(season.people.everyone()))
    return strict_observers(cells, fits, [one.key for one in season.catalogue.skills()])


def standings_of(
    cells: pd.DataFrame,
    players: Iterable[Player],
    skills: Iterable[Skill],
    as_of: date | None = None,
    shared: bool = True,
    fit: Callable[..., dict[str, SkillFit]] = fit_season,
    left: bool = False,
) -> list[Standing]:
    """Return one standing for every player and skill with at least one try.

    Parameters
    ----------
    cells : the season's cells, in the columns of ``cells_frame``.
    players, skills : who and what to report; cells of others still count towards the fit.
    as_of : nothing after this day is used.
    shared : whether a player's skills lend each other strength.
    fit : fits the cells, called as ``fit_season`` is.
    left : report players who have left too; without it they inform the others' standings and calls.

    Notes
    -----
    Calls are chosen over all of them together, so leaving some out afterwards changes no call.
    """
    cells = up_to(cells, as_of)
    if cells.empty:
        return []
    roster = sorted(players, key=by_number)
    found = _uncalled(cells, roster, skills, fit(cells, positions_of(roster), shared))
    found = with_opponents(found, cells, roster)
    found.sort(key=lambda pair: by_number(pair[0]))
    called = _called([one for _, one in found])
    whose = (player for player, _ in found)
    return [one for player, one in zip(whose, called, strict=True) if left or player.status != Status.LEFT]


def positions_of(players: Iterable[Player]) -> dict[bytes, Position]:
    """Return the position group that counts of each player, by id: the first of those who play in two."""
    return {player.id.bytes: player.position for player in players}


def _uncalled(
    cells: pd.DataFrame, roster: Sequence[Player], skills: Iterable[Skill], fits: dict[str, SkillFit]
) -> list[tuple[Player, Standing]]:
    """Return whose standings are which, skill by skill, before any call is made."""
    tried, days, own, doubted = counted(cells), days_of(cells), own_time(cells), doubts(cells, fits)
    found: list[tuple[Player, Standing]] = []
    for skill in (skill for skill in skills if skill.key in fits):
        mine = [p for p in roster if (p.id.bytes, skill.key) in tried]
        counts = [tried[p.id.bytes, skill.key] for p in mine]
        if doubt := doubted[skill.key]:
            found += zip(mine, by_counts(mine, skill, counts, doubt), strict=True)
        elif mine:
            times = [own[p.id.bytes, skill.key] for p in mine]
            made = by_model(mine, skill, counts, fits[skill.key], days[skill.key], times)
            found += zip(mine, made, strict=True)
    return found


def doubts(cells: pd.DataFrame, fits: dict[str, SkillFit]) -> dict[str, str | None]:
    """Say for each skill why its fit must not be shown as an ordinary one; None where it may."""
    by_skill = cells.groupby("skill")
    tries, practices = by_skill["tries"].sum(), by_skill["held_on"].nunique()
    enough = (tries >= LEAST_TRIES) & (practices >= LEAST_PRACTICES)
    return {key: _doubt(fit, enough[key]) for key, fit in fits.items()}


def _doubt(fit: SkillFit, enough: bool) -> str | None:
    if not enough:
        return mark("This skill was watched too little so far, so this is the plain count and nothing more.")
    if not fit.trusted:
        return mark("The season's estimate did not settle for this skill, so this is the plain count.")
    return None


def _called(standings: Sequence[Standing]) -> list[Standing]:
    evidence = [Evidence(s.tries, s.practices, s.p_below, s.doubt is not None) for s in standings]
    return [
        replace(
            one,
            call=call,
            trend=trend(one.p_up, known.too_few),
            to_go=None if known.too_few else one.to_go,
        )
        for one, known, call in zip(standings, evidence, calls(evidence), strict=True)
    ]
