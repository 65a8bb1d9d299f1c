"""Until when the data of a season's children are kept, and when to remind of it.

Clocks are wrong at a rink: what is usual follows from the days on which practices were held, and a reminder
is a sentence, never an act.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from evaltrack.rink.days import season_span

SEASON = timedelta(weeks=40)  # as long as a long season lasts, while nobody knows its last day
AFTERWARDS = timedelta(weeks=8)  # for meetings with the families, and copies for them
REMINDED = timedelta(weeks=2)  # before the day
LONGEST = timedelta(weeks=104)  # after the last practice; nobody needs them longer
DOUBTED = timedelta(days=366)  # past the day; by then the tablet's clock may be wrong


@dataclass(frozen=True)
class Retention:
    """How long a season keeps names.

    Parameters
    ----------
    until : the last day on which children's data are kept.
    chosen : somebody has said so; otherwise it is what is usual.
    last : the last practice day; before the first one, the day on which the season was made.
    """

    until: date
    chosen: bool
    last: date

    @property
    def earliest(self) -> date:
        """Return the first day that may be chosen."""
        return self.last

    @property
    def latest(self) -> date:
        """Return the last day that may be chosen."""
        return self.last + LONGEST

    def is_due(self, today: date) -> bool:
        """Say whether it is time to remind; never on a day that lies before the last practice."""
        return today >= self.last and today >= self.until - REMINDED

    def is_past(self, today: date) -> bool:
        """Say whether the data are kept longer than they were to be."""
        return today > self.until

    def is_doubtful(self, today: date) -> bool:
        """Say whether the day lies so long ago that the tablet's clock may be wrong."""
        return today > self.until + DOUBTED


def retention_of(made: date, held: Iterable[date], chosen: date | None = None) -> Retention:
    """Return how long a season keeps names.

    Parameters
    ----------
    made : the day on which the season file was made.
    held : the days of its practices; a stray one of a wrong clock does not count.
    chosen : what somebody has said; None for what is usual.
    """
    span = season_span(held)
    first, last = (made, made) if span is None else span
    usual = max(first + SEASON, last) + AFTERWARDS
    return Retention(usual if chosen is None else chosen, chosen is not None, last)
