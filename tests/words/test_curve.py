"""A curve begins where a player was first seen and ends where they were last seen."""

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st
from lantern_pages import standing

from evaltrack.analysis.standings.standing import Call, PathPoint, Seen
from evaltrack.words.curve import curve

FIRST = date(2025, 9, 9)
DAYS = [FIRST + timedelta(days=number) for number in range(60)]
FIRM = replace(
    standing("stop", [(9, 5), (9, 6)], call=Call.IN_BETWEEN),
    path=tuple(PathPoint(day, 0.5, 0.3, 0.7, 0.4, 0.6) for day in DAYS),
)


@given(st.sets(st.sampled_from(DAYS), min_size=1), st.booleans())
def test_nothing_is_drawn_of_days_before_or_after(days, until_now):
    """From the first day to the last; with until_now to the end of the player's own time."""
    one = replace(FIRM, seen=tuple(Seen(day, 2, 1) for day in sorted(days)))
    drawn = [point.on for point in curve(one, until_now)]
    assert (drawn[0], drawn[-1]) == (min(days), DAYS[-1] if until_now else max(days))
    assert drawn == [day for day in DAYS if drawn[0] <= day <= drawn[-1]]


def test_of_too_few_tries_nothing_is_drawn():
    """A count is no share, so there is no curve of it."""
    assert curve(replace(FIRM, call=Call.TOO_FEW)) == ()
    assert curve(replace(FIRM, doubt="The estimate did not settle.")) == ()
