"""The team in each skill: the mean of its players' shares, how it changes, what steps and pressure cost."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

import numpy as np
from scipy.special import expit, ndtr, ndtri

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import SkillFit, fit_season
from evaltrack.analysis.season.skill_tries import skill_tries
from evaltrack.analysis.standings.calls import trend
from evaltrack.analysis.standings.costs import KindsOfCause, kinds_of_causes
from evaltrack.analysis.standings.reasons import wide_of
from evaltrack.analysis.standings.standing import Call, Cause, Standing
from evaltrack.analysis.standings.standings import standings_of
from evaltrack.analysis.standings.team_skill import KindCost, TeamSkill
from evaltrack.rink.player import Player, Status
from evaltrack.store.season_file import SeasonFile

Array = np.ndarray
HIGH = 0.95
_TOLD = {Cause.STEP: None, Cause.PRESSURE: "yes"}  # of which kinds the cost is told; None for all


def read_team(season: SeasonFile, as_of: date | None = None, skill: str | None = None) -> list[TeamSkill]:
    """Return what the team does in each skill of a season file that has a try, or in one of them alone.

    They stand in catalogue order.
    """
    cells, fits = cells_frame(season.log.cells(as_of)), {}

    def fit(*args) -> dict[str, SkillFit]:
        fits.update(fit_season(*args))
        return fits

    players, skills = season.people.everyone(), season.catalogue.skills()
    standings = standings_of(cells, players, skills, fit=fit)
    found = {one.skill: one for one in team_of(fits, standings, players)}
    return [found[one.key] for one in skills if one.key in found and skill in (None, one.key)]


def team_of(
    fits: Mapping[str, SkillFit], standings: Iterable[Standing], players: Sequence[Player]
) -> list[TeamSkill]:
    """Return what the team does in each skill in which somebody of these standings has a try.

    Parameters
    ----------
    fits, standings : the fits of a season, and what was made of them, without players who have left.
    players : the roster.
    """
    idents = {player.number: player.id.bytes for player in players if player.status is not Status.LEFT}
    by_skill: dict[str, list[Standing]] = {key: [] for key in fits}
    for one in standings:
        by_skill[one.skill].append(one)
    return [_team(fits[key], key, own, idents) for key, own in by_skill.items() if own]


def _team(fit: SkillFit, skill: str, own: Sequence[Standing], idents: Mapping[str, bytes]) -> TeamSkill:
    shown = [one for one in own if one.call is not Call.TOO_FEW and one.doubt is None and one.path]
    tries, done = sum(one.tries for one in own), sum(one.done for one in own)
    if not shown:
        return TeamSkill(skill, 0, tries, done, 0.0, 0.0, 0.0, 0.0, 0.0, 0.5, trend(0.5, True))
    share, start = (
        float(np.mean([getattr(one, name) for one in shown])) for name in ("share", "start_share")
    )
    sd = _sd_of_change(fit, [idents[one.player] for one in shown], shown)
    change, wide = share - start, float(ndtri(HIGH)) * sd
    p_up = float(ndtr(change / sd))
    bounds = max(change - wide, -1.0), min(change + wide, 1.0)
    return TeamSkill(
        skill, len(shown), tries, done, share, start, change, *bounds, p_up, trend(p_up, False), _costs(fit)
    )


def _sd_of_change(fit: SkillFit, whose: Sequence[bytes], shown: Sequence[Standing]) -> float:
    """Return the SD of the mean change of some players, whose coefficients are correlated (delta method)."""
    place = {ident: number for number, ident in enumerate(fit.players)}
    rows = [place[ident] for ident in whose]
    ends = [fit.axis.at([one.path[at].on for one in shown]) for at in (-1, 0)]
    logits, gradients = fit.outlook.of(rows).at(np.column_stack(ends))
    share = expit(logits)
    slopes = (share * (1 - share))[..., None] * gradients
    columns, each = np.unique(_picked(fit)[rows], return_inverse=True)
    moves = np.bincount(each.ravel(), (slopes[:, 0] - slopes[:, 1]).ravel(), len(columns)) / len(rows)
    _, cov = fit.fit.posterior.moments(columns)
    return float(np.sqrt(max(moves @ cov @ moves, 1e-18)))


def _picked(fit: SkillFit) -> Array:
    """Return which of the fit's coefficients are those of its players, (P, r)."""
    predictor = fit.predictor
    numbers = {ident: number for number, ident in enumerate(predictor.design.players)}
    whose = np.array([numbers[ident] for ident in fit.players])
    return predictor.picked(whose, predictor.design.group[whose])


def _costs(fit: SkillFit) -> tuple[KindCost, ...]:
    tries = skill_tries(fit)
    kinds = kinds_of_causes(tries)
    return tuple(
        cost
        for cause, only in _TOLD.items()
        if cause in kinds
        for cost in _of_cause(cause, only, kinds[cause], tries.tries, wide_of(fit, cause))
    )


def _of_cause(
    cause: Cause, only: str | None, kinds: KindsOfCause, tries: Array, wide: float
) -> Iterable[KindCost]:
    """Yield the costs over the tries of all, the last of the mixes; nothing where all were of one kind."""
    for at, name in enumerate(kinds.names):
        count = round(float(kinds.of_kind[at] @ tries))
        others = round(float(tries.sum())) - count
        if only in (None, name) and count and others:
            cost, doubt = float(kinds.costs[-1, at]), wide * float(kinds.sds[-1, at])
            yield KindCost(cause, name, count, others, cost, cost - doubt, cost + doubt)
