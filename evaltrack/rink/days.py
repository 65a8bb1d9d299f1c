"""Days in words, and which of them belong to one season."""

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

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
        return f"{self.first} to {self.last}" if self.first < self.last else str(self.first)


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


def in_full(day: date) -> str:
    """Return ``Tuesday 13 January 2026``."""
    return f"{day:%A} {day.day} {day:%B} {day.year}"


def in_short(day: date, today: date) -> str:
    """Return ``Tue 13 Jan``; with a word when it is not today, or with the year when it is not this one."""
    mark = f" {day.year}" if day.year != today.year else "" if day == today else ", not today"
    return f"{day:%a} {day.day} {day:%b}{mark}"


_NUMBERS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def nth(number: int) -> str:
    """Return ``second`` for 2; from 11 on ``11th``."""
    return _NUMBERS[number - 1] if number <= len(_NUMBERS) else f"{number}th"
