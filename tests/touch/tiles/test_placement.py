"""Rows of tiles and keys: no gap, no overlap, and tiles that a finger in a glove finds. Plain numbers."""

import random
from collections import Counter

import pytest
from finger_spread import HALVES, UPRIGHT, WIDE, landing, mean_landing
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.board_grid import Rect, aim_of, outcome_at, tab_of
from evaltrack.rink.tally import Outcome
from evaltrack.touch.tiles.placement import Part, Placement, stacked, tile_rows
from evaltrack.touch.widgets.bars import FOOT, board_size

sizes = st.floats(200, 3000)
shares = st.floats(0, 1, exclude_max=True)
rows_of_parts = st.lists(
    st.tuples(
        st.floats(0.05, 1),
        st.lists(st.builds(Part, st.floats(0.05, 1), st.none() | st.just(0)), min_size=1, max_size=7),
    ),
    min_size=1,
    max_size=7,
)


def group(players: int, window) -> tuple[Placement, float]:
    """Return the whole-group board in a window without density, and the millimetres of a pixel."""
    width, height, mm = window
    area = Rect(0, FOOT, *board_size(width, height, 1))
    return stacked(area, tile_rows(players, area)), mm


@given(rows=rows_of_parts, width=sizes, height=sizes, right=shares, up=shares)
def test_every_point_of_a_board_belongs_to_exactly_one_cell(rows, width, height, right, up):
    """A finger anywhere on the board hits the one cell that is drawn there; cells cover the area once."""
    board = stacked(Rect(10, 20, width, height), rows)
    x, y = 10 + right * width, 20 + up * height
    slack = 1e-6 * max(width, height)
    rect = board.at(x, y).rect
    assert rect.x - slack <= x <= rect.right + slack
    assert rect.y - slack <= y <= rect.top + slack
    cells = [cell.rect for row in board.rows for cell in row]
    assert sum(cell.width * cell.height for cell in cells) == pytest.approx(width * height)


@given(tiles=st.integers(1, 40), width=sizes, height=sizes, place=st.integers(0, 39))
def test_the_middle_of_each_tile_is_that_tile(tiles, width, height, place):
    """Every player has a tile, and a finger on its marks and its tab finds it."""
    area = Rect(0, 0, width, height)
    board, place = stacked(area, tile_rows(tiles, area)), place % tiles
    for outcome in Outcome:
        spot = aim_of(board.tile(place), outcome)
        cell = board.at(*spot)
        assert (cell.tile, outcome_at(cell.rect, *spot)) == (place, outcome)


def test_outside_the_board_nothing_is_hit():
    """A finger on the bars hits no tile."""
    board, _ = group(20, WIDE)
    outside = ((640, FOOT - 1), (640, 709), (-1, 300), (1280, 300))
    assert [board.at(*point) for point in outside] == [None] * 4


@pytest.mark.parametrize("window", [WIDE, UPRIGHT], ids=["wide", "upright"])
@pytest.mark.parametrize("players", [9, 18, 20])
def test_halves_have_nineteen_mm_a_side_clear_of_the_tab(players, window):
    """On a ten-inch tablet, both ways up, a square of 19 mm fits into each half under the name."""
    board, mm = group(players, window)
    tile = board.tile(0)
    assert tile.width / 2 * mm >= 19
    assert (tile.height - tab_of(tile).height) * mm >= 19


@pytest.mark.parametrize("window", [WIDE, UPRIGHT], ids=["wide", "upright"])
@pytest.mark.parametrize(
    ("players", "spread", "wrong", "not_counted"),
    [
        (20, 2, 0.0001, 0.0001), (20, 4, 0.01, 0.013), (20, 6, 0.09, 0.06),
        (18, 2, 0.0001, 0.0001), (18, 4, 0.01, 0.013), (18, 6, 0.09, 0.06),
        (9, 2, 1e-6, 1e-5), (9, 4, 0.0001, 0.002), (9, 6, 0.01, 0.02),
    ],
)  # fmt: skip
def test_few_fingers_stray(players, spread, wrong, not_counted, window):
    """Aimed at a mark with 2, 4 or 6 mm spread, as a mean over all halves: at 4 mm at most 1 % are wrong."""
    board, mm = group(players, window)
    landed = mean_landing(board, range(players), spread / mm)
    assert landed.wrong <= wrong
    assert landed.tab + landed.elsewhere <= not_counted


@pytest.mark.parametrize("outcome", HALVES)
def test_the_computed_shares_are_those_of_the_hit_test(outcome):
    """Twenty thousand fingers through the board's own hit test land as computed, to four standard errors."""
    board, mm = group(20, WIDE)
    chance, spread, place, fingers = random.Random(4), 5 / mm, 7, 20_000
    x, y = aim_of(board.tile(place), outcome)
    said = Counter()
    for _ in range(fingers):
        spot = chance.gauss(x, spread), chance.gauss(y, spread)
        cell = board.at(*spot)
        said[cell and (cell.tile == place, outcome_at(cell.rect, *spot))] += 1
    computed = landing(board, place, outcome, spread)
    found = {
        "right": said[True, outcome],
        "wrong_half": sum(said[True, half] for half in HALVES if half is not outcome),
        "wrong_tile": sum(said[False, part] for part in Outcome),
        "tab": said[True, Outcome.UNSEEN],
        "elsewhere": said[None],
    }
    for part, count in found.items():
        share = max(0.0, getattr(computed, part))
        assert abs(count / fingers - share) <= 4 * (share * (1 - share) / fingers) ** 0.5, part
