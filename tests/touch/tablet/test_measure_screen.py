"""Matching the outline to a bank card with fingers and keys."""

import pytest
from driver import Finger
from kivy.core.window import Window
from kivy.metrics import Metrics
from pressing import keys_of, press

from evaltrack.device.tablet import load_tablet
from evaltrack.touch.tablet.real_size import CARD_WIDTH, nominal

TEN_INCH = 1280 / 218
LEFT, RIGHT, UP, DOWN, ESCAPE = 276, 275, 273, 274, 27


@pytest.fixture
def measuring(drive, season_path):
    """Return the driver of an app on the screen that measures."""
    driver = drive(season_path)
    driver.app.go("measure")
    driver.settle()
    return driver


def screen_of(driver):
    """Return the screen that measures."""
    return driver.app.screens.get_screen("measure")


def drag(driver, by):
    """Draw the edge by some pixels, the finger well away from it."""
    outline = screen_of(driver).ids.outline
    finger = Finger(outline.x + 600, outline.center_y).down()
    driver.frames(1)
    for part in range(1, 5):
        finger.to(outline.x + 600 + by * part / 4, outline.center_y)
        driver.frames(1)
    finger.up()
    driver.frames(1)


def test_an_unmeasured_screen_starts_from_what_it_says_of_itself(measuring):
    """The outline is as wide as a card would be if the screen's own claim were true."""
    assert screen_of(measuring).ids.outline.card == pytest.approx(nominal(Metrics.dpi) * CARD_WIDTH)
    assert load_tablet().px_per_mm == 0


def test_keys_and_drawing_meet_the_card_and_it_is_kept(measuring):
    """Drawn to some 500 pixels, then by 10 and by 1 until it fits; the next start knows it."""
    outline = screen_of(measuring).ids.outline
    wanted = TEN_INCH * CARD_WIDTH
    drag(measuring, wanted - outline.card + 17)
    press(measuring, "−−")
    press(measuring, "−−")
    press(measuring, "+")
    for _ in range(2):
        press(measuring, "+")
    assert outline.card == pytest.approx(wanted, abs=0.5)
    assert "218 x 136 mm" in screen_of(measuring).sizes
    press(measuring, "It fits")
    assert measuring.app.screens.current == "setup"
    assert load_tablet().px_per_mm == pytest.approx(TEN_INCH, abs=0.01)
    assert "Measured: 5.87" in measuring.app.screens.get_screen("setup").size_words


def test_the_arrow_keys_do_the_same(measuring):
    """Left and right are a pixel, up and down are ten; Escape leaves without keeping."""
    outline = screen_of(measuring).ids.outline
    before = outline.card
    for key in (RIGHT, RIGHT, UP, LEFT, DOWN, DOWN):
        measuring.key(key)
    assert outline.card == pytest.approx(before + 1 - 10)
    measuring.key(ESCAPE)
    assert measuring.app.screens.current == "setup"
    assert load_tablet().px_per_mm == 0


def test_sizes_follow_while_the_edge_is_drawn(measuring):
    """The tiles that follow are told at every width, with a warning where a glove would miss."""
    screen = screen_of(measuring)
    screen.ids.outline.card = TEN_INCH * CARD_WIDTH
    assert "20 players: 5 by 4 tiles, halves of 21 x 19 mm" in screen.sizes
    assert screen.warning == ""
    screen.ids.outline.card = 1280 / 172 * CARD_WIDTH
    assert "halves of 17 x 15 mm" in screen.sizes
    assert "Under 19 mm" in screen.warning


def test_an_impossible_match_is_refused_and_changes_nothing(measuring):
    """A card two centimetres wide on the screen is no match: a sentence says so, and nothing is kept."""
    drag(measuring, -2000)
    press(measuring, "It fits")
    assert measuring.app.screens.current == "measure"
    assert "match the card again" in screen_of(measuring).warning
    assert load_tablet().px_per_mm == 0


def test_the_outline_stays_in_the_window(measuring):
    """However far it is drawn, its edge can be seen and drawn back."""
    drag(measuring, 5000)
    outline = screen_of(measuring).ids.outline
    assert outline.card == outline.width
    drag(measuring, -300)
    assert outline.card == pytest.approx(outline.width - 300, abs=2)


def test_a_match_can_be_forgotten(measuring):
    """The screen is then as good as never measured."""
    screen_of(measuring).keep()
    measuring.app.go("measure")
    press(measuring, "Forget the match")
    assert load_tablet().px_per_mm == 0
    assert "Not measured" in measuring.app.screens.get_screen("setup").size_words


def test_a_fine_screen_that_calls_itself_coarse_gets_its_dp_at_once_and_at_the_next_start(drive, season_path):
    """2560 x 1600 pixels on 218 x 136 mm: bars and words get their real size, and Forget takes it back."""
    system = Metrics.density
    Window.resize(2560, 1600)
    try:
        driver = drive(season_path)
        driver.app.go("measure")
        driver.settle()
        screen_of(driver).ids.outline.card = 2 * TEN_INCH * CARD_WIDTH
        screen_of(driver).keep()
        raised = 2 * TEN_INCH * 25.4 / 160
        assert Metrics.density == pytest.approx(raised, abs=0.001)
        driver.settle()
        back = next(key for key in keys_of(driver) if key.title == "Back")
        assert back.width == pytest.approx(88 * raised, abs=1)
        driver.close()
        assert Metrics.density == system
        again = drive(season_path)
        assert Metrics.density == pytest.approx(raised, abs=0.001)
        Window.resize(1280, 800)
        again.settle()
        assert Metrics.density == system
    finally:
        Window.resize(1280, 800)


def test_a_tablet_without_a_season_can_be_measured(drive):
    """Before the first season file there is a set-up too; twenty players are reckoned with."""
    driver = drive()
    press(driver, "Set-up")
    press(driver, "Measure")
    screen_of(driver).ids.outline.card = TEN_INCH * CARD_WIDTH
    assert "20 players" in screen_of(driver).sizes
    press(driver, "It fits")
    assert load_tablet().px_per_mm == pytest.approx(TEN_INCH, abs=0.01)
