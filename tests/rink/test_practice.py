"""A practice by its day: the key it goes by, and the day on which a moment was."""

from datetime import date, datetime

import pytest

from evaltrack.rink.practice import key_for, local_day

DAY = date(2026, 1, 13)


@pytest.mark.parametrize(
    ("taken", "key"),
    [
        ([], "2026-01-13"),
        (["2026-01-12", "2026-01-13.2"], "2026-01-13"),
        (["2026-01-13"], "2026-01-13.2"),
        (["2026-01-13", "2026-01-13.2"], "2026-01-13.3"),
        (["2026-01-13", "2026-01-13.3"], "2026-01-13.2"),
    ],
)
def test_the_ice_times_of_a_day_are_numbered_from_the_second_on(taken, key):
    """Two tablets that know of the same ice times name the next one alike."""
    assert key_for(DAY, taken) == key


def test_a_moment_is_of_the_day_that_the_clock_on_the_wall_says():
    """The last millisecond before midnight is of the day that ends."""
    midnight = int(datetime(2026, 1, 14).timestamp() * 1000)
    assert [local_day(midnight - 1), local_day(midnight)] == [DAY, date(2026, 1, 14)]


@pytest.mark.parametrize("moment", [10**17, -(10**17), 10**30])
def test_a_moment_of_no_calendar_has_no_day(moment):
    """A damaged or made-up moment is answered, and not with an error."""
    assert local_day(moment) is None
