"""The set-up of the tablet by finger and by keyboard: each choice is kept at once and in force at once."""

import pytest
from kivy.core.window import Window
from kivy.metrics import sp
from pressing import keys_of, press

from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.touch.widgets.palette import DARK
from evaltrack.touch.widgets.text_label import TextLabel
from evaltrack.touch.widgets.theme import theme

TAB, ENTER, SPACE, ESCAPE = 9, 13, 32, 27


@pytest.fixture
def setup(drive, season_path):
    """Return the driver of an app on the set-up screen, reached from home."""
    driver = drive(season_path)
    press(driver, "Set-up")
    assert driver.app.screens.current == "setup"
    return driver


def focused(driver):
    """Return the title of the key that the keyboard is on."""
    return [key.title for key in keys_of(driver) if key.focused]


def test_look_and_hand_are_kept_at_once(setup):
    """Dark and left are in force, in the file, and filled on the screen."""
    press(setup, "Dark")
    press(setup, "Left")
    assert (load_tablet().dark, load_tablet().hand) == (True, "left")
    assert theme.palette is DARK
    filled = [key.title for key in keys_of(setup) if key.active]
    assert filled == ["Dark", "Left", "Usual", "As the system", "Off"]
    press(setup, "Light")
    press(setup, "Right")
    assert (load_tablet().dark, load_tablet().hand) == (False, "right")


def test_larger_words_are_kept_and_seen_at_once(setup):
    """A tap on Largest has every word of 20 sp drawn 1.4 times as large, at once and after the next start."""
    before = sp(20)
    (label,) = [one for one in setup.app.screens.current_screen.walk() if getattr(one, "text", "") == "Words"]
    press(setup, "Largest")
    assert load_tablet().words == "largest"
    assert sp(20) == pytest.approx(1.4 * before)
    assert label.font_size == pytest.approx(1.4 * before)
    press(setup, "Usual")
    assert label.font_size == pytest.approx(before)
    setup.app.desk.keep(words="larger")
    setup.close()
    assert sp(20) == pytest.approx(before)  # the next app begins with what the system says


def test_words_are_larger_from_the_start(drive, season_path):
    """An app of a tablet with larger words makes its first screen in them."""
    keep_tablet(load_tablet(), words="larger")
    before = sp(20)
    driver = drive(season_path)
    assert sp(20) == pytest.approx(1.2 * before)
    key = driver.app.screens.current_screen.ids.more.children[-1]
    assert key.title_size == pytest.approx(sp(24))


def test_sound_that_the_device_lacks_stays_off_and_says_so(setup):
    """This window has no sound: the choice is refused in words."""
    press(setup, "On")
    assert not load_tablet().sound
    assert "plays no sound" in setup.app.screens.current_screen.words


def test_vibration_that_the_device_lacks_cannot_be_chosen(setup):
    """A laptop says that it cannot vibrate, and its keys are off."""
    screen = setup.app.screens.current_screen
    assert not screen.can_vibrate
    rows = [row.says for row in screen.walk(restrict=True) if hasattr(row, "says")]
    assert any("cannot vibrate" in words for words in rows)
    assert [key.title for key in keys_of(setup)].count("On") == 1


def test_every_key_is_reached_and_pressed_from_the_keyboard(setup):
    """Tab goes through the keys in their order and round, Shift+Tab back; Enter and the space bar press."""
    order = [key.title for key in keys_of(setup)]
    seen = []
    for _ in order:
        setup.key(TAB)
        seen += focused(setup)
    assert seen == order
    assert len(order) == 18
    setup.key(TAB)
    setup.key(TAB)
    setup.key(TAB)
    assert focused(setup) == ["Dark"]
    setup.key(ENTER)
    assert load_tablet().dark
    setup.key(TAB, modifiers=["shift"])
    setup.key(SPACE)
    assert not load_tablet().dark
    setup.key(ESCAPE)
    assert setup.app.screens.current == "home"


def test_home_leads_everywhere_from_the_keyboard(drive, season_path):
    """The first screen can be worked without a finger, and a touch takes the mark away."""
    driver = drive(season_path)
    for _ in keys_of(driver):
        driver.key(TAB)
        if focused(driver) == ["Set-up"]:
            driver.key(ENTER)
            break
    assert driver.app.screens.current == "setup"
    assert focused(driver) == []
    driver.key(TAB)
    driver.tap((640, 790))
    assert focused(driver) == []


@pytest.mark.parametrize("size", [(1280, 800), (800, 1280), (1024, 600)])
def test_nothing_is_cut_and_nothing_lies_over_another(setup, size):
    """At every size the rows follow one another, with room for their words; a low window scrolls."""
    Window.resize(*size)
    try:
        setup.settle()
        rows = [w for w in setup.app.screens.current_screen.walk(restrict=True) if hasattr(w, "says")]
        edges = [edge for row in rows for edge in (row.top, row.y)]
        assert edges == sorted(edges, reverse=True)
        assert edges[-1] >= 0 or size[1] < 800
        for row in rows:
            labels = [part for part in row.walk(restrict=True) if isinstance(part, TextLabel)]
            assert sum(label.texture_size[1] for label in labels) <= row.height
    finally:
        Window.resize(1280, 800)
        setup.settle()
