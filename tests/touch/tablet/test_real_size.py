"""Millimetres from pixels, in plain numbers and against the board as it is drawn."""

from datetime import date

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from kivy.core.window import Window
from kivy.metrics import Metrics

from evaltrack.rink.board_grid import tab_of
from evaltrack.touch.tablet.measure_screen import too_small
from evaltrack.touch.tablet.real_size import Halves, density_for, halves, nominal, refusal

TEN_INCH = 1280 / 218  # px/mm of a 10.1-inch panel of 218 x 136 mm with 1280 x 800 pixels
EIGHT_INCH = 1280 / 172

sizes = st.floats(300, 4000)


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], ids=["wide", "upright"])
def test_the_promised_halves_are_those_of_the_board(drive, season_path, window):
    """What is promised before the practice is what the board has in it, both ways up."""
    driver = drive(season_path)
    desk = driver.app.desk
    desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    Window.resize(*window)
    try:
        driver.settle()
        layout = driver.app.screens.current_screen.ids.board.layout
        tile = layout.tile(0)
        promised = halves(20, *window, Metrics.density, TEN_INCH)
        assert (promised.columns, promised.rows) == (len(layout.rows[0]), len(layout.rows))
        assert promised.width == pytest.approx(tile.width / 2 / TEN_INCH)
        assert promised.height == pytest.approx((tile.height - tab_of(tile).height) / TEN_INCH)
    finally:
        Window.resize(1280, 800)
        driver.settle()


def test_twenty_players_fit_on_ten_inches_and_not_on_eight():
    """A 10.1-inch panel has halves for a glove; on 8 inches they are too small, and the screen says so."""
    assert halves(20, 1280, 800, 1, TEN_INCH).large_enough
    small = halves(20, 1280, 800, 1, EIGHT_INCH)
    assert not small.large_enough
    assert "Under 19 mm" in too_small(small, small)
    assert "turned they are 21 x 25 mm" in too_small(small, Halves(5, 4, 21.4, 25.2))
    assert too_small(Halves(5, 4, 21.4, 25.2), small) == ""


@given(players=st.integers(1, 30), width=sizes, height=sizes, density=st.floats(0.7, 4), mm=st.floats(2, 32))
def test_sizes_in_millimetres_do_not_hang_on_the_pixels(players, width, height, density, mm):
    """The same glass with twice the pixels has the same halves."""
    assume(min(width, height) > 400 * density)
    coarse = halves(players, width, height, density, mm)
    fine = halves(players, 2 * width, 2 * height, 2 * density, 2 * mm)
    assert (fine.columns, fine.rows) == (coarse.columns, coarse.rows)
    assert (fine.width, fine.height) == (pytest.approx(coarse.width), pytest.approx(coarse.height))


@pytest.mark.parametrize("px_per_mm", [0.0, 1.99, 32.1, 400.0, float("nan")])
def test_a_match_that_no_screen_can_have_is_refused(px_per_mm):
    """The refusal is a sentence with the figure in it and what to do."""
    assert "match the card again" in refusal(px_per_mm)


@pytest.mark.parametrize("px_per_mm", [2.0, nominal(96), TEN_INCH, EIGHT_INCH, 24.0])
def test_real_screens_are_not_refused(px_per_mm):
    """From a coarse monitor to a telephone."""
    assert refusal(px_per_mm) == ""


def test_nominal_is_dots_per_inch_over_the_inch():
    """An inch has 25.4 mm by definition."""
    assert nominal(254) == 10


@pytest.mark.parametrize(
    ("system", "px_per_mm", "short", "wanted"),
    [
        (1, TEN_INCH, 800, 1),  # a dp is all but right already
        (1, 2 * TEN_INCH, 1600, 1.864),  # a fine panel that calls itself coarse
        (2, 2 * TEN_INCH, 1600, 2),  # the same, known to the system
        (1, EIGHT_INCH, 800, 1),  # larger words would leave too little room
        (1, 1.5 * EIGHT_INCH, 1200, 1.5),  # raised as far as there is room
        (1.25, nominal(96), 1080, 1.25),  # a laptop whose owner wants large words keeps them
    ],
)
def test_a_dp_is_raised_where_it_is_too_small(system, px_per_mm, short, wanted):
    """A dp is a 160th of an inch: where the glass has it smaller, and there is room, it is raised."""
    assert density_for(system, px_per_mm, short) == pytest.approx(wanted, abs=0.001)


@given(system=st.floats(0.5, 4), px_per_mm=st.floats(2, 32), short=sizes)
def test_a_dp_is_never_lowered_nor_raised_past_its_size_or_the_room(system, px_per_mm, short):
    """Raising ends at the real size and at 800 dp for the short side, whichever comes first."""
    density = density_for(system, px_per_mm, short)
    assert density >= system
    if density > system:
        assert density <= px_per_mm * 25.4 / 160 * (1 + 1e-9)
        assert short / density >= 800 * (1 - 1e-9)
