"""What the bench of opening screens makes of its figures: too slow, slow on a busy machine, not known."""

import bench_screens
from bench_screens import ALLOWED, QUIET, WAYS, over, unknown

from evaltrack.touch.tablet.tablet_screens import ScreenName


def test_a_screen_that_takes_too_long_is_told_at_the_scale_of_the_machine():
    """Twice as slow a machine may take twice as long; a faster one may not take less for granted."""
    taken = {ScreenName.TEAM: ALLOWED + 1, ScreenName.HOME: ALLOWED - 1}
    assert over(QUIET, taken) == over(QUIET / 2, taken) == [ScreenName.TEAM]
    assert over(2 * QUIET, taken) == []
    assert over(2 * QUIET, {ScreenName.TEAM: 2 * ALLOWED + 1}) == [ScreenName.TEAM]


def test_a_screen_without_a_way_to_it_is_named(monkeypatch):
    """So that a new one is measured too, or the bench fails."""
    known = {name: way for name, way in WAYS.items() if name != ScreenName.SEASON}
    before = unknown()
    monkeypatch.setattr(bench_screens, "WAYS", known)
    assert unknown() == [name for name in ScreenName if name in (ScreenName.SEASON, *before)]
