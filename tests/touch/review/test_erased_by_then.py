"""Whoever was erased is on no screen, although their tries still count in the figures of the team."""

import shutil

import pytest
from every_screen import show

from evaltrack.store.opening import open_season
from evaltrack.touch.tablet.tablet_screens import ScreenName
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.text_label import TextLabel


@pytest.fixture
def erased(demo_file, tmp_path):
    """Return the season of the demo team of which a player was erased, who, and how many tallies it has."""
    path = shutil.copy(demo_file, tmp_path / "demo.db")
    with open_season(path) as season:
        player, count = season.people.players()[2], season.log.count()
        season.erase(player.id, keep_counts=True)
    return path, player, count


def test_no_screen_has_a_player_who_was_erased(drive, erased):
    """Each opens, none has the name, and the tallies are as many as before."""
    path, player, count = erased
    driver = drive(path)
    assert driver.app.desk.season.log.count() == count
    assert player.id not in {one.id for one in driver.app.desk.players}
    for name in ScreenName:
        screen = show(driver, name)
        words = [one.text for one in screen.walk(restrict=True) if isinstance(one, TextLabel)]
        words += [one.title for one in screen.walk(restrict=True) if isinstance(one, TapButton)]
        assert not [
            text for text in words if player.name in text or player.name.split()[0] in text.split()
        ], name
