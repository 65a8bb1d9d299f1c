"""Standings of the players of one skill, by the model or by plain counts, before any call is made."""

from collections.abc import Sequence
from datetime import date

import numpy as np

from evaltrack.analysis.intervals import probability_below, wilson
from evaltrack.analysis.season import outlook
from evaltrack.analysis.season.precision import to_go_of
from evaltrack.analysis.season.season_model import SkillFit
from evaltrack.analysis.standings.counts import Tried
from evaltrack.analysis.standings.reasons import reasons_of
from evaltrack.analysis.standings.standing import Call, PathPoint, Seen, Standing, Trend
from evaltrack.rink.player import Player
from evaltrack.rink.skill import Skill

Array = np.ndarray
LOW, HIGH, LOW50, HIGH50 = 0.05, 0.95, 0.25, 0.75
LONGEST_PATH = 60


def by_model(
    players: Sequence[Player],
    skill: Skill,
    counts: Sequence[Tried],
    fit: SkillFit,
    days: Sequence[date],
    times: Sequence[tuple[date, date]],
) -> list[Standing]:
    """Return the players' standings by the fit.

    Parameters
    ----------
    players, counts, times : who, what was counted of each, and the first and last day of each one's own time.
    skill, fit, days : the skill, its fit, and the days on which it was watched.
    """
    place = {ident: number for number, ident in enumerate(fit.players)}
    rows = [place[player.id.bytes] for player in players]
    look = fit.outlook.of(rows)
    start, now = (fit.axis.at(ends) for ends in zip(*times, strict=True))
    middle, cov = look.joint(now, start)
    figures = _figures(middle, cov, skill.target)
    paths = _paths(look, fit, days, times, counts)
    raw = np.array([tried.done / tried.tries for tried in counts])
    to_go = to_go_of(fit, look, now, np.array([tried.tries for tried in counts]))
    reasons = reasons_of(fit, now, rows, raw, figures["share"])
    return [
        _standing(
            player, skill, tried, path=path, reasons=why, to_go=to_go[row],
            **{name: float(values[row]) for name, values in figures.items()},
        )
        for row, (player, tried, path, why) in enumerate(zip(players, counts, paths, reasons, strict=True))
    ]  # fmt: skip


def _figures(middle: Array, cov: Array, target: float) -> dict[str, Array]:
    now, sd = middle[:, 0], np.sqrt(cov[:, 0, 0])
    share = outlook.expected_share(now, sd)
    start = outlook.expected_share(middle[:, 1], np.sqrt(cov[:, 1, 1]))
    return {
        "share": share,
        **bounds(now, sd),
        "start_share": start,
        "change": share - start,
        "change_low": outlook.change_quantile(middle, cov, LOW),
        "change_high": outlook.change_quantile(middle, cov, HIGH),
        "p_up": outlook.probability_up(middle, cov),
        "p_below": outlook.probability_below(now, sd, target),
    }


def bounds(middle: Array, sd: Array) -> dict[str, Array]:
    """Return the bounds of the 90 % and 50 % intervals of shares whose logits are normal, by name."""
    levels = {"low": LOW, "high": HIGH, "low50": LOW50, "high50": HIGH50}
    return {name: outlook.share_quantile(middle, sd, level) for name, level in levels.items()}


def _paths(
    look: outlook.Outlook, fit: SkillFit, days: Sequence[date], times, counts: Sequence[Tried]
) -> list[tuple[PathPoint, ...]]:
    """Return each player's path over the days of their own time, from its first day to its last."""
    every = sorted({*days, *(end for ends in times for end in ends)})
    middle, sd = look.path(fit.axis.at(every))
    points = np.stack([outlook.expected_share(middle, sd), *bounds(middle, sd).values()], axis=-1).tolist()
    return [
        tuple(PathPoint(every[at], *row[at]) for at in _thinned(every, set(days), *ends, tried.seen))
        for row, ends, tried in zip(points, times, counts, strict=True)
    ]


def _thinned(
    every: Sequence[date], days: set[date], start: date, end: date, seen: Sequence[Seen]
) -> list[int]:
    """Return which days make a path: its ends and the days between, thinned where there are very many.

    The first and the last day on which the player was seen always stay.
    """
    own = [at for at, day in enumerate(every) if start <= day <= end and (day in days or day in (start, end))]
    if len(own) <= LONGEST_PATH:
        return own
    kept = {own[at] for at in np.linspace(0, len(own) - 1, LONGEST_PATH).round().astype(int)}
    return sorted(kept | {every.index(seen[at].on) for at in (0, -1)})


def by_counts(players: Sequence[Player], skill: Skill, counts: Sequence[Tried], doubt: str) -> list[Standing]:
    """Return the players' standings by plain counts: Wilson's interval, and nothing known of change."""
    found = []
    for player, tried in zip(players, counts, strict=True):
        low, high = (float(end) for end in wilson(tried.done, tried.tries))
        low50, high50 = (float(end) for end in wilson(tried.done, tried.tries, 0.5))
        share = tried.done / tried.tries
        figures = {
            "share": share, "low": low, "high": high,
            "low50": min(low50, share), "high50": max(high50, share),
            "start_share": share, "change": 0.0, "change_low": -1.0, "change_high": 1.0, "p_up": 0.5,
            "p_below": probability_below(tried.done, tried.tries, skill.target),
        }  # fmt: skip
        found.append(_standing(player, skill, tried, doubt=doubt, **figures))
    return found


def _standing(player: Player, skill: Skill, tried: Tried, **figures) -> Standing:
    return Standing(
        player=player.number,
        name=player.name,
        position=player.position_text,
        skill=skill.key,
        tries=tried.tries,
        done=tried.done,
        practices=tried.practices,
        target=skill.target,
        call=Call.TOO_FEW,
        trend=Trend.NO_CLEAR_CHANGE,
        seen=tried.seen,
        **figures,
    )
