"""Ice times to come are kept with the season: changed, taken out and brought back, each a fact of its own."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date, time

import pytest

from evaltrack.errors import SeasonFileError
from evaltrack.rink.ice_time import IceTime, in_order
from evaltrack.rink.practice import Surface
from evaltrack.store.opening import open_season

FIRST = IceTime(date(2026, 1, 29), time(18, 30), 60, "Kettle Bay, pad 2", Surface.HALF)
SECOND = IceTime(date(2026, 1, 22), None, 50)


def test_what_was_noted_is_in_force_until_it_is_changed(season):
    """In order of time; what is the same is not written again; a dropped one can come back."""
    assert season.calendar.note([FIRST, SECOND], "bench") == 2
    assert season.calendar.all() == [SECOND, FIRST]
    later = replace(FIRST, start=time(19))
    assert season.calendar.note([later, SECOND], "bench") == 1
    assert season.calendar.all() == [SECOND, later]
    season.calendar.drop(SECOND, "bench")
    assert season.calendar.all() == [later]
    assert season.calendar.note([SECOND]) == 1
    assert in_order(season.calendar.all(), date(2026, 1, 23)) == [later]


@pytest.mark.parametrize(
    ("column", "value"),
    [("day", "soon"), ("start", "7 pm"), ("start", "7:00"), ("minutes", 9999), ("uid", "two words")],
)
def test_what_evaltrack_would_not_have_written_is_damage(season_path, column, value):
    """One sentence says so."""
    with open_season(season_path) as season:
        season.calendar.note([FIRST])
    with closing(sqlite3.connect(season_path)) as file, file:
        file.execute(f"UPDATE ice_time SET {column} = ?", (value,))
    with open_season(season_path) as season, pytest.raises(SeasonFileError, match="is damaged"):
        season.calendar.all()
