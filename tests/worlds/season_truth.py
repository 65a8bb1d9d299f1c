"""What a standing of a simulated season should say, worked out from the law and the tries alone.

Nothing of the estimates is used here. The share of player p in skill s at practice t is the mean of the
law's chances over a mix of kinds of try (step and pressure) and a mix of observers, taken as independent,
on an ordinary day: the practice has no effect.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from season_law import share

if TYPE_CHECKING:
    from simulated_season import SimulatedSeason

Array = np.ndarray


@dataclass(frozen=True)
class Estimand:
    """Which share is meant, and which change.

    Attributes
    ----------
    own_days : from the later of the skill's and the player's first day to the earlier of their last ones,
        a player's days being those with a try in any skill. Otherwise the season's first and last practice.
    group_mix : under the kinds of try of the player's position group in the skill, otherwise under those of
        everybody's.
    own_observers : as the season's observers see it, in their shares of the skill's tries. Otherwise as an
        average one does, who has no effect.
    """

    own_days: bool = True
    group_mix: bool = True
    own_observers: bool = True


NAMED = Estimand()
AVERAGE_OBSERVER = Estimand(own_days=False, group_mix=False, own_observers=False)


def truth(season: "SimulatedSeason", estimand: Estimand = NAMED) -> tuple[Array, Array]:
    """Return each player's share now in each skill, and that minus the share at the start, (p, s) each."""
    first, last = judged_days(season, estimand)
    now, start = (shares_at(season, practice, estimand) for practice in (last, first))
    return now, now - start


def judged_days(season: "SimulatedSeason", estimand: Estimand = NAMED) -> tuple[Array, Array]:
    """Return the practices (p, s) from which and to which a player is judged in a skill."""
    players, skills, practices = season.law.course.shape
    if not estimand.own_days:
        return np.zeros((players, skills), int), np.full((players, skills), practices - 1)
    ends = []
    for things, size in ((season.player, players), (season.skill, skills)):
        first, last = np.full(size, 0), np.full(size, practices - 1)
        for thing in np.unique(things):
            days = season.practice[things == thing]
            first[thing], last[thing] = days.min(), days.max()
        ends.append((first, last))
    (p_first, p_last), (s_first, s_last) = ends
    return np.maximum(p_first[:, None], s_first), np.minimum(p_last[:, None], s_last)


def shares_at(season: "SimulatedSeason", practice: Array, estimand: Estimand = NAMED) -> Array:
    """Return each player's share in each skill at these practices, (p, s) both."""
    law = season.law
    base = np.take_along_axis(law.course, practice[:, :, None], axis=2)[:, :, 0]
    kinds = law.step.T[:, :, None] + law.pressure * np.arange(2)
    often, effect = _observers(season, estimand)
    logit = base[:, :, None, None, None] + kinds[:, :, :, None] + effect[:, None, None, :]
    return np.einsum("psdq,so,psdqo->ps", _kinds(season, estimand), often, share(logit))


def _kinds(season: "SimulatedSeason", estimand: Estimand) -> Array:
    """Return how often each step and pressure occurred for players like each one, (p, s, steps, 2)."""
    players, skills, _ = season.law.course.shape
    count = np.zeros((2, skills, len(season.law.step), 2))
    np.add.at(count, (season.defender[season.player].astype(int), season.skill, season.step,
                      season.pressure.astype(int)), 1)  # fmt: skip
    every = np.broadcast_to(count.sum(0), (players, *count.shape[1:]))
    if estimand.group_mix:
        mine = count[season.defender.astype(int)]
        every = np.where(mine.sum((2, 3), keepdims=True) > 0, mine, every)
    return every / np.maximum(every.sum((2, 3), keepdims=True), 1)


def _observers(season: "SimulatedSeason", estimand: Estimand) -> tuple[Array, Array]:
    """Return how often each observer noted a try of a skill, and their effect there, (s, observers) each.

    The effect of one who changes is its mean over their tries; one who does not note every done adds the
    logarithm of the part that is noted.
    """
    law, (_, skills, _) = season.law, season.law.course.shape
    if not estimand.own_observers:
        return np.ones((skills, 1)), np.zeros((skills, 1))
    count = np.zeros(law.observer.shape)
    np.add.at(count, (season.observer, season.skill, season.practice), 1)
    tries = count.sum(2)
    effect = (count * law.observer).sum(2) / np.maximum(tries, 1) + np.log(law.noted)[:, None]
    return (tries / np.maximum(tries.sum(0), 1)).T, effect.T
