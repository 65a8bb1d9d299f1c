"""What percentages, and what careful plain methods, say of a simulated season, in the columns of ours."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from plain_methods import (
    benjamini_hochberg,
    exact_interval,
    james_stein,
    jeffreys,
    mann_kendall,
    newcombe,
    theil_slope,
)
from scipy.special import bdtr, ndtri
from simulated_season import SimulatedSeason, World

Array = np.ndarray
FEWEST, GAP = 10, 0.1
WRONG_SHARE, TREND_SURE = 0.1, 0.95
FEWEST_DAYS = 4
STEADY = "no clear change"


@dataclass(frozen=True)
class Seen:
    """Tries and dones by player and skill, one row each, and by practice, (pairs, practices)."""

    player: Array
    skill: Array
    tries: Array
    done: Array

    @property
    def totals(self) -> tuple[Array, Array]:
        """Dones and tries of the whole season, (pairs,) each."""
        return self.done.sum(1), self.tries.sum(1)


def seen(season: SimulatedSeason, world: World) -> Seen:
    """Return the counts of every player and skill with at least one try."""
    shape = (world.players * world.skills, world.practices)
    cell = (season.player * world.skills + season.skill) * world.practices + season.practice
    tries, done = (
        np.bincount(which, minlength=shape[0] * shape[1]).reshape(shape)
        for which in (cell, cell[season.done])
    )
    kept = np.flatnonzero(tries.sum(1))
    return Seen(kept // world.skills, kept % world.skills, tries[kept], done[kept])


def by_percentages(counts: Seen, target: float) -> pd.DataFrame:
    """Return what raw percentages with fixed cut-offs say, with intervals of plain counts."""
    (done, tries), middle = counts.totals, counts.tries.shape[1] // 2
    halves = [(counts.done[:, part].sum(1), counts.tries[:, part].sum(1))
              for part in (slice(middle, None), slice(None, middle))]  # fmt: skip
    both = (halves[0][1] > 0) & (halves[1][1] > 0)
    change, low, high = np.zeros(len(tries)), np.full(len(tries), -1.0), np.ones(len(tries))
    late, early = ([values[both] for values in half] for half in halves)
    change[both] = late[0] / late[1] - early[0] / early[1]
    low[both], high[both] = newcombe(*late, *early)
    share, enough = done / tries, tries >= FEWEST
    calls = _words(enough & (share < target), enough & (share >= target), "work on", "solid", "in between")
    trends = _words(change >= GAP, change <= -GAP, "up", "down", STEADY)
    return _frame(counts, share, jeffreys(done, tries), change, (low, high), calls, trends)


def by_plain_methods(counts: Seen, target: float) -> pd.DataFrame:
    """Return what shrinkage, exact intervals and tests say, each by itself and without a model."""
    done, tries = counts.totals
    share = np.empty(len(tries))
    for skill in np.unique(counts.skill):
        mine = counts.skill == skill
        mean = done[mine].sum() / tries[mine].sum()
        share[mine] = james_stein(done[mine] / tries[mine], mean * (1 - mean) / tries[mine])
    # the chance of so few done, or of so many, were the share just at the target
    few, many = bdtr(done, tries, target), bdtr(tries - done, tries, 1 - target)
    below, above = (benjamini_hochberg(p, WRONG_SHARE) for p in (few, many))
    z, change = np.array([_trend(*rows) for rows in zip(counts.done, counts.tries, strict=True)]).T
    sure = ndtri(TREND_SURE)
    calls = _words(below, above, "work on", "solid", "in between")
    trends = _words(z >= sure, z <= -sure, "up", "down", STEADY)
    unknown = np.full((2, len(tries)), np.nan)
    return _frame(counts, share, exact_interval(done, tries), change, unknown, calls, trends)


def _trend(done: Array, tries: Array) -> tuple[float, float]:
    """Return Mann and Kendall's Z over the practices with tries, and Theil's slope over the season."""
    days = np.flatnonzero(tries)
    if len(days) < FEWEST_DAYS:
        return 0.0, 0.0
    shares = done[days] / tries[days]
    return mann_kendall(shares)[2], theil_slope(days, shares) * (len(tries) - 1)


def _words(one: Array, other: Array, first: str, second: str, neither: str) -> Array:
    return np.where(one, first, np.where(other, second, neither))


def _frame(counts: Seen, share, interval, change, change_interval, calls, trends) -> pd.DataFrame:
    low, high = interval
    change_low, change_high = change_interval
    return pd.DataFrame({
        "player": counts.player, "skill": counts.skill, "tries": counts.totals[1],
        "share": share, "low": low, "high": high,
        "change": change, "change_low": change_low, "change_high": change_high,
        "call": calls, "trend": trends,
    })  # fmt: skip
