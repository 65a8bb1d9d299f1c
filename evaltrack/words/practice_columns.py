"""Columns of practices, one beside the other, and under which of them each month begins."""

from collections.abc import Sequence
from datetime import date

from evaltrack.words.wording import short_month

_LEAST = 0.06  # of the width between the names of two months


def month_columns(days: Sequence[date]) -> list[tuple[str, int]]:
    """Return the name of each month with the number of its first practice.

    Names that would run into their left neighbour are left out.
    """
    found: list[tuple[str, int]] = []
    for number, day in enumerate(days):
        begins = number == 0 or (day.year, day.month) != (days[number - 1].year, days[number - 1].month)
        if begins and (not found or (number - found[-1][1]) / len(days) >= _LEAST):
            found.append((short_month(day), number))
    return found
