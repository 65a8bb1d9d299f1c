"""The look is changed in one screen and followed by every other, whenever it was made, shown or not."""

from datetime import date

import pytest
from kivy.graphics import Canvas, Color, InstructionGroup
from kivy.properties import ColorProperty
from kivy.uix.scrollview import ScrollView
from made_standings import AnsweringThread, standings_for

from evaltrack.device.passcode import seal
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.tally import Outcome
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.review.review import Review
from evaltrack.touch.widgets.palette import DARK, LIGHT

BOARDS = ("group", "rep", "player")
OF_SEASONS = ("seasons", "file", "our_team", "roster")
SCREENS = ("home", "start", "team", "player", "setup", "measure", "code", *OF_SEASONS)
SEALED = seal("2468")


@pytest.fixture
def made_in(drive, season_path):
    """Return a function that starts the app in a look, on a running practice, and shows every screen."""

    def made(dark):
        keep_tablet(load_tablet(), dark=dark, latch=SEALED, board="group")
        app = EvaltrackApp(season_path)
        driver, desk = drive(app=app), app.desk
        app.latch.open()
        if not desk.practice:
            assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
            assert desk.tally(desk.players[0].id, Outcome.DONE)
        app.review = Review(
            desk, AnsweringThread(lambda _: standings_for(desk.players, list(desk.skills.values())))
        )
        desk.now = lambda: desk.last(1)[0].at  # the board tells how long ago the last tally was
        return driver

    return made


def colours_of(driver):
    """Visit every screen and board; return the colours of each by its name."""
    found = {}
    for kind in BOARDS:
        driver.app.desk.remember(board=kind)
        found[f"board {kind}"] = _shown(driver, "board", lambda screen, kind=kind: screen.choose(kind))
    for name in SCREENS:
        found[name] = _shown(driver, name)
    return found


def _shown(driver, name, then=lambda _: None):
    app = driver.app
    app.latch.open()
    if name == "player":
        app._to_player(None, app.desk.players[3].number)
    elif name == "code":
        app.screen("code").ask("team")
    elif name == "file":
        app._to_season_file()
    app.go(name)
    screen = app.screens.current_screen
    assert screen.name == name
    then(screen)
    if name == "file":
        driver.wait(lambda: screen.ids.files.rows)
    if name in ("team", "player"):
        driver.wait(lambda: app.review.state == "ready")
    driver.settle()
    return tints(screen)


def tints(screen):
    """Return every colour of a screen's canvases and of its widgets' properties, widget by widget."""
    return [(type(widget).__name__, *_drawn(widget), *_set(widget)) for widget in screen.walk(restrict=True)]


def _drawn(widget):
    if isinstance(widget, ScrollView):
        return []  # its bar fades from one of its two colours to the other, both of which are properties
    return [tuple(colour.rgba) for colour in _colours(widget.canvas)]


def _colours(group):
    for part in group.children:  # what is drawn before and after is among them, and so are the widgets within
        if isinstance(part, Color):
            yield part
        elif isinstance(part, InstructionGroup) and not isinstance(part, Canvas):
            yield from _colours(part)


def _set(widget):
    names = [name for name, known in widget.properties().items() if isinstance(known, ColorProperty)]
    return [(name, tuple(getattr(widget, name) or ())) for name in sorted(names)]


def change_palette(driver, dark):
    """Change the look in the set-up."""
    driver.app.latch.open()
    driver.app.go("setup")
    driver.app.screens.current_screen.choose(dark=dark)


@pytest.mark.parametrize("dark", [True, False], ids=["to dark", "to light"])
def test_every_screen_follows_the_look_as_if_made_in_it(made_in, dark):
    """Made in one look and seen in the other, each colour is the one of the same screen made in it."""
    driver = made_in(not dark)
    before = colours_of(driver)
    change_palette(driver, dark)
    after = colours_of(driver)
    driver.close()
    made = colours_of(made_in(dark))
    for name, colours in made.items():
        assert after[name] == colours, name
        assert before[name] != colours, name


def test_hidden_screens_follow_at_once(made_in):
    """A screen that is not shown when the look changes has its colours before it is shown again."""
    driver = made_in(False)
    colours_of(driver)
    change_palette(driver, True)
    driver.settle()
    hidden = {screen.name: tints(screen) for screen in driver.app.screens.screens}
    light = {(name, LIGHT.ground) for name in hidden} | {(name, LIGHT.bar) for name in hidden}
    found = {
        (name, rgba)
        for name, rows in hidden.items()
        for row in rows
        for rgba in row
        if isinstance(rgba, tuple)
    }
    assert not found & light
    assert {name for name, rgba in found if rgba == DARK.bar} == set(hidden)
