"""What moved a share away from the plain count: each thing that the fit allowed for, with its doubt."""

from collections.abc import Sequence

import numpy as np
from scipy.special import stdtrit

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.season_model import SkillFit
from evaltrack.analysis.season.skill_tries import SkillTries, skill_tries
from evaltrack.analysis.standings.costs import KindsOfCause, kinds_of_causes
from evaltrack.analysis.standings.standing import LEAST_MOVE, Cause, Reason
from evaltrack.analysis.standings.walk import WALKED, stages

Array = np.ndarray
HIGH = 0.95
MOST = 0.5
NOUGHT = 1e-12  # what moves a share by less has moved nothing
CAUSES = (Cause.LUCK, *WALKED)
_LEVELS = {
    Cause.OBSERVER: Effect.OBSERVER, Cause.DAYS: Effect.PRACTICE, Cause.STEP: Effect.STEP,
    Cause.OPPONENT: Effect.OPPONENT,
}  # fmt: skip


def reasons_of(
    fit: SkillFit, now: Array, rows: Sequence[int], raw: Array, share: Array
) -> list[tuple[Reason, ...]]:
    """Return the reasons of some players of the fit; their moves add up to ``share`` minus ``raw``.

    The largest move comes first; what moved a share by less than ``LEAST_MOVE`` is gathered in a rest, which
    comes last, and what cannot have moved it at all is left out.

    Parameters
    ----------
    fit : the fit of one skill.
    now : (k,) the time on the fit's axis whose share is asked for.
    rows : (k,) which of the fit's players.
    raw, share : (k,) each one's plain share of their tries, and the share of their standing.

    Notes
    -----
    Moves are taken at the posterior mean, and their doubt from its covariance (delta method), with the
    quantile of a t distribution that has as many degrees of freedom as the effects from which their SD is
    known: of two observers it is hardly known. Mix, moments and pressure are facts and have no doubt. How
    far the tries were luck is as doubtful as the share that is expected in them.
    """
    tries = skill_tries(fit)
    times = np.zeros(len(tries.mean))
    times[list(rows)] = now
    shares, gradients = stages(tries, times)
    moved, slopes = np.diff(shares, axis=0)[:, rows], np.diff(gradients, axis=0)[:, rows]
    luck = share - raw - moved.sum(0)
    ways = zip(
        rows, np.vstack([luck, moved]).T, np.concatenate([gradients[:1, rows], slopes]).swapaxes(0, 1),
        strict=True,
    )  # fmt: skip
    wide = {cause: wide_of(fit, cause) for cause in CAUSES}
    kinds = kinds_of_causes(tries)
    return [_Way(tries, kinds, wide, *way).reasons() for way in ways]


def wide_of(fit: SkillFit, cause: Cause) -> float:
    """Return how many SDs of what a cause does its 90 % interval reaches either way."""
    design = fit.predictor.design
    effect = _LEVELS.get(cause)
    return float(stdtrit(max(design.within[effect].size, 1) if effect else np.inf, HIGH))


class _Way:
    """One player's way: ``moved`` (7,) by each of ``CAUSES``, and the gradients (7, r) of that."""

    def __init__(self, tries: SkillTries, kinds, wide, player: int, moved: Array, slopes: Array):
        self._tries, self._kinds, self._wide = tries, kinds, wide
        self._player, self._moved, self._slopes = player, moved, slopes
        self._cells = np.flatnonzero(tries.player == player)
        self._sds = np.array([self._sd(slope) for slope in slopes])

    def reasons(self) -> tuple[Reason, ...]:
        known = [at for at in range(len(CAUSES)) if max(abs(self._moved[at]), self._sds[at]) > NOUGHT]
        known.sort(key=lambda at: -abs(self._moved[at]))
        small = [at for at in known if abs(self._moved[at]) < LEAST_MOVE]
        told = [self._reason(at) for at in known if at not in small]
        return (*told, self._rest(small)) if small else tuple(told)

    def _rest(self, small: list[int]) -> Reason:
        wide = max(self._wide[CAUSES[at]] for at in small)
        doubt = wide * self._sd(self._slopes[small].sum(0))
        gathered = tuple(self._reason(at) for at in small)
        moved = float(self._moved[small].sum())
        return Reason(Cause.REST, moved, moved - doubt, moved + doubt, gathered=gathered)

    def _reason(self, at: int) -> Reason:
        cause, moved = CAUSES[at], float(self._moved[at])
        doubt = self._wide[cause] * float(self._sds[at])
        kind = self._named(cause, moved) if cause in self._kinds else {}
        return Reason(cause, moved, moved - doubt, moved + doubt, **kind)

    def _sd(self, slope: Array) -> float:
        return float(np.sqrt(max(slope @ self._tries.cov[self._player] @ slope, 0.0)))

    def _named(self, cause: Cause, moved: float) -> dict:
        """Return which kind met oftener than usual moved most, in the direction of the whole; or nothing."""
        kinds, group = self._kinds[cause], self._tries.group[self._player]
        tries = self._tries.tries[self._cells]
        count, usual, costs = kinds.of_kind[:, self._cells] @ tries, kinds.usual[group], kinds.costs[group]
        oftener = count / tries.sum() - usual
        moves = np.where(oftener > NOUGHT, oftener * costs * np.sign(moved), 0.0)
        number = int(np.argmax(moves))
        if moves[number] <= NOUGHT:
            return {}
        cost, doubt = float(costs[number]), self._wide[cause] * float(kinds.sds[group, number])
        return {
            "named": kinds.names[number],
            "tries": round(float(count[number])),
            "usual": float(usual[number]),
            "month": self._month(kinds, number),
            "cost": cost,
            "cost_low": cost - doubt,
            "cost_high": cost + doubt,
        }

    def _month(self, kinds: KindsOfCause, number: int) -> int:
        """Return the month that holds most tries of a kind, but not most tries of all; 0 when none does."""
        month, own = self._tries.month[self._cells], self._tries.tries[self._cells]
        there = np.bincount(month, own * kinds.of_kind[number, self._cells], 13)
        all_there, most = np.bincount(month, own, 13), int(there.argmax())
        named = there[most] > MOST * there.sum() and all_there[most] <= MOST * all_there.sum()
        return most if named else 0
