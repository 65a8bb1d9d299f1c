"""A practice that another tablet's tallies are in: whose the total beside undo is, in words."""

from datetime import date

import pytest
from kivy.metrics import dp
from on_boards import board_of, screen_of, tap
from pressing import press

from evaltrack.device.tablet import load_tablet, tablet_file
from evaltrack.rink.tally import Outcome
from evaltrack.touch.board.since_last import SinceLast
from evaltrack.touch.widgets.glyphs import texture

both_ways_up = pytest.mark.parametrize(
    "window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True
)


def since_last(driver):
    (found,) = [w for w in screen_of(driver).walk(restrict=True) if isinstance(w, SinceLast)]
    return found


@both_ways_up
def test_a_tablet_that_takes_over_says_which_tallies_are_its_own(bench, drive, season_path, window):
    """With new settings the tiles keep their counts, and the total says that it is of this tablet only."""
    tap(bench, 0, Outcome.DONE)
    assert since_last(bench).unit == "tally"
    bench.close()
    before = load_tablet().id
    tablet_file().unlink()
    again = drive(season_path)
    assert load_tablet().id != before
    again.app.screen("start")._today = lambda: date(2026, 1, 20)
    again.app.go("start")
    press(again, "Start")
    mine = since_last(again)
    assert board_of(again).faces[0].done == 1
    assert (mine.total, mine.unit, mine.words) == (0, "by this tablet", "nothing yet")
    assert texture(mine.unit, dp(14)).width <= mine.width
    tap(again, 1, Outcome.DONE)
    assert (mine.total, mine.unit) == (1, "by this tablet")
