"""Days in words, and which of them belong to one season."""

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from evaltrack.language import language, mark, tr

SEASON_YEARS = range(2000, 2100)  # of days that a season may have
SEASON_DAYS = 366  # from the first practice of a season to its last, at most
_BETWEEN_SEASONS = 10  # months: nobody plays that long without a practice in one season


class Span(NamedTuple):
    """The first and the last practice day of a season."""

    first: date
    last: date

    def takes(self, day: date) -> bool:
        """Say whether with this day it would still be one season."""
        return (max(self.last, day) - min(self.first, day)).days <= SEASON_DAYS

    def __str__(self) -> str:
        if self.first == self.last:
            return str(self.first)
        return tr("{first_day} to {last_day}", first_day=self.first, last_day=self.last)


def season_span(days: Iterable[date]) -> Span | None:
    """Return the span of a season's length that holds most of these days, of equal ones the latest.

    A tablet whose clock was wrong leaves a stray day or two: they are not what the season is. None when
    there is no day.
    """
    held = sorted(set(days))
    best, most, end = None, 0, 0
    for start, first in enumerate(held):
        while end < len(held) and (held[end] - first).days <= SEASON_DAYS:
            end += 1
        if end - start >= most:
            best, most = Span(first, held[end - 1]), end - start
    return best


def is_next_season(last: date, day: date) -> bool:
    """Say whether a day is so long after the last practice that another season has begun."""
    months = 12 * (day.year - last.year) + day.month - last.month - (day.day < last.day)
    return months >= _BETWEEN_SEASONS


_MONTHS = (
    mark("January"), mark("February"), mark("March"), mark("April"), mark("May"), mark("June"),
    mark("July"), mark("August"), mark("September"), mark("October"), mark("November"), mark("December"),
)  # fmt: skip
_SHORT_MONTHS = (
    mark("Jan"), mark("Feb"), mark("Mar"), mark("Apr"), mark("May"), mark("Jun"),
    mark("Jul"), mark("Aug"), mark("Sep"), mark("Oct"), mark("Nov"), mark("Dec"),
)  # fmt: skip
_WEEKDAYS = (
    mark("Monday"), mark("Tuesday"), mark("Wednesday"), mark("Thursday"), mark("Friday"), mark("Saturday"),
    mark("Sunday"),
)  # fmt: skip
_SHORT_WEEKDAYS = (
    mark("Mon"), mark("Tue"), mark("Wed"), mark("Thu"), mark("Fri"), mark("Sat"), mark("Sun"),
)  # fmt: skip


def month_name(month: int) -> str:
    """Return ``January`` for 1."""
    return tr(_MONTHS[month - 1])


def short_month(day: date) -> str:
    """Return ``Jan``."""
    return tr(_SHORT_MONTHS[day.month - 1])


def weekday(day: date) -> str:
    """Return ``Tuesday``."""
    return tr(_WEEKDAYS[day.weekday()])


def short_weekday(day: date) -> str:
    """Return ``Tue``."""
    return tr(_SHORT_WEEKDAYS[day.weekday()])


def day_and_month(day: date) -> str:
    """Return ``13 January``."""
    return f"{_day_number(day)} {month_name(day.month)}"


def long_date(day: date) -> str:
    """Return ``13 January 2026``: no reader takes the day for the month."""
    return f"{day_and_month(day)} {day.year}"


def short_date(day: date) -> str:
    """Return ``13 Jan``."""
    return f"{_day_number(day)} {short_month(day)}"


def in_full(day: date) -> str:
    """Return ``Tuesday 13 January 2026``."""
    return f"{weekday(day)} {long_date(day)}"


def weekday_and_short_date(day: date, today: date) -> str:
    """Return ``Tue 13 Jan``, with the year when it is not this one."""
    year = f" {day.year}" if day.year != today.year else ""
    return f"{short_weekday(day)} {short_date(day)}{year}"


def in_short(day: date, today: date) -> str:
    """Return ``Tue 13 Jan``; with a word when it is not today, or with the year when it is not this one."""
    said = weekday_and_short_date(day, today)
    return said if day == today or day.year != today.year else tr("{day}, not today", day=said)


def _day_number(day: date) -> str:
    """Return the day of the month; French counts the first of a month as such, and no other."""
    return "1er" if day.day == 1 and language().is_french else str(day.day)


# of practices, and so feminine in French
_NUMBERS = (
    mark("first"), mark("second"), mark("third"), mark("fourth"), mark("fifth"), mark("sixth"),
    mark("seventh"), mark("eighth"), mark("ninth"), mark("tenth"),
)  # fmt: skip


def nth(number: int) -> str:
    """Return ``second`` for 2, of practices; from 11 on ``11th``."""
    return tr(_NUMBERS[number - 1]) if number <= len(_NUMBERS) else tr("{number}th", number=number)
