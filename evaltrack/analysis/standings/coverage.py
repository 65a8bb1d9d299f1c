"""Coverage: what is too little known, and whom to watch next.

One more try of a player in a skill tells of their share there, and a little of all that hangs together with
it: their other skills, and the same skill of others, through the steps, the pressure and the team's mean.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
import pandas as pd
from scipy.special import expit

from evaltrack.analysis.season.cells import cells_frame, up_to
from evaltrack.analysis.season.outlook import Outlook, share_quantile
from evaltrack.analysis.season.precision import Z, information, tries_to_go
from evaltrack.analysis.season.season_design import group_numbers
from evaltrack.analysis.season.season_model import SkillFit, fit_season
from evaltrack.analysis.standings.counts import own_time
from evaltrack.analysis.standings.standing import Coverage
from evaltrack.analysis.standings.standings import doubts, positions_of
from evaltrack.rink.player import Player, by_number
from evaltrack.rink.skill import Skill
from evaltrack.store.season_file import SeasonFile

Array = np.ndarray


def read_coverage(season: SeasonFile, as_of: date | None = None) -> list[Coverage]:
    """Return the coverage of a season file: players by number, skills in catalogue order."""
    cells = cells_frame(season.log.cells(as_of))
    return coverage_of(cells, season.people.players(), season.catalogue.skills())


def coverage_of(
    cells: pd.DataFrame, players: Sequence[Player], skills: Sequence[Skill], as_of: date | None = None
) -> list[Coverage]:
    """Return how well each player is known in each skill that is for them or that they were seen in.

    Parameters
    ----------
    cells : the season's cells, in the columns of ``cells_frame``.
    players, skills : who and what to report.
    as_of : nothing after this day is used.
    """
    cells = up_to(cells, as_of)
    roster = sorted(players, key=by_number)
    tries = cells.groupby(["player", "skill"])["tries"].sum().to_dict()
    known: dict[tuple[str, str], tuple] = {}
    if len(cells):
        fits = fit_season(cells, positions_of(roster))
        sound = {key: fits[key] for key, doubt in doubts(cells, fits).items() if not doubt}
        known = _known(sound, roster, skills, own_time(cells))
    return [
        Coverage(
            player.number, player.name, str(player.position), skill.key,
            tries.get((player.id.bytes, skill.key), 0), *known.get((player.number, skill.key), _UNKNOWN),
        )
        for player in roster
        for skill in skills
        if skill.suits(player.position) or (player.id.bytes, skill.key) in tries
    ]  # fmt: skip


_UNKNOWN = (0.0, 1.0, None, None)


@dataclass(frozen=True)
class _Share:
    """One player's share in a skill as the fit knows it: which coefficients pull at it, and how."""

    key: tuple[str, str]
    middle: float
    columns: Array
    gradient: Array
    apart: float  # variance of what no coefficient stands for yet, for they were never seen in it


def _known(
    fits: dict[str, SkillFit],
    roster: Sequence[Player],
    skills: Sequence[Skill],
    own: Mapping[tuple[bytes, str], tuple[date, date]],
) -> dict[tuple[str, str], tuple]:
    """Return interval, tries to go and gain for each player's number and skill."""
    shares, tells = [], []
    for skill in (skill for skill in skills if skill.key in fits):
        fit = fits[skill.key]
        wanted = [player for player in roster if _wanted(fit, player, skill)]
        found = _shares(fit, wanted, skill.key, own)
        shares += found
        tells += information(fit, np.array([share.middle for share in found])).tolist()
    if not shares:
        return {}
    middle, told = np.array([share.middle for share in shares]), np.array(tells)
    together = _covariance(next(iter(fits.values())), shares)
    variance = np.diagonal(together)
    ends = (share_quantile(middle, np.sqrt(variance), level) for level in (0.05, 0.95))
    figures = (*ends, tries_to_go(middle, variance, told), _gains(middle, together, told))
    return {share.key: row for share, *row in zip(shares, *(part.tolist() for part in figures), strict=True)}


def _wanted(fit: SkillFit, player: Player, skill: Skill) -> bool:
    return skill.suits(player.position) or player.id.bytes in fit.players


def _shares(fit: SkillFit, players: Sequence[Player], skill: str, own) -> list[_Share]:
    """Return the players' shares; whoever was never seen in the skill has only some of its coefficients.

    In place of the others stand a mean of zero and the spread that is expected of them.
    """
    predictor = fit.predictor
    last = predictor.design.time[predictor.cells].max()
    ends = [own.get((player.id.bytes, skill)) for player in players]
    nows = [last if end is None else fit.axis.at([end[1]])[0] for end in ends]
    spread = predictor.columns.spread_out({effect: fit.sd(effect) for effect in predictor.effects})
    picked = _picked(fit, players)
    means = np.where(picked >= 0, fit.fit.posterior.mean[picked], 0.0)
    found = []
    mix = fit.kinds.seen(group_numbers(player.position for player in players))
    for player, columns, mean, seen, now in zip(players, picked, means, mix, nows, strict=True):
        look = Outlook(mean[None], None, fit.outlook.level, fit.outlook.rate, seen[None])
        middle, gradient = (part[0, 0] for part in look.at(np.array([now])))
        there = columns >= 0
        apart = float(np.sum((gradient * spread)[~there] ** 2))
        found.append(_Share((player.number, skill), float(middle), columns[there], gradient[there], apart))
    return found


def _picked(fit: SkillFit, players: Sequence[Player]) -> Array:
    """Return which of the fit's coefficients are the players', (P, r): -1 where the fit has none."""
    known = {ident: number for number, ident in enumerate(fit.predictor.design.players)}
    numbers = [known.get(player.id.bytes, -1) for player in players]
    return fit.predictor.picked(np.array(numbers, int), group_numbers(player.position for player in players))


def _covariance(fit: SkillFit, shares: Sequence[_Share]) -> Array:
    """Return the covariance of all shares' logits."""
    posterior = fit.fit.posterior
    gradients = np.zeros((len(shares), len(posterior.mean)))
    for row, share in zip(gradients, shares, strict=True):
        row[share.columns] = share.gradient
    solved = np.array([posterior.factor.solve(row) for row in gradients])
    sd_factor = gradients @ posterior.sd_factor.T
    return gradients @ solved.T + sd_factor @ sd_factor.T + np.diag([share.apart for share in shares])


def _gains(middle: Array, together: Array, told: Array) -> Array:
    """Return by how much half the intervals of all shares narrow with one more try of each, in points."""
    variance = np.diagonal(together)
    left = variance - together**2 * (told / (1 + told * variance))[:, None]
    share = expit(middle)
    return (np.sqrt(variance) - np.sqrt(np.maximum(left, 0.0))) @ (Z * share * (1 - share))
