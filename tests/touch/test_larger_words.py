"""Larger words on every screen: they are larger, and none of them is cut or lies over another."""

from statistics import mean

import pytest
from every_screen import show
from words_seen import faults, share_of

from evaltrack.device.tablet import WordSize
from evaltrack.touch.tablet.tablet_screens import ScreenName

AS_ASKED = 0.9  # the share of the asked size that the words of a screen have in the mean; bars are narrow
LANDSCAPE, PORTRAIT = (1280, 800), (800, 1280)
ASKED = [(LANDSCAPE, WordSize.LARGEST), (PORTRAIT, WordSize.LARGER), (PORTRAIT, WordSize.LARGEST)]


@pytest.mark.parametrize(("window", "words"), ASKED, indirect=["window"])
def test_no_words_are_cut_and_nothing_lies_over_another(demo, words):
    """Every screen of the demo team, the start with and without a running practice: all words have room."""
    demo.app.desk.keep(words=words)
    demo.app.words.follow()
    for name in (*ScreenName, ScreenName.START, ScreenName.HOME):
        screen = show(demo, name)
        assert faults(screen) == [], name
        drawn = [share for share in map(share_of, screen.walk(restrict=True)) if share is not None]
        assert mean(drawn) >= AS_ASKED, name
