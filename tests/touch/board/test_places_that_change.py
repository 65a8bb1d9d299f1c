"""A board whose places change under a finger: a choice opens, a row goes, the window turns.

Cases: each tile of each shipped step and then each plate, both ways up; any faces, rings and counts between
two layouts and the frame that draws the second, in any size.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from on_boards import board_of, both_ways_up, screen_of
from pressing import press

from evaltrack.rink.tally import Outcome
from evaltrack.touch.board.tally_board import TallyBoard
from evaltrack.touch.tiles.faces import ButtonFace, Face
from evaltrack.touch.tiles.placement import Part, stacked, tile_rows


@both_ways_up
def test_every_tile_and_then_every_plate(bench):
    """After a tap on any tile every second plate opens its choice: its ring may have lost its place."""
    press(bench, "By rep")
    screen, board, desk = screen_of(bench), board_of(bench), bench.app.desk
    pairs = 0
    for drill, step in [(d.key, s.key) for d in desk.drills for s in d.steps]:
        assert desk.run(drill, step)
        bench.frames(1)
        for place in [n for n, tile in enumerate(screen.board._tiles) if not tile.following]:
            for plate in range(place % 2, len(screen.board._slots), 2):
                screen.tally(place, Outcome.DONE)
                bench.frames(1)
                screen.press(plate)
                assert screen.board.choosing == screen.board._slots[plate].key
                bench.frames(1)
                assert set(board._groups) == {("tile", n) for n in board.layout.tiles} | {
                    ("button", n) for n in board.layout.buttons
                }
                screen.press(plate)
                pairs += 1
    assert pairs > 80
    assert desk.message == ""


LAYOUTS = st.tuples(st.integers(1, 20), st.integers(0, 20))


def _row_of_keys(count):
    return [(0.3, [Part(1, button=index) for index in range(count)])] if count else []


@given(
    layouts=st.lists(LAYOUTS, min_size=2, max_size=4),
    touched=st.lists(st.tuples(st.integers(0, 19), st.sampled_from(Outcome)), max_size=4),
    size=st.tuples(st.integers(101, 1400), st.integers(101, 1400)),
)
@settings(max_examples=25, deadline=None)
def test_any_place_may_be_told_of_between_two_layouts(layouts, touched, size):
    """A count or a ring for a place that the next layout lacks draws nothing; the frame draws all of it."""
    board = TallyBoard(size=size)
    for tiles, keys in layouts:
        board._draw_again()
        board.show(
            [Face("7", "Juno")] * 20,
            [ButtonFace("Juno", "7")] * keys,
            lambda area, n=tiles, k=keys: stacked(area, [*tile_rows(n, area), *_row_of_keys(k)]),
        )
        for place, outcome in touched:
            board.ring(place, outcome)
            board.update(place, Face("7", "Juno", 1))
    board._draw_again()
    assert {place for kind, place in board._groups if kind == "tile"} == set(board.layout.tiles)


@pytest.mark.parametrize("kind", ["Group", "By rep", "Player"])
def test_the_window_turns_between_a_tap_and_the_next_frame(bench, kind):
    """On each board a tap, a turned window and another tap in one frame leave a board drawn whole."""
    press(bench, kind)
    screen, board = screen_of(bench), board_of(bench)
    for size in ((900, 1200), (1200, 500), (1280, 800)):
        screen.tally(0, Outcome.DONE)
        board.size = size
        screen.tally(1, Outcome.MISSED)
        screen.undo()
        bench.frames(2)
        assert {place for what, place in board._groups if what == "tile"} == set(board.layout.tiles)
