"""The grid of a board and the parts of a tile, in plain numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.board_grid import Rect, aim_of, half_of, lay_out, outcome_at, places_for, tab_of
from evaltrack.rink.tally import Outcome

sizes = st.floats(200, 3000)
shares = st.floats(0, 0.999)


@given(tiles=st.integers(1, 40), width=sizes, height=sizes)
def test_there_is_a_place_for_every_tile(tiles, width, height):
    """The grid has room for all, and not a whole row too much."""
    layout = lay_out(tiles, Rect(0, 0, width, height))
    assert layout.columns * (layout.rows - 1) < tiles <= layout.columns * layout.rows


@given(width=sizes, height=sizes, right=shares, up=shares)
def test_every_point_of_a_tile_says_one_thing(width, height, right, up):
    """In the tab a finger says unseen; beside and below it the left says missed and the right done."""
    tile = Rect(30, 40, width, height)
    x, y = tile.x + right * width, tile.y + up * height
    outcome = outcome_at(tile, x, y)
    assert (outcome is Outcome.UNSEEN) == tab_of(tile).holds(x, y)
    if outcome is not Outcome.UNSEEN:
        assert outcome is (Outcome.DONE if x >= tile.x + width / 2 else Outcome.MISSED)
        assert half_of(tile, outcome).holds(x, y)


@given(width=sizes, height=sizes)
def test_number_and_name_lie_across_the_split_in_neither_half(width, height):
    """Whoever aims at the number, in the middle of the tab, counts neither a done nor a missed try."""
    tile = Rect(0, 0, width, height)
    tab = tab_of(tile)
    assert tab.x + tab.width / 2 == pytest.approx(width / 2)
    assert outcome_at(tile, *aim_of(tile, Outcome.UNSEEN)) is Outcome.UNSEEN


@pytest.mark.parametrize("outcome", Outcome)
def test_a_mark_stands_in_the_part_it_is_the_mark_of(outcome):
    """Where the mark is drawn a finger says what the mark says."""
    tile = Rect(10, 20, 256, 156)
    assert outcome_at(tile, *aim_of(tile, outcome)) is outcome


@given(roster=st.integers(1, 20), known=st.integers(1, 20))
def test_late_players_of_a_team_of_up_to_twenty_find_room(roster, known):
    """Whoever of the roster comes late, the number of places stays what it was at the start."""
    known = min(known, roster)
    assert {places_for(count, roster) for count in range(known, roster + 1)} == {roster}


def test_a_large_team_waits_for_twenty_and_makes_room_for_all_who_come():
    """Thirty on the roster do not make everybody's tile too small for a glove; thirty here have a place."""
    assert [places_for(known, 30) for known in (9, 20, 21, 30)] == [20, 20, 21, 30]
