"""Larger words on every screen: they are larger, and none of them is cut or lies over another."""

from statistics import mean

import pytest
from every_screen import show
from kivy.metrics import sp
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


@pytest.mark.parametrize("window", [LANDSCAPE, PORTRAIT], indirect=True)
@pytest.mark.parametrize("words", WordSize)
def test_the_keys_of_home_say_their_words_in_one_size(demo, words):
    """Each has room for what it says: none is set in smaller letters than its neighbours."""
    demo.app.desk.keep(words=words)
    demo.app.words.follow()
    keys = show(demo, ScreenName.HOME).ids.more.children
    assert [round(share_of(key), 2) for key in keys] == [1] * len(keys)


@pytest.mark.parametrize("window", [LANDSCAPE, PORTRAIT], indirect=True)
def test_home_has_room_for_what_is_asked_and_for_what_is_due(demo):
    """In the largest words nothing is pushed into the bar; the question comes first, then the reminder."""
    demo.app.desk.keep(words=WordSize.LARGEST)
    demo.app.words.follow()
    home = show(demo, ScreenName.HOME)
    home.reminder = "Children’s data of this season were to be kept until Tuesday 11 August 2026."
    question = "Tuesday 20 January 2026 was not ended: the last tally is from 18:33. Is it still going on?"
    for asked in (question, ""):
        home.question = asked
        demo.settle()
        assert home.reminds == (not asked)
        assert home.ids.content.minimum_height <= home.ids.content.height + 1


@pytest.mark.parametrize("window", [(800, 800), (800, 900), (800, 1010)], indirect=True)
def test_home_has_room_in_a_window_that_is_nearly_square(demo):
    """As on an upright display, where the first window is no higher than on another one."""
    home = show(demo, ScreenName.HOME)
    assert faults(home) == []
    assert home.ids.choices.top <= home.height - home.ids.more.children[0].height


@pytest.mark.parametrize("words", [WordSize.USUAL, WordSize.LARGEST])
def test_the_mark_of_the_invented_team_has_room_of_its_own(demo, words):
    """It lies above every screen and over none of them, and the tiles of the board stay where they were."""
    tiles = show(demo, ScreenName.BOARD).ids.board
    demo.app.desk.keep(words=words)
    demo.app.words.follow()
    demo.settle()
    before = [tiles.layout.tile(place) for place in tiles.layout.tiles]
    demo.app.desk.invented = True
    demo.app.mark_invented()
    for name in ScreenName:
        screen = show(demo, name)
        demo.app.desk.invented = True  # for some of them another file was taken in hand
        demo.settle()
        assert screen.top == pytest.approx(demo.app.screens.height - sp(17)), name
        assert faults(screen) == [], name
    show(demo, ScreenName.BOARD)
    assert [tiles.layout.tile(place) for place in tiles.layout.tiles] == before
    demo.app.desk.invented = False
    demo.app.mark_invented()
    demo.settle()
    assert demo.app.screens.current_screen.top == demo.app.screens.height
