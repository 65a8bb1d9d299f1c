"""Calls against the coach's target, and the direction of change. Pure rules over probabilities."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evaltrack.analysis.standings.standing import Call, Trend, missing

SURE = 0.8
WRONG_SHARE = 0.07  # of the calls, expected; the promise is a tenth
TREND_SURE = 0.925


@dataclass(frozen=True)
class Evidence:
    """What a call rests on. ``doubted`` says that the estimate is no ordinary one."""

    tries: int
    practices: int
    p_below: float
    doubted: bool = False

    @property
    def too_few(self) -> bool:
        """Whether there are too few tries to say anything."""
        return any(missing(self.tries, self.practices))

    @property
    def enough(self) -> bool:
        """Whether there is enough for a call that says something."""
        return not self.too_few and not self.doubted


def calls(evidence: Sequence[Evidence]) -> list[Call]:
    """Return the call for each player and skill of a team.

    ``work on`` and ``solid`` need a probability of .8. Of these, the surest are kept, as many as leave
    the expected share of wrong ones at 7 % (the expected false discovery rate; Mueller, Parmigiani,
    Robert and Rousseau 2004, JASA 99:990-1001). The promise is 10 %: the rest is room for what the
    model does not know.
    """
    below = np.array([one.p_below for one in evidence])
    enough = np.array([one.enough for one in evidence], bool)
    work_on = _surest(np.where(enough, below, 0.0))
    solid = _surest(np.where(enough, 1 - below, 0.0))
    return [_call(*each) for each in zip(evidence, work_on, solid, strict=True)]


def _call(one: Evidence, work_on: bool, solid: bool) -> Call:
    if one.too_few:
        return Call.TOO_FEW
    if work_on:
        return Call.WORK_ON
    return Call.SOLID if solid else Call.IN_BETWEEN


def _surest(probability: np.ndarray) -> np.ndarray:
    """Return which of these to call, given each one's chance to be right; equal chances alike."""
    order = np.argsort(-probability, kind="stable")
    ranked = probability[order]
    wrong = np.cumsum(1 - ranked) / np.arange(1, len(ranked) + 1)
    kept = int(np.sum((ranked >= SURE) & (wrong <= WRONG_SHARE + 1e-9)))
    next_one = ranked[kept] if kept < len(ranked) else -1.0
    return (probability >= SURE) & (probability > next_one)


def trend(p_up: float, too_few: bool) -> Trend:
    """Return the direction, only where it has a probability of .925 and there are tries enough."""
    # nine decimals: one side must not need more than the other by how floats are stored
    if too_few or round(max(p_up, 1 - p_up), 9) < TREND_SURE:
        return Trend.NO_CLEAR_CHANGE
    return Trend.UP if p_up >= TREND_SURE else Trend.DOWN
