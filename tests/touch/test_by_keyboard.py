"""Every screen is worked from the keyboard alone: all that takes a touch is reached, seen and pressed."""

import pytest
from every_screen import show
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.textinput import TextInput

from evaltrack.touch.board.tally_board import TallyBoard
from evaltrack.touch.input.spots import spots_of
from evaltrack.touch.tablet.card_outline import CardOutline
from evaltrack.touch.tablet.tablet_screens import ScreenName
from evaltrack.touch.widgets.field import Field
from evaltrack.touch.widgets.text_label import Bar

UP, DOWN, RIGHT, LEFT, ENTER, SPACE, TAB, ESCAPE = 273, 274, 275, 276, 13, 32, 9, 27
SIZES = [(1280, 800), (800, 1280)]


def focus_of(driver):
    return driver.app._focus._spot


def takes_touches(widget) -> bool:
    """Say whether a widget does something of its own with a finger."""
    if isinstance(widget, ButtonBehavior | TextInput):
        return True
    own = (kind for kind in type(widget).__mro__ if kind.__module__.startswith("evaltrack."))
    return not isinstance(widget, Bar) and any("on_touch_down" in vars(kind) for kind in own)


def touchable(widget):
    """Return what takes touches in a screen, below what is seen of it."""
    for child in widget.children:
        if child.opacity and not child.disabled and min(child.size) > 1:
            yield from [child] * takes_touches(child)
            yield from touchable(child)


def tabbed(driver, most=400):
    """Return the spots that Tab comes to from the first until it is there again."""
    seen = []
    while len(seen) < most:
        driver.key(TAB)
        if seen and focus_of(driver) == seen[0]:
            return seen
        seen.append(focus_of(driver))
    raise AssertionError("Tab never comes round")


@pytest.mark.parametrize("window", SIZES, indirect=True, ids=["landscape", "portrait"])
def test_tab_comes_to_all_that_takes_a_touch(demo):
    """On every screen: what a finger can press or type in, Tab comes to, in sight and with a ring."""
    for name in ScreenName:
        screen = show(demo, name)
        by_arrows = (TallyBoard, CardOutline) if screen.takes_arrows else ()
        wanted = {one for one in touchable(screen) if not isinstance(one, by_arrows)}
        assert all(isinstance(one, Field) for one in wanted if isinstance(one, TextInput)), name
        seen = tabbed(demo)
        assert seen == spots_of(screen), name
        reached = {spot.widget for spot in seen}
        assert [one for one in wanted if not reached & set(one.walk(restrict=True))] == [], name
        for _ in seen:
            demo.key(TAB, modifiers=["shift"])
            demo.frames(1)
            assert_in_sight(demo, screen)


def assert_in_sight(driver, screen) -> None:
    """Fail when the ring is not round the spot in focus, or not on the screen."""
    ring = driver.app._focus._ring.place
    assert ring == focus_of(driver).place
    assert 0 <= ring.x + ring.width / 2 <= screen.width
    assert 0 <= ring.y + ring.height / 2 <= screen.height


def test_arrows_lead_everywhere_and_out_again(demo):
    """From the first and the last key the arrows alone reach every other: nowhere is a trap."""
    for name in ScreenName:
        screen = show(demo, name)
        if not screen.takes_arrows:
            spots = spots_of(screen)
            ways = {spot: arrows_from(demo, spot) for spot in spots}
            for start in (spots[0], spots[-1]):
                assert reached(ways, start) == set(spots), name


def arrows_from(driver, spot):
    """Return where the four arrows lead from a spot; a line that stands in a field keeps left and right."""
    found = set()
    for key in (UP, DOWN, RIGHT, LEFT):
        driver.app._focus._focus_on(spot)
        driver.key(key)
        found.add(focus_of(driver))
    return found


def reached(ways, start):
    """Return every spot to which a chain of ways leads."""
    found, new = {start}, {start}
    while new:
        new = {spot for one in new for spot in ways[one]} - found
        found |= new
    return found


def test_an_arrow_goes_where_it_points(demo):
    """On the roster the players stand in four columns: right is the next, down the one below."""
    screen = show(demo, ScreenName.PLAYERS)
    tiles = screen.ids.players.children[::-1]
    demo.app._focus._focus_on(next(spot for spot in spots_of(screen) if spot.widget is tiles[5]))
    for key, place in ((RIGHT, 6), (DOWN, 10), (LEFT, 9), (UP, 5), (UP, 1)):
        demo.key(key)
        assert focus_of(demo).widget is tiles[place]


# a screen, what is pressed on it, and what shows that it was
PRESSED = [
    (ScreenName.HOME, "Roster", lambda app: app.screens.current),
    (ScreenName.SETUP, "Left", lambda app: app.desk.tablet.hand),
    (ScreenName.TEAM, "7", lambda app: (app.screens.current, app.screen(ScreenName.PLAYER).number)),
    (ScreenName.PLAYER, "TrendChart", lambda app: app.screens.current_screen.why),
    (ScreenName.ROSTER, "7", lambda app: app.screens.current_screen.number),
    (ScreenName.FILE, "My folder", lambda app: app.screens.current_screen.folder),
    (ScreenName.PRACTICE, "Put tallies right", lambda app: app.screens.current),
    (ScreenName.CODE, "7", lambda app: app.screens.current_screen.typed),
]


@pytest.mark.parametrize(("name", "spot", "shows"), PRESSED, ids=[pressed[0] for pressed in PRESSED])
def test_enter_does_what_a_tap_does(start_demo, name, spot, shows):
    """The same key, row or chart is tapped and pressed, each in an app of its own: the same comes of it."""
    came = []
    for by_key in (False, True):
        driver = start_demo()
        driver.app.desk.keep(hand="right")
        screen = show(driver, name)
        before = shows(driver.app)
        press(driver, next(one for one in spots_of(screen) if spot in one.name), by_key)
        came.append(shows(driver.app))
        assert came[-1] != before
        driver.close()
    assert came[0] == came[1]


def press(driver, spot, by_key) -> None:
    """Press a spot by a key or by a finger."""
    driver.app._focus._focus_on(spot)
    if by_key:
        driver.key(ENTER)
    else:
        x, y, width, height = spot.place
        driver.tap((x + width / 2, y + height / 2))
    driver.settle()


def test_the_focus_outlives_what_is_filled_anew(demo):
    """Where the pressed key makes the screen anew, the keyboard is on the key of the same name."""
    show(demo, ScreenName.TALLIES)
    tabbed(demo)
    for _ in range(3):
        demo.key(TAB)
    before = focus_of(demo)
    demo.key(SPACE)
    demo.frames(6)
    after = focus_of(demo)
    assert after.widget is not before.widget
    assert after.name == before.name
    assert after.widget.active


def test_back_on_a_screen_the_keyboard_is_where_it_left(demo):
    """From home to the roster and back by Escape: Enter would lead to the roster again."""
    screen = show(demo, ScreenName.HOME)
    demo.app._focus._focus_on(next(spot for spot in spots_of(screen) if spot.name[1] == "Roster"))
    demo.key(ENTER)
    assert focus_of(demo) is None
    demo.key(ESCAPE)
    demo.frames(2)
    assert focus_of(demo).name[1] == "Roster"


def test_a_field_is_typed_in_and_left(demo):
    """Tab comes to the name, letters and spaces go into it, the arrow down and Escape lead out of it."""
    screen = show(demo, ScreenName.ROSTER)
    field = screen.ids.name
    while not field.focus:
        demo.key(TAB)
    for letter in "b o":
        demo.key(ord(letter), letter)
    assert field.text == "b o"
    demo.key(DOWN)
    assert not field.focus
    assert focus_of(demo).name == ("NumberButton", "2")
    demo.key(UP)
    assert field.focus
    demo.key(ESCAPE)
    assert not field.focus
    assert demo.app.screens.current == ScreenName.ROSTER


def test_escape_goes_back(demo):
    """Every screen behind the first is left by Escape, and what it asks first; the boards have no behind."""
    for name in ScreenName:
        if name not in (ScreenName.HOME, ScreenName.LOAN, ScreenName.BOARD):
            show(demo, name)
            demo.key(ESCAPE)
            assert demo.app.screens.current != name
