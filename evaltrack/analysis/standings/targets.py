"""How many players are below a target: what the words mean, wherever they stand. This loads nothing heavy."""

from collections.abc import Iterable
from dataclasses import dataclass

from evaltrack.analysis.standings.standing import Standing


@dataclass(frozen=True, slots=True)
class Below:
    """How many of the players who can be judged are below a target.

    Those can be judged who have tries enough for a call, in a skill whose estimate may be shown. Nobody's
    share is known for certain, so their number is an estimate too.

    Attributes
    ----------
    target : the share that is asked for.
    of : how many players can be judged.
    expected : how many of them are expected below it.
    low, high : its 90 % interval, in whole players.
    """

    target: float
    of: int
    expected: float = 0.0
    low: int = 0
    high: int = 0

    @property
    def about(self) -> int:
        """The expected number in whole players."""
        return round(self.expected)


def judged(standings: Iterable[Standing], skill: str) -> list[Standing]:
    """Return the standings in a skill of those players who can be judged."""
    return [one for one in standings if one.skill == skill and one.judged]
