"""Where a trend chart's parts lie."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from evaltrack.analysis.standings.standing import PathPoint, Seen
from evaltrack.rink.board_grid import Rect
from evaltrack.touch.widgets.trend_geometry import TrendGeometry, grid
from evaltrack.words.date_axis import DateAxis, axis_of

FIRST, LAST = date(2025, 9, 9), date(2026, 1, 13)
PLOT = Rect(40, 30, 300, 100)
GEOMETRY = TrendGeometry(PLOT, DateAxis(FIRST, LAST))
days = st.dates(FIRST, LAST)
shares = st.floats(0, 1)


def point(on, *five):
    low, low50, share, high50, high = sorted(five)
    return PathPoint(on, share, low, high, low50, high50)


points = st.builds(point, days, *[shares] * 5)


def test_scale_is_fixed_from_nought_to_ten():
    """Every chart has the same scale, so that two charts can be compared at a glance."""
    assert [GEOMETRY.y(share) for share in (0, 0.5, 1)] == [30, 80, 130]
    assert (GEOMETRY.x(FIRST), GEOMETRY.x(LAST)) == (40, 340)


@given(days, days)
def test_later_is_further_right(one, other):
    """Days keep their order and stay within the chart."""
    assert (one < other) == (GEOMETRY.x(one) < GEOMETRY.x(other))
    assert PLOT.x <= GEOMETRY.x(one) <= PLOT.x + PLOT.width


@given(st.lists(points, min_size=2, max_size=8))
def test_bands_hold_the_line_and_each_other(path):
    """The line runs within the 50 % band, and that one within the 90 % band."""
    line = GEOMETRY.line(path)[1::2]
    outer, inner = GEOMETRY.band(path, "low", "high"), GEOMETRY.band(path, "low50", "high50")
    for at, y in enumerate(line):
        (low, high), (low50, high50) = outer[4 * at + 1 : 4 * at + 4 : 2], inner[4 * at + 1 : 4 * at + 4 : 2]
        assert low <= low50 <= y <= high50 <= high


@given(points)
def test_one_day_is_still_to_be_seen(single):
    """After the first practice there is a short line and a band of some width, not nothing."""
    xs = GEOMETRY.band([single], "low", "high")[::2]
    assert max(xs) - min(xs) >= 8
    assert len(GEOMETRY.line([single])) == 4


@given(st.lists(st.tuples(days, st.integers(0, 60)), max_size=10))
def test_dots_are_practices_with_a_try(practices):
    """A practice without a try has no dot, and more tries never make a smaller one."""
    seen = [Seen(on, tries, tries // 2) for on, tries in practices]
    dots = GEOMETRY.dots(seen)
    assert len(dots) == sum(one.tries > 0 for one in seen)
    radii = [GEOMETRY.radius(tries) for tries in range(1, 61)]
    assert radii == sorted(radii)
    assert radii[3] == 2 * radii[0]  # four times the tries, four times the area
    assert radii[-1] <= 7  # a large practice must not cover its neighbours


def test_months_stand_where_they_begin():
    """The names of the months are at their first days; the first one is at the left."""
    months = dict(GEOMETRY.months())
    assert list(months) == ["Sep", "Oct", "Nov", "Dec", "Jan"]
    assert months["Oct"] == GEOMETRY.x(date(2025, 10, 1))


def test_all_charts_share_the_span_of_what_was_seen():
    """Without any tries there is no axis."""
    assert axis_of([]) is None


@given(st.integers(0, 30), st.integers(1, 4), st.floats(50, 3000))
def test_grid_has_room_for_all(count, columns, room):
    """Every chart has a place, none is lower than the least or higher than the most."""
    rows, height = grid(count, columns, room, 190, 300)
    assert rows * columns >= count
    assert 190 <= height <= 300
    assert rows * height <= max(room, rows * 190) + 1e-6


def test_dates_of_a_week_are_a_week_apart():
    """Distance on the chart is time, so a break at Christmas shows as a gap."""
    week = timedelta(weeks=1)
    first, second, third = (GEOMETRY.x(FIRST + week * n) for n in (0, 1, 2))
    assert abs((third - second) - (second - first)) < 1e-9
