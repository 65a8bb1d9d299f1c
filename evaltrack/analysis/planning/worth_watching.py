"""Whom to watch next: whose tries are expected to bring the most right calls.

A call is right when it says of a share on which side of the target it is; no call is not. For each player and
skill it is worked out how many more right calls some practices of looking can be expected to bring, each with
a few tries that share one good or bad day, and a practice's part of that is what a look is worth. One look
alone often cannot turn the balance, so up to four are looked ahead (Frazier and Powell 2010, Decision
Analysis 7:378-403).
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import expit, logit, ndtr, ndtri

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.season_model import SkillFit
from evaltrack.analysis.standings.calls import SURE
from evaltrack.analysis.standings.standing import ENOUGH_PRACTICES, ENOUGH_TRIES, Coverage
from evaltrack.rink.plan import Look

Array = np.ndarray
EACH = 6  # tries of one player in a skill at one practice, about
AHEAD = 4  # practices
Z = float(ndtri(0.95))
NODES = ndtri((np.arange(200) + 0.5) / 200)  # equally likely places of a normal


@dataclass(frozen=True)
class Known:
    """What is known of shares (n,): the mean and SD of each one's logit, tries, practices, and the targets.

    ``day`` is the SD of a good or bad day, on the logit scale.
    """

    middle: Array
    sd: Array
    tries: Array
    practices: Array
    target: Array
    day: Array

    def right_now(self) -> Array:
        """Return how many right calls each is expected to be now, 0 to 1."""
        enough = (self.tries >= ENOUGH_TRIES) & (self.practices >= ENOUGH_PRACTICES)
        right = self.sureness()
        return np.where(enough & (right >= SURE), right, 0.0)

    def sureness(self) -> Array:
        """Return how likely the likelier side of the target is."""
        below = ndtr((logit(self.target) - self.middle) / self.sd)
        return np.maximum(below, 1 - below)

    def right_after(self, visits: int, each: int = EACH) -> Array:
        """Return how many right calls each is expected to be after so many practices of looking."""
        tries, practices = self.tries + visits * each, self.practices + visits
        enough = (tries >= ENOUGH_TRIES) & (practices >= ENOUGH_PRACTICES)
        plain = each * expit(self.middle) * expit(-self.middle)
        told = visits * plain / (1 + plain * self.day**2)
        left = 1 / (1 / self.sd**2 + told)
        moved = np.sqrt(np.maximum(self.sd**2 - left, 0.0))
        later = self.middle[:, None] + moved[:, None] * NODES
        below = ndtr((logit(self.target)[:, None] - later) / np.sqrt(left)[:, None])
        right = np.maximum(below, 1 - below)
        return np.where(enough, np.where(right >= SURE, right, 0.0).mean(1), 0.0)

    def worth(self) -> tuple[Array, Array]:
        """Return what a practice of looking is worth, and over how many of them that is reckoned, (n,)."""
        gains = np.array([(self.right_after(h) - self.right_now()) / h for h in range(1, AHEAD + 1)])
        return gains.max(0), 1 + gains.argmax(0)


def day_spread(fits: Mapping[str, SkillFit]) -> dict[str, float]:
    """Return the SD of a good or bad day in each skill, on the logit scale."""
    return {key: fit.sd(Effect.PRACTICE) for key, fit in fits.items()}


def known_of(rows: Sequence[Coverage], targets: Mapping[str, float], day: Mapping[str, float]) -> Known:
    """Return what coverage tells of shares; each row must be ``known``.

    Parameters
    ----------
    targets, day : of each skill the target, and the SD of a good or bad day on the logit scale.
    """
    low, high = (logit(np.array([getattr(row, end) for row in rows], float)) for end in ("low", "high"))
    counts = (np.array([getattr(row, name) for row in rows], float) for name in ("tries", "practices"))
    of_skill = (np.array([by[row.skill] for row in rows], float) for by in (targets, day))
    return Known((low + high) / 2, np.maximum((high - low) / (2 * Z), 1e-6), *counts, *of_skill)


def looks_of(
    rows: Sequence[Coverage],
    targets: Mapping[str, float],
    day: Mapping[str, float],
    away: Collection[str] = (),
) -> list[Look]:
    """Return whom to watch in what, what is worth most first; of equal worth whoever was seen least.

    Parameters
    ----------
    rows : what was watched; skills of which nothing is known are left out.
    targets, day : as ``known_of`` takes them.
    away : the numbers of players who cannot be watched.
    """
    wanted = [row for row in rows if row.known and row.player not in away and row.skill in day]
    if not wanted:
        return []
    known = known_of(wanted, targets, day)
    worth, visits = (part.tolist() for part in known.worth())
    looks = [
        Look(row.player, row.skill, row.tries, row.practices, row.days_since, now, gain, ahead)
        for row, now, gain, ahead in zip(wanted, known.sureness().tolist(), worth, visits, strict=True)
    ]
    return sorted(looks, key=lambda one: (-round(one.worth, 6), one.tries, -(one.days_since or 0)))
