"""The date axis that all charts of a page share."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from evaltrack.analysis.standings.standing import Standing
from evaltrack.words.wording import short_month

_LEAST_GAP = 0.12


@dataclass(frozen=True, slots=True)
class DateAxis:
    """From the season's first practice to the day up to which is counted."""

    first: date
    last: date

    def place(self, day: date) -> float:
        """Return where a day lies, 0 to 1. When the season is one day old, that day is the right end."""
        span = (self.last - self.first).days
        return (day - self.first).days / span if span else 1.0

    def months(self) -> tuple[tuple[str, float], ...]:
        """Return the name and place of each month that begins on the axis, and of the one it starts in.

        Names that would run into their left neighbour are left out.
        """
        marks = [(short_month(self.first), 0.0)]
        for begins in self._month_starts():
            place = self.place(begins)
            if place - marks[-1][1] >= _LEAST_GAP and place <= 1 - _LEAST_GAP / 2:
                marks.append((short_month(begins), place))
            elif marks[-1][1] == 0.0 and place < _LEAST_GAP:
                marks[-1] = (short_month(begins), place)
        return tuple(marks)

    def _month_starts(self) -> list[date]:
        first, last = (12 * day.year + day.month - 1 for day in (self.first, self.last))
        return [date(month // 12, month % 12 + 1, 1) for month in range(first + 1, last + 1)]


def axis_of(standings: Iterable[Standing]) -> DateAxis | None:
    """Return the axis that all charts share, from the first practice seen to the last; None without one."""
    days = {seen.on for one in standings for seen in one.seen}
    return DateAxis(min(days), max(days)) if days else None
