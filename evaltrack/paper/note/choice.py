"""Which skills a family's page leads with, and which it works on next.

A child is held against the coach's target and against their own other skills, never against another child.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from evaltrack.analysis.standings.standing import Call, Standing, Trend
from evaltrack.words.wording import is_firm

LEAST_TRIES = 12
MOST_STRENGTHS = 3
MOST_NEXT = 2


@dataclass(frozen=True, slots=True)
class Choice:
    """The skills to lead with and to work on, each standing at most once over all four.

    ``solid`` and ``rising`` stand on a call and a trend; ``relative`` only says that these are the highest
    of the child's own. ``called`` are calls ``work on``; ``lowest`` only says lowest of the child's own.
    """

    solid: tuple[Standing, ...] = ()
    rising: tuple[Standing, ...] = ()
    relative: tuple[Standing, ...] = ()
    called: tuple[Standing, ...] = ()
    lowest: tuple[Standing, ...] = ()

    @property
    def next_skills(self) -> tuple[Standing, ...]:
        """The skills to work on next."""
        return self.called + self.lowest


def choose(standings: Iterable[Standing]) -> Choice:
    """Choose at most three strengths and at most two skills to work on next from one player's standings.

    None is taken from under 12 tries, nor from an estimate that does not stand.
    """
    fit = [s for s in standings if is_firm(s) and s.tries >= LEAST_TRIES]
    called = _first(MOST_NEXT, (s for s in fit if s.call is Call.WORK_ON), _lowest_first)
    solid = _first(MOST_STRENGTHS, (s for s in fit if s.call is Call.SOLID), _highest_first)
    rising = _rising(fit, MOST_STRENGTHS - len(solid))
    relative = () if solid or rising else _highest_of_own(fit, called)
    lowest = () if called else _lowest_of_own(fit, solid + rising + relative)
    return Choice(solid, rising, relative, called, lowest)


def _rising(fit: Sequence[Standing], most: int) -> tuple[Standing, ...]:
    up = (s for s in fit if s.trend is Trend.UP and s.call is Call.IN_BETWEEN)
    return _first(most, up, _highest_first)


def _highest_of_own(fit: Sequence[Standing], taken: Sequence[Standing]) -> tuple[Standing, ...]:
    if len(fit) == 1:
        # no other skill of theirs to be higher than, so only the target can make it a strength
        return tuple(s for s in fit if s.share >= s.target and s not in taken)
    half = min(MOST_STRENGTHS, len(fit) // 2)
    return _first(half, (s for s in fit if s not in taken), _highest_first)


def _lowest_of_own(fit: Sequence[Standing], taken: Sequence[Standing]) -> tuple[Standing, ...]:
    if not taken:
        return ()  # what is too little for praise is too little for a correction
    return _first(MOST_NEXT, (s for s in fit if s not in taken), lambda s: s.share)


def _first(most: int, standings: Iterable[Standing], key) -> tuple[Standing, ...]:
    return tuple(sorted(standings, key=key)[:most])


def _highest_first(standing: Standing) -> tuple[float, float]:
    return -standing.low, -standing.share


def _lowest_first(standing: Standing) -> tuple[float, float]:
    return standing.high, standing.share
