"""A season that is lent to a helper's tablet: for the boards alone, and until a day."""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from uuid import UUID

from evaltrack.language import tr
from evaltrack.rink.practice import local_day

USUAL_DAYS, MOST_DAYS = 7, 92  # a loan is for an evening or a few weeks, not for a season


class LentNames(StrEnum):
    """What a loan has of the players' names."""

    FIRST = "first"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Loan:
    """What a lent season file says of itself.

    Parameters
    ----------
    id : tells what is noted in it from what is noted in any other file of the season, on whichever tablet.
    lent_at : the moment at which it was lent, by the clock of the tablet that lent it.
    last_day : the last day on which it takes tallies.
    latest : the latest moment that any clock has said in it, so that one that is set back revives nothing.
    """

    id: UUID
    lent_at: int
    last_day: date
    names: LentNames
    latest: int

    def is_over(self, now: int) -> bool:
        """Say whether the loan has ended, by this clock or by the latest moment that was seen before."""
        day = local_day(max(now, self.latest))
        return day is None or day > self.last_day

    def tablet(self, ident: str) -> str:
        """Return under which id a tablet notes in this loan: two loans on one tablet are two tablets."""
        mark = f"-{self.id.hex[-12:]}"
        return ident if ident.endswith(mark) else f"{ident[:27]}{mark}"


def day_fault(last_day: date, today: date) -> str:
    """Return what is wrong with the last day of a loan; empty when nothing is."""
    if last_day < today:
        return tr("a loan cannot end on {day}, which is over; name today or a later day", day=last_day)
    if last_day > today + timedelta(MOST_DAYS):
        return tr("a loan ends after {number} days at the latest; lend it again then", number=MOST_DAYS)
    return ""
