"""What is true of the whole team of a simulated season, worked out from the law and the tries alone.

The team in a skill are the players with a try in it, each counted alike; before and after their own days they
count as on the first and the last of these.
"""

import numpy as np
from season_law import share
from season_truth import judged_days, shares_at
from simulated_season import SimulatedSeason

Array = np.ndarray


def team_shares(season: SimulatedSeason, practice: int) -> Array:
    """Return the team's share in each skill (s,) at a practice."""
    first, last = judged_days(season)
    return _mean(season, shares_at(season, np.clip(practice, first, last)))


def at_target(season: SimulatedSeason, target: float) -> tuple[Array, Array]:
    """Return how many of those who can be judged are at a target or above in each skill, then and now."""
    known = can_be_judged(season)
    return tuple(((shares_at(season, days) >= target) & known).sum(0) for days in judged_days(season))


def can_be_judged(season: SimulatedSeason) -> Array:
    """Return who has tries enough for a call in each skill (p, s): 10 of them, at 3 practices."""
    counts = np.zeros(season.law.course.shape)
    np.add.at(counts, (season.player, season.skill, season.practice), 1)
    return (counts.sum(-1) >= 10) & ((counts > 0).sum(-1) >= 3)


def step_costs(season: SimulatedSeason, skill: int) -> dict[int, float]:
    """Return by how many points the team does worse in each step of a skill than in its other steps.

    Kinds of try come as often as in all tries, at the mean moment of the skill's tries.
    """
    shares, kinds = _by_kind(season, skill)
    run = np.flatnonzero(kinds.sum(1))
    return {
        int(one): _of(shares, kinds, run != one, run) - _of(shares, kinds, run == one, run) for one in run
    }


def pressure_cost(season: SimulatedSeason, skill: int) -> float:
    """Return by how many points the team does worse under pressure than without, steps as in all tries."""
    shares, kinds = _by_kind(season, skill)
    free, pressed = (kinds.sum(1) @ shares) / kinds.sum()
    return float(free - pressed)


def _by_kind(season: SimulatedSeason, skill: int) -> tuple[Array, Array]:
    """Return the team's share in each step without pressure and under it, (k, 2), and how many tries."""
    law, mine = season.law, season.skill == skill
    kinds = np.zeros((len(law.step), 2))
    np.add.at(kinds, (season.step[mine], season.pressure[mine].astype(int)), 1)
    by = np.bincount(season.observer[mine], minlength=len(law.observer)) / mine.sum()
    players, when = np.unique(season.player[mine]), season.practice[mine].mean()
    course = np.array([np.interp(when, np.arange(len(c)), c) for c in law.course[players, skill]])
    # observers do not change here: their effect at the first practice is that of all
    logit = (
        course[:, None, None, None] + law.step[:, skill, None, None] + law.pressure * np.arange(2)[:, None]
    )
    return share(logit + law.observer[:, skill, 0]).mean(0) @ by, kinds


def _of(shares: Array, kinds: Array, chosen: Array, run: Array) -> float:
    mine = run[chosen]
    return float((shares[mine] * kinds[mine]).sum() / kinds[mine].sum()) if len(mine) else 0.0


def _seen(season: SimulatedSeason) -> Array:
    players, skills, _ = season.law.course.shape
    seen = np.zeros((players, skills), bool)
    seen[season.player, season.skill] = True
    return seen


def _mean(season: SimulatedSeason, shares: Array) -> Array:
    seen = _seen(season)
    return (shares * seen).sum(0) / seen.sum(0)
