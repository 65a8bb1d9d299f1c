"""The ice time is divided to the minute."""

from hypothesis import given
from hypothesis import strategies as st

from evaltrack.analysis.planning.ice_time import USUAL, divided
from evaltrack.rink.plan import Part

TIMES = st.tuples(st.integers(1, 240), st.integers(1, 12), st.booleans())


@given(TIMES)
def test_parts_add_up_to_the_ice_time(time):
    """Whatever is asked for: whole minutes, none empty, at most five at the board."""
    minutes, stations, own = time
    found = divided(minutes, stations, own)
    assert sum(one.minutes for one in found) == minutes
    assert all(one.minutes >= 1 for one in found)
    assert sum(one.minutes for one in found if one.part is Part.BOARD) <= 5


@given(TIMES)
def test_every_group_comes_by_every_station_or_none_does(time):
    """The rounds are of the same length but for a minute, one after another, with a changeover between."""
    minutes, stations, own = time
    found = divided(minutes, stations, own)
    rounds = [one for one in found if one.part is Part.STATION]
    assert len(rounds) in (0, stations)
    assert [one.station for one in rounds] == [*range(len(rounds))]
    if rounds:
        lengths = {one.minutes for one in rounds}
        assert max(lengths) - min(lengths) <= 1
        assert min(lengths) >= min(USUAL.round)
        changes = sum(one.part is Part.CHANGEOVER for one in found)
        assert changes >= len(rounds) - 1
    assert not own or stations == 1 or any(one.part is Part.OWN for one in found) or minutes < 150


def test_an_hour_at_three_stations():
    """As a coach would divide it: warm-up, board, three rounds, and time together at the end."""
    found = [(str(one.part), one.minutes) for one in divided(60, 3, own=False)]
    round_about = [("station", 10), ("changeover", 1)] * 3
    assert found == [("warm_up", 8), ("board", 2), *round_about, ("board", 2), ("together", 15)]


def test_a_short_ice_time_has_no_rounds():
    """Ten minutes at three stations: each group stays at its own."""
    assert [one.part for one in divided(10, 3, own=True)] == [Part.WARM_UP, Part.OWN]


def test_one_station_is_the_whole_team_in_one_step_after_another():
    """With a changeover between, and no more than three."""
    parts = [one.part for one in divided(60, 1, own=True)]
    assert parts.count(Part.TOGETHER) == 3
    assert [one.station for one in divided(60, 1, own=True) if one.part is Part.TOGETHER] == [0, 1, 2]
