"""Until when names are kept: what is usual follows from the practices, and no clock makes nonsense of it."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.days import season_span
from evaltrack.rink.retention import AFTERWARDS, LONGEST, REMINDED, SEASON, retention_of

days = st.dates(date(2001, 1, 1), date(2098, 1, 1))


@given(made=days, held=st.sets(days, max_size=8))
def test_what_is_usual_comes_after_the_last_practice(made, held):
    """At least eight weeks after it, never later than may be chosen, whatever the clock said at first."""
    kept = retention_of(made, held)
    last = season_span(held).last if held else made
    assert kept.last == last
    assert last + AFTERWARDS <= kept.until <= kept.latest == last + LONGEST
    assert not kept.chosen


def test_a_season_of_usual_length_is_kept_forty_eight_weeks():
    """Also when it ended early; a longer one eight weeks more than it lasted."""
    begun = date(2026, 9, 14)
    short = retention_of(date(2026, 9, 1), [begun, begun + timedelta(100)])
    assert short.until == begun + SEASON + AFTERWARDS
    long = begun + timedelta(330)
    assert retention_of(date(2026, 9, 1), [begun, long]).until == long + AFTERWARDS


def test_one_practice_under_a_dead_battery_moves_nothing():
    """A tablet that says 2010 or 2090 for an evening is no season."""
    held = [date(2026, 9, 14) + timedelta(7 * week) for week in range(20)]
    for stray in (date(2010, 1, 1), date(2090, 1, 1)):
        assert retention_of(date(2010, 1, 1), [*held, stray]) == retention_of(date(2026, 9, 1), held)


@given(made=days, chosen=days, today=days)
def test_it_reminds_from_two_weeks_before(made, chosen, today):
    """Of the day that was chosen; and never on a day before the last practice, which no right clock shows."""
    kept = retention_of(made, [made], chosen)
    assert kept.until == chosen
    assert kept.is_due(today) == (today >= chosen - REMINDED and today >= made)
    assert not kept.is_doubtful(today) or kept.is_past(today)
