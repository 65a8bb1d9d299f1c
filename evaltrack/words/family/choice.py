"""Which skills a family's page leads with, and which it works on next.

A child is held against the coach's target and against their own other skills, never against another child.
The calls are those of every screen: what is to be worked on is never praised, what is solid is no next step.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from evaltrack.analysis.standings.standing import Call, Standing, Trend
from evaltrack.words.wording import is_firm

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

    None is taken from too few tries, nor from an estimate that does not stand.
    """
    fit = [s for s in standings if is_firm(s)]
    between = [s for s in fit if s.call is Call.IN_BETWEEN]
    called = _first(MOST_NEXT, (s for s in fit if s.call is Call.WORK_ON), _lowest_first)
    solid = _first(MOST_STRENGTHS, (s for s in fit if s.call is Call.SOLID), _highest_first)
    rising = _first(MOST_STRENGTHS - len(solid), (s for s in between if s.trend is Trend.UP), _highest_first)
    relative = () if solid or rising else _highest_of_own(fit, between)
    lowest = () if called else _lowest_of_own(between, solid + rising + relative)
    return Choice(solid, rising, relative, called, lowest)


def _highest_of_own(fit: Sequence[Standing], between: Sequence[Standing]) -> tuple[Standing, ...]:
    if len(fit) == 1:
        # no other skill of theirs to be higher than, so only the target can make it a strength
        return tuple(s for s in between if s.share >= s.target)
    return _first(min(MOST_STRENGTHS, len(fit) // 2), between, _highest_first)


def _lowest_of_own(between: Sequence[Standing], taken: Sequence[Standing]) -> tuple[Standing, ...]:
    if not taken:
        return ()  # what is too little for praise is too little for a correction
    return _first(MOST_NEXT, (s for s in between if s not in taken), lambda s: s.share)


def _first(most: int, standings: Iterable[Standing], key) -> tuple[Standing, ...]:
    return tuple(sorted(standings, key=key)[:most])


def _highest_first(standing: Standing) -> tuple[float, float]:
    return -standing.low, -standing.share


def _lowest_first(standing: Standing) -> tuple[float, float]:
    return standing.high, standing.share
