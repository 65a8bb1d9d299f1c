"""Coverage: who has been watched how much in which skill, and how well that tells their share."""

from collections.abc import Sequence
from datetime import date

import numpy as np
import pandas as pd

from evaltrack.analysis.season.cells import cells_frame, up_to
from evaltrack.analysis.season.outlook import Outlook, share_quantile
from evaltrack.analysis.season.season_design import group_numbers
from evaltrack.analysis.season.season_model import SkillFit, fit_season
from evaltrack.analysis.standings.standing import Coverage, Standing
from evaltrack.analysis.standings.standings import doubts, positions_of, standings_of
from evaltrack.rink.player import Player, Status, by_number
from evaltrack.rink.skill import Skill
from evaltrack.store.season_file import SeasonFile

UNKNOWN = (0.0, 1.0)


def read_coverage(season: SeasonFile, as_of: date | None = None) -> list[Coverage]:
    """Return the coverage of a season file: players by number, skills in catalogue order."""
    cells = cells_frame(season.log.cells(as_of))
    return coverage_of(cells, season.people.everyone(), season.catalogue.skills())


def coverage_of(
    cells: pd.DataFrame, players: Sequence[Player], skills: Sequence[Skill], as_of: date | None = None
) -> list[Coverage]:
    """Return how much each player was watched in each skill that is for them or that they were seen in.

    Parameters
    ----------
    cells : the season's cells, in the columns of ``cells_frame``.
    players, skills : who and what to report; of those who have left nothing is.
    as_of : nothing after this day is used.
    """
    cells = up_to(cells, as_of)
    fits = fit_season(cells, positions_of(sorted(players, key=by_number))) if len(cells) else {}
    standings = standings_of(cells, players, skills, fit=lambda *_: fits)
    return coverage_by(cells, fits, standings, players, skills)


def coverage_by(
    cells: pd.DataFrame,
    fits: dict[str, SkillFit],
    standings: Sequence[Standing],
    players: Sequence[Player],
    skills: Sequence[Skill],
) -> list[Coverage]:
    """Return the coverage where the fit of the cells and the standings by it are known already."""
    roster = [p for p in sorted(players, key=by_number) if p.status is not Status.LEFT]
    seen = {(one.player, one.skill): _seen(one, cells["held_on"].max().date()) for one in standings}
    unseen = _unseen(cells, fits, roster, skills) if fits else {}
    pairs = [(player, skill, (player.number, skill.key)) for player in roster for skill in skills]
    return [
        Coverage(
            player.number,
            player.name,
            player.position_text,
            skill.key,
            *(seen.get(pair) or (0, 0, None, *unseen.get(pair, UNKNOWN), None)),
        )
        for player, skill, pair in pairs
        if skill.suits(*player.positions) or pair in seen
    ]


def _seen(one: Standing, last: date) -> tuple:
    ends = UNKNOWN if one.doubt else (one.low, one.high)
    return one.tries, one.practices, (last - one.seen[-1].on).days, *ends, one.to_go


def _unseen(
    cells: pd.DataFrame, fits: dict[str, SkillFit], roster: Sequence[Player], skills: Sequence[Skill]
) -> dict[tuple[str, str], tuple[float, float]]:
    """Return the interval of each player who was never seen in a skill that is for them."""
    doubted, found = doubts(cells, fits), {}
    for skill in (skill for skill in skills if skill.key in fits and not doubted[skill.key]):
        fit = fits[skill.key]
        wanted = [p for p in roster if skill.suits(*p.positions) and p.id.bytes not in fit.players]
        if wanted:
            ends = zip(*_beforehand(fit, wanted), strict=True)
            found |= {(p.number, skill.key): one for p, one in zip(wanted, ends, strict=True)}
    return found


def _beforehand(fit: SkillFit, players: Sequence[Player]) -> list[list[float]]:
    """Return the ends of the players' 90 % intervals on the last day on which the skill was watched.

    They have only some of the coefficients of a share. In place of the others stand a mean of zero and the
    spread that is expected of them.
    """
    predictor = fit.predictor
    numbers = {ident: number for number, ident in enumerate(predictor.design.players)}
    group = group_numbers(player.position for player in players)
    picked = predictor.picked(np.array([numbers.get(p.id.bytes, -1) for p in players], int), group)
    there = picked >= 0
    mean, cov = fit.fit.posterior.moments(np.maximum(picked, 0))
    spread = predictor.columns.spread_out({effect: fit.sd(effect) for effect in predictor.effects})
    cov = np.where(there[:, :, None] & there[:, None, :], cov, np.diag(spread**2) * ~there[:, None, :])
    look = Outlook(
        np.where(there, mean, 0.0), cov, fit.outlook.level, fit.outlook.rate, fit.kinds.seen(group)
    )
    middle, sd = (part[:, 0] for part in look.path(predictor.design.time[predictor.cells].max(keepdims=True)))
    return [share_quantile(middle, sd, level).tolist() for level in (0.05, 0.95)]
