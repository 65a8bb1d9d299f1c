"""Every word of every screen stands out from its ground by 7:1, in both looks."""

from contrast import contrast
from drawn_inks import drawn_words
from every_screen import show

from evaltrack.touch.tablet.tablet_screens import ScreenName

WORDS = 7  # WCAG 2.2, 1.4.6


def test_all_words_that_are_drawn_reach_seven_to_one(demo):
    """Titles, soft and disabled words, hints of fields, counts on tiles, in both looks, as they are drawn."""
    for dark in (True, False):
        demo.app.screen(ScreenName.SETUP).choose(dark=dark)
        words = [(name, one) for name in (*ScreenName, ScreenName.START) for one in words_of(demo, name)]
        faint = [(name, one) for name, one in words if contrast(one.ink, one.ground) < WORDS]
        assert {(name, one.widget, _code(one.ink), _code(one.ground)) for name, one in faint} == set()
        assert len(words) > 2000


def words_of(driver, name):
    """Return what a screen draws of words, once it has drawn all of them."""
    screen = show(driver, name)
    driver.frames(2)
    return drawn_words(screen)


def _code(tint) -> str:
    return "".join(f"{round(255 * part):02X}" for part in tint[:3])
