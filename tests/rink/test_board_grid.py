"""The grid of a board and the parts of a tile, in plain numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.board_grid import (
    BoardLayout,
    Rect,
    aim_of,
    half_of,
    lay_out,
    outcome_at,
    places_for,
    tab_of,
)
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
def test_the_parts_of_a_tile_touch_its_edges_and_leave_a_half_its_height(width, height):
    """The tab ends at the top, under it 19 of 26 mm are left; a half goes from the lower edge to the top."""
    tile = Rect(10, 20, width, height)
    tab, missed, done = (half_of(tile, o) for o in (Outcome.UNSEEN, Outcome.MISSED, Outcome.DONE))
    assert tab.top == pytest.approx(tile.top)
    assert 26 * (1 - tab.height / height) == pytest.approx(19.24)
    assert tab.width / width == pytest.approx(0.46)
    assert (missed.x, missed.y, missed.width, missed.height) == (tile.x, tile.y, width / 2, height)
    assert (done.x, done.y, done.right, done.top) == pytest.approx(
        (missed.right, tile.y, tile.right, tile.top)
    )


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


def test_where_a_finger_aims():
    """At the middle of the tab, and in the middle of a half a little below that of the tile."""
    tile = Rect(10, 20, 100, 100)
    aims = {outcome: aim_of(tile, outcome) for outcome in Outcome}
    assert aims[Outcome.UNSEEN] == pytest.approx((60, 107))
    assert aims[Outcome.MISSED] == pytest.approx((35, 64))
    assert aims[Outcome.DONE] == pytest.approx((85, 64))


def test_the_split_itself_belongs_to_done():
    """A finger on the line between the halves says one thing, below the tab."""
    assert outcome_at(Rect(10, 20, 100, 100), 60, 30) is Outcome.DONE


def test_of_its_edges_a_rectangle_has_the_left_and_the_lower_one():
    """Where two tiles meet a finger is on one of them, and only on one."""
    tile = Rect(10, 20, 30, 40)
    assert [tile.holds(x, 30) for x in (9.9, 10, 39.9, 40)] == [False, True, True, False]
    assert [tile.holds(20, y) for y in (19.9, 20, 59.9, 60)] == [False, True, True, False]


def test_a_margin_is_taken_off_on_every_side():
    """What is left lies in the middle."""
    inner = Rect(10, 20, 30, 40).inset(3)
    assert (inner.x, inner.y, inner.right, inner.top) == (13, 23, 37, 57)


@given(x=st.floats(0, 500), y=st.floats(0, 500), width=sizes, height=sizes)
def test_rectangles_that_meet_still_meet_on_whole_pixels(x, y, width, height):
    """Each edge goes to the nearest pixel by itself, so that no gap and no overlap comes of it."""
    left, exact = Rect(x, y, width, height).on_pixels(), Rect(x, y, width, height)
    right = Rect(exact.right, y, width, height).on_pixels()
    above = Rect(x, exact.top, width, height).on_pixels()
    assert (left.right, left.top) == (right.x, above.y)
    assert (left.x, left.y, left.right, left.top) == tuple(
        round(edge) for edge in (x, y, exact.right, exact.top)
    )


def test_places_go_row_by_row_from_the_upper_left():
    """Six tiles in three columns fill the whole area, edge to edge."""
    layout = BoardLayout(Rect(100, 10, 300, 200), columns=3, rows=2)
    assert [layout.tile(place) for place in (0, 2, 3, 5)] == [
        Rect(100, 110, 100, 100), Rect(300, 110, 100, 100), Rect(100, 10, 100, 100), Rect(300, 10, 100, 100)
    ]  # fmt: skip


@given(tiles=st.integers(1, 40), width=sizes, height=sizes)
def test_no_other_grid_has_larger_halves(tiles, width, height):
    """Whatever the number of columns, the smaller side of a half is nowhere longer."""

    def smaller_side(columns):
        rows = -(-tiles // columns)
        return min(width / columns / 2, height / rows)

    chosen = smaller_side(lay_out(tiles, Rect(0, 0, width, height)).columns)
    assert chosen == max(smaller_side(columns) for columns in range(1, tiles + 1))


def test_a_board_without_players_is_one_tile():
    """Before anybody is here there is something to lay out all the same."""
    assert lay_out(0, Rect(0, 0, 100, 50)) == BoardLayout(Rect(0, 0, 100, 50), 1, 1)


@given(roster=st.integers(1, 20), known=st.integers(1, 20))
def test_late_players_of_a_team_of_up_to_twenty_find_room(roster, known):
    """Whoever of the roster comes late, the number of places stays what it was at the start."""
    known = min(known, roster)
    assert {places_for(count, roster) for count in range(known, roster + 1)} == {roster}


def test_a_large_team_waits_for_twenty_and_makes_room_for_all_who_come():
    """Thirty on the roster do not make everybody's tile too small for a glove; thirty here have a place."""
    assert [places_for(known, 30) for known in (9, 20, 21, 30)] == [20, 20, 21, 30]


def test_tiles_share_width_and_height_of_the_board():
    """Three columns and two rows on a board that is wider than high."""
    layout = BoardLayout(Rect(10, 20, 900, 400), 3, 2)
    assert layout.tile_size == (300, 200)
    assert layout.tile(4) == Rect(310, 20, 300, 200)
