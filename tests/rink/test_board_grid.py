"""The geometry of the board, in plain numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.board_grid import Rect, lay_out

sizes = st.floats(200, 3000)


@given(tiles=st.integers(1, 40), width=sizes, height=sizes, right=st.floats(0, 0.999), up=st.floats(0.001, 1))
def test_every_point_of_the_area_belongs_to_one_half_of_one_tile(tiles, width, height, right, up):
    """A finger anywhere on the board hits a tile, the one that is drawn there, and the half it is in."""
    layout = lay_out(tiles, Rect(10, 20, width, height))
    x, y = 10 + right * width, 20 + up * height
    place, is_right = layout.hit(x, y)
    tile = layout.tile(place)
    slack = 1e-6 * max(width, height)
    assert tile.x - slack <= x <= tile.x + tile.width + slack
    assert tile.y - slack <= y <= tile.y + tile.height + slack
    assert is_right == (x - tile.x >= tile.width / 2) or abs(x - tile.x - tile.width / 2) < slack


@given(tiles=st.integers(1, 40), width=sizes, height=sizes)
def test_there_is_a_place_for_every_tile(tiles, width, height):
    """The grid has room for all, and not a whole row too much."""
    layout = lay_out(tiles, Rect(0, 0, width, height))
    assert layout.columns * (layout.rows - 1) < tiles <= layout.columns * layout.rows


def test_outside_the_board_nothing_is_hit():
    """A finger on the bars hits no tile."""
    layout = lay_out(20, Rect(0, 100, 1280, 600))
    outside = ((640, 99), (640, 701), (-1, 300), (1280, 300))
    assert [layout.hit(*point) for point in outside] == [None] * 4


@pytest.mark.parametrize(
    ("width", "height", "columns", "px_per_mm"),
    [(1272, 596, 5, 1280 / 218), (792, 1002, 3, 800 / 136)],
)
def test_twenty_players_on_a_ten_inch_tablet_have_halves_of_nineteen_mm(width, height, columns, px_per_mm):
    """In both orientations no half of a tile is under 19 mm a side (a 10.1-inch panel is 218 by 136 mm)."""
    layout = lay_out(20, Rect(4, 96, width, height))
    assert layout.columns == columns
    wide, high = (side / px_per_mm for side in layout.tile_size)
    assert wide / 2 >= 19
    assert high >= 19
