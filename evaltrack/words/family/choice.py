"""Which skills a family's page leads with, and which it works on next.

A child is held against the coach's target and against their own past, never against another child, nor one
of their skills against the others: the highest of a weak lot is no strength. The calls are those of every
screen, so what is to be worked on is never praised and what is solid is no next step.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum

from evaltrack.analysis.standings.standing import Call, Standing, Trend
from evaltrack.words.wording import is_firm

MOST_STRENGTHS = 3
MOST_NEXT = 2
LEANING = 0.7  # how likely a share is on one side of the target, to be told although there is no call


class Strength(IntEnum):
    """What makes a skill a strength, what is surest first."""

    SOLID = 1
    RISING = 2
    LIKELY = 3
    PICKED = 4


class Step(IntEnum):
    """What makes a skill a next step, what is surest first."""

    CALLED = 1
    FALLING = 2
    LIKELY = 3
    PICKED = 4


@dataclass(frozen=True, slots=True)
class Choice:
    """The skills to lead with and to work on next, no skill in both."""

    strengths: tuple[Standing, ...] = ()
    next_skills: tuple[Standing, ...] = ()


def choose(standings: Iterable[Standing]) -> Choice:
    """Choose at most three strengths and at most two next steps from one player's standings.

    None is taken from too few tries, nor from an estimate that does not stand, nor by a coach's taste.
    """
    fit = [s for s in standings if is_firm(s)]
    strengths = [s for s in fit if strength(s) not in (None, Strength.PICKED)]
    steps = [s for s in fit if next_step(s) not in (None, Step.PICKED) and s not in strengths]
    strengths.sort(key=lambda s: (strength(s), s.trend is Trend.DOWN, -s.low, -s.share))
    steps.sort(key=lambda s: (next_step(s), s.high, s.share))
    return Choice(tuple(strengths[:MOST_STRENGTHS]), tuple(steps[:MOST_NEXT]))


def strength(standing: Standing) -> Strength | None:
    """Return on what a skill may stand under going well; None where the coach's screens say otherwise."""
    if not is_firm(standing) or standing.call is Call.WORK_ON:
        return None
    if standing.call is Call.SOLID:
        return Strength.SOLID
    if standing.trend is not Trend.NO_CLEAR_CHANGE:
        return Strength.RISING if standing.trend is Trend.UP else None
    likely = standing.p_below <= 1 - LEANING and is_at_target(standing)
    return Strength.LIKELY if likely else Strength.PICKED


def next_step(standing: Standing) -> Step | None:
    """Return on what a skill may be a next step; None where the coach's screens say otherwise."""
    if not is_firm(standing) or standing.call is Call.SOLID:
        return None
    if standing.call is Call.WORK_ON:
        return Step.CALLED
    if standing.trend is Trend.DOWN:
        return Step.FALLING
    likely = standing.p_below >= LEANING and not is_at_target(standing)
    return Step.LIKELY if likely else Step.PICKED


def is_at_target(standing: Standing) -> bool:
    """Say whether the plain count is at the target or above; 14 of 25 is at .56, and binary puts it below."""
    return standing.done >= round(standing.target * standing.tries, 9)
