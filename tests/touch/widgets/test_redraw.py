"""What widgets have in common: drawing themselves, knowing how they lie, telling others of events."""

import gc
import weakref

import pytest
from driver import Driver
from kivy.app import App
from kivy.event import EventDispatcher
from kivy.graphics import Color
from kivy.properties import NumericProperty
from kivy.uix.widget import Widget
from kivy.weakmethod import WeakMethod

from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.palette import DARK, LIGHT
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.screen import Landscape
from evaltrack.touch.widgets.theme import theme


class Counted(Drawn):
    """Counts how often it is drawn."""

    shows = ("amount",)
    amount = NumericProperty(0)
    other = NumericProperty(0)

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.times = 0

    def draw(self, group):
        self.times += 1
        group.add(Color(*theme.palette.ink))


class Door(EventSource, EventDispatcher):
    """Has an event of which only others take notice, and one that it answers itself."""

    __events__ = ("on_knock", "on_ring")
    rung = 0

    def on_ring(self):
        self.rung += 1


class BackDoor(Door):
    """Has one more event."""

    __events__ = ("on_delivery",)


class Shape(Landscape, Widget):
    """A widget that knows how it lies."""


@pytest.fixture
def counted():
    driver = Driver(App())
    widget = Counted(size=(200, 100))
    driver.frames(2)
    widget.times = 0
    yield driver, widget
    theme.use(dark=False)
    driver.close()


@pytest.mark.parametrize(
    "change",
    [{"amount": 3}, {"pos": (5, 5)}, {"size": (50, 60)}, {"amount": 4, "x": 9, "height": 7}],
    ids=lambda change: "+".join(change),
)
def test_a_widget_is_drawn_once_for_all_changes_of_a_frame(counted, change):
    driver, widget = counted
    for name, value in change.items():
        setattr(widget, name, value)
    assert widget.times == 0
    driver.frames(2)
    assert widget.times == 1


def test_a_widget_is_not_drawn_for_what_it_does_not_show(counted):
    driver, widget = counted
    widget.other = 1
    driver.frames(2)
    assert widget.times == 0


def test_a_widget_follows_the_palette_and_leaves_nothing_of_the_old_one(counted):
    driver, widget = counted
    for dark, palette in ((True, DARK), (False, LIGHT)):
        theme.use(dark)
        driver.frames(2)
        (group,) = widget.canvas.children
        assert [tuple(part.rgba) for part in group.children] == [palette.ink]


def test_the_palette_keeps_no_widget_that_nobody_uses_any_more(counted):
    """Charts are made and dropped all season; the palette in force outlives them all."""
    driver, _ = counted
    gone = Counted()
    driver.frames(2)
    known = weakref.ref(gone)
    del gone
    driver.frames(2)
    gc.collect()
    assert known() is None


def test_an_event_without_a_handler_reaches_whoever_listens():
    door, heard = BackDoor(), []
    door.bind(on_knock=lambda _, who: heard.append(who), on_delivery=lambda _: heard.append("a parcel"))
    door.dispatch("on_knock", "Ines")
    door.dispatch("on_delivery")
    assert heard == ["Ines", "a parcel"]


def test_a_handler_of_the_class_is_kept():
    door = BackDoor()
    door.dispatch("on_ring")
    assert door.rung == 1


def test_a_widget_that_is_turned_says_so_once():
    shape, told = Shape(size=(800, 600)), []
    assert shape.landscape
    shape.bind(landscape=lambda _, landscape: told.append(landscape))
    shape.size = (700, 600)
    shape.size = (600, 800)
    shape.size = (600, 900)
    assert told == [False]
    assert not shape.landscape
    shape.size = (600, 600)
    assert not shape.landscape


def test_a_new_widget_is_not_held_against_all_that_ever_were(counted):
    """None is bound to the palette by itself: binding compares with every one that is bound, the dead too."""
    made = [Counted() for _ in range(3)]
    bound = [one() for one in theme.get_property_observers("palette") if isinstance(one, WeakMethod)]
    assert not any(getattr(method, "__self__", None) in made for method in bound)
