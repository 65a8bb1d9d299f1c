"""The screens in French, which is longer: no word is cut and nothing lies over another, both ways up."""

from statistics import mean

import pytest
from every_screen import show
from words_seen import faults, share_of

from evaltrack.device.tablet import WordSize, keep_tablet, load_tablet
from evaltrack.language import Language, speak
from evaltrack.touch.tablet.tablet_screens import ScreenName

LANDSCAPE, PORTRAIT = (1280, 800), (800, 1280)
# those of which the words are all in French, which are many or stand in little room
LOOKED_AT = (
    *(ScreenName.HOME, ScreenName.START, ScreenName.BOARD, ScreenName.PLAYERS, ScreenName.PLAYER_FORM),
    *(ScreenName.SKILLS, ScreenName.SKILL_FORM, ScreenName.DRILLS, ScreenName.DRILL, ScreenName.STEP),
    *(ScreenName.REPS, ScreenName.SETUP, ScreenName.MEASURE, ScreenName.CODE),
)
AS_ASKED = 0.85  # the share of the asked size that the words of a screen have in the mean; English has 0.9


@pytest.fixture
def french(start_demo):
    """Return the driver of an app that speaks French from its start."""
    keep_tablet(load_tablet(), language=Language.FRENCH_CANADA.value)
    yield start_demo()
    speak(Language.ENGLISH)


@pytest.mark.parametrize(
    ("window", "words"),
    [(LANDSCAPE, WordSize.USUAL), (PORTRAIT, WordSize.LARGEST)],
    indirect=["window"],
)
def test_french_words_have_room(french, words):
    """Every word is whole and most are as large as they were asked to be."""
    french.app.desk.keep(words=words)
    french.app.words.follow()
    wrong = []
    for name in LOOKED_AT:
        screen = show(french, name)
        wrong += [f"{name}: {fault}" for fault in faults(screen)]
        drawn = [share for share in map(share_of, screen.walk(restrict=True)) if share is not None]
        if mean(drawn) < AS_ASKED:
            wrong.append(f"{name}: words of {mean(drawn):.2f} of their size")
    assert wrong == []
