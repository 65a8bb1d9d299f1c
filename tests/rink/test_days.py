"""Days in words, and which of them are one season."""

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.days import SEASON_DAYS, Span, in_full, in_short, is_next_season, nth, season_span
from evaltrack.rink.practice import is_left_open

days = st.dates(date(2000, 1, 1), date(2099, 12, 31))


@given(st.lists(days, min_size=1, max_size=30))
def test_no_season_holds_more_days_than_the_span(held):
    """Whichever day one begins at, within a season's length from it lie no more of the days."""
    span = season_span(held)
    inside = {day for day in held if span.first <= day <= span.last}
    assert (span.last - span.first).days <= SEASON_DAYS
    for first in held:
        others = {day for day in held if 0 <= (day - first).days <= SEASON_DAYS}
        assert len(others) <= len(inside)
        assert len(others) < len(inside) or first <= span.first


@given(st.lists(days, min_size=1, max_size=30))
def test_the_days_that_the_span_takes_are_those_in_it(held):
    """No day outside would fit the season too."""
    span = season_span(held)
    assert {day for day in held if span.takes(day)} == {d for d in held if span.first <= d <= span.last}


def test_a_season_may_last_a_leap_year_and_no_day_more():
    """From a day to the same day of the next year, in whichever order they come."""
    first = date(2024, 2, 1)
    last, too_late = date(2025, 2, 1), date(2025, 2, 2)
    assert season_span([last, first]) == Span(first, last)
    assert season_span([too_late, first]) == Span(too_late, too_late)
    assert Span(first, first).takes(last)
    assert not Span(first, first).takes(too_late)


_MIDNIGHT = int(datetime(2026, 1, 14).timestamp() * 1000)
_HOUR = 3_600_000


@pytest.mark.parametrize(
    ("last", "hours", "left"),
    [
        (_MIDNIGHT - _HOUR, 2.99, False),  # past midnight, and still going on
        (_MIDNIGHT - _HOUR, 3, True),
        (_MIDNIGHT, 11.99, False),  # one day
        (_MIDNIGHT, 12, True),
        (_MIDNIGHT, -30, False),  # the clock was set back
        (10**17, 4, True),  # in no calendar
        (None, 50, False),
    ],
)
def test_a_practice_is_left_open_after_three_hours_of_an_earlier_day_or_after_twelve(last, hours, left):
    """From its last fact on; where nothing was noted, nothing can be said."""
    assert is_left_open(last, round((last or 0) + hours * _HOUR)) is left


@given(st.integers(2, 60), st.integers(1, 3000))
def test_a_stray_moves_no_season(practices, off):
    """Two practices or more that lie together outweigh one that lies far away, before or after them."""
    held = [date(2025, 9, 9) + timedelta(5 * n) for n in range(practices)]
    for stray in (held[0] - timedelta(SEASON_DAYS + off), held[-1] + timedelta(SEASON_DAYS + off)):
        assert season_span([stray, *held]) == Span(held[0], held[-1])


def test_of_two_days_far_apart_the_later_one_is_the_season():
    """A file with one stray and one practice goes by the later one; without a day there is no season."""
    assert season_span([date(2010, 1, 1), date(2026, 1, 13)]) == Span(date(2026, 1, 13), date(2026, 1, 13))
    assert season_span([]) is None


@pytest.mark.parametrize(
    ("last", "day", "told"),
    [(date(2025, 11, 20), date(2026, 8, 20), False), (date(2025, 11, 20), date(2026, 9, 20), True)],
)
def test_months_are_counted_over_the_new_year(last, day, told):
    """Nine months from one year into the next are no other season, ten are."""
    assert is_next_season(last, day) == told


@pytest.mark.parametrize(
    ("last", "told"), [(date(2026, 1, 26), False), (date(2026, 1, 25), True), (date(2025, 3, 1), True)]
)
def test_ten_months_without_a_practice_are_another_season(last, told):
    """From ten months to the day on; a summer of four months is none."""
    assert is_next_season(last, date(2026, 11, 25)) == told


def test_days_in_words():
    """The weekday stands before the day, and what is not today or not this year is marked."""
    day, eve = date(2026, 11, 24), date(2025, 12, 31)
    assert in_full(day) == "Tuesday 24 November 2026"
    assert in_short(day, day) == "Tue 24 Nov"
    assert in_short(day, date(2026, 11, 25)) == "Tue 24 Nov, not today"
    assert in_short(eve, date(2026, 1, 1)) == "Wed 31 Dec 2025"
    words = "first second third fourth fifth sixth seventh eighth ninth tenth 11th 12th"
    assert [nth(number) for number in range(1, 13)] == words.split()


def test_a_span_in_words():
    """From its first day to its last; a season of one day is that day."""
    first, last = date(2025, 9, 9), date(2026, 3, 1)
    assert [str(Span(first, last)), str(Span(first, first))] == ["2025-09-09 to 2026-03-01", "2025-09-09"]
