"""A panel that reports one touch twice counts once; whatever a hand does counts as often as it did it.

Cases: the rule alone, for any taps and any way a panel reports them; the app with two real input devices.
"""

from time import monotonic

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kivy.base import EventLoop
from kivy.input.motionevent import MotionEvent
from kivy.input.provider import MotionEventProvider

from evaltrack.rink.tally import Outcome
from evaltrack.touch.input.one_touch import WINDOW, OneTouch

REACH = 24.0
DEVICES = ("panel", "mouse", "pen")


def count(reports, reach=REACH):
    """Return how many of these reports (x, y, device, moment) are touches, each answered at once."""
    one, new = OneTouch(reach), 0
    for x, y, device, moment in reports:
        new += one.is_new(x, y, device, moment)
        one.answered(moment)
    return new


@st.composite
def taps_of_a_hand(draw):
    """Return taps as (x, y, moment): on a grid of fingers' breadth, 80 ms or more apart at one place."""
    moment, taps = 0.0, []
    for _ in range(draw(st.integers(1, 12))):
        moment += draw(st.sampled_from((0.08, 0.1, 0.3)))
        taps.append((100.0 * draw(st.integers(0, 3)), 0.0, moment))
    return taps


@given(
    taps=taps_of_a_hand(),
    devices=st.integers(1, 3),
    late=st.floats(0, 0.019),
    shift=st.floats(-15, 15),
    first=st.permutations(DEVICES),
)
def test_every_tap_counts_once_however_many_devices_report_it(taps, devices, late, shift, first):
    """One, two or three reports of each tap, a little later and a little aside, are that many taps."""
    reports = [
        (x + shift * (turn > 0), y, device, moment + late * turn)
        for x, y, moment in taps
        for turn, device in enumerate(first[:devices])
    ]
    assert count(reports) == len(taps)


@given(
    places=st.lists(st.tuples(st.floats(0, 1000), st.floats(0, 1000)), min_size=1, max_size=10),
    gap=st.floats(0, 0.2),
)
def test_one_device_is_always_believed(places, gap):
    """Two fingers on one tile and taps faster than any hand count when one device reports them."""
    assert count([(x, y, "panel", n * gap) for n, (x, y) in enumerate(places)]) == len(places)


@given(distance=st.floats(REACH + 0.001, 2000), late=st.floats(0, 0.2))
def test_another_place_is_another_touch(distance, late):
    """Two devices that report two places have two fingers on them."""
    assert count([(0, 0, "panel", 1), (distance, 0, "mouse", 1 + late)]) == 2


@given(distance=st.floats(0, REACH), late=st.floats(0, 0.5))
def test_the_window_is_the_only_limit_at_one_place(distance, late):
    """At one place the second device's report is the same touch within the window, and a new one after."""
    again = count([(0, 0, "panel", 1), (0, distance, "mouse", 1 + late)])
    assert again == (1 if 1 + late < 1 + WINDOW else 2)


def test_two_taps_that_come_in_one_round_as_four_reports_are_two():
    """After a stall a double tap arrives at once, device by device or tap by tap: it is two taps."""
    for order in ("panel panel mouse mouse", "panel mouse panel mouse", "mouse panel panel mouse"):
        one = OneTouch(REACH)
        assert [one.is_new(0, 0, device, 1) for device in order.split()].count(True) == 2


def test_a_report_that_waited_for_the_disk_is_still_a_repeat():
    """The app was busy for a second with the first report; the second one was waiting all the time."""
    one = OneTouch(REACH)
    assert one.is_new(0, 0, "panel", 1.0)
    one.answered(2.0)
    assert not one.is_new(0, 0, "mouse", 2.0 + WINDOW / 2)
    assert one.is_new(0, 0, "mouse", 2.0 + WINDOW / 2)


class Device(MotionEventProvider):
    """An input device of Kivy's own kind, moved by the test."""

    def __init__(self, name):
        super().__init__(name, "")
        self._waiting, self._made = [], 0

    def update(self, dispatch_fn):
        while self._waiting:
            dispatch_fn(*self._waiting.pop(0))

    def down(self, x, y):
        self._made += 1
        touch = Report(self.device, self._made, (x, y), is_touch=True, type_id="touch")
        self._waiting.append(("begin", touch))
        return touch

    def up(self, touch):
        touch.update_time_end()
        self._waiting += [("update", touch), ("end", touch)]


class Report(MotionEvent):
    def depack(self, args):
        width, height = EventLoop.window.size
        self.sx, self.sy = args[0] / (width - 1), args[1] / (height - 1)
        self.profile = ["pos"]
        super().depack(args)


@pytest.fixture
def devices():
    """Return two devices that Kivy listens to."""
    both = Device("panel"), Device("mouse")
    for device in both:
        EventLoop.add_input_provider(device)
    yield both
    for device in both:
        EventLoop.remove_input_provider(device)


def spot(driver, place, outcome=Outcome.DONE):
    """Return a point within the half of a tile."""
    tile = driver.app.screens.current_screen.ids.board.layout.tile(place)
    return tile.x + tile.width * (0.75 if outcome is Outcome.DONE else 0.25), tile.y + tile.height / 2


def test_a_tap_that_two_devices_report_is_one_tally(bench, devices):
    """Both devices go down and up at one place: one tally, and no finger stays on the glass."""
    x, y = spot(bench, 3)
    touches = [device.down(x + n, y - n) for n, device in enumerate(devices)]
    bench.frames(1)
    for device, touch in zip(devices, touches, strict=True):
        device.up(touch)
    bench.frames(2)
    assert bench.app.desk.total == 1
    assert EventLoop.touches == []


def test_a_report_in_the_next_frame_is_the_same_tap(bench, devices):
    """The second device is a frame late, and the commit has come between: still one tally."""
    for device in devices:
        device.down(*spot(bench, 3))
        bench.frames(1)
    assert bench.app.desk.total == 1


def test_a_double_tap_that_two_devices_report_is_two_tallies(bench, devices):
    """Two quick taps, each reported twice, are two."""
    for _ in range(2):
        for device in devices:
            device.up(device.down(*spot(bench, 3)))
        bench.frames(1)
    assert bench.app.desk.total == 2


def test_a_later_tap_with_another_device_is_a_tally(bench, devices):
    """Once the window is over, a tap at the same place counts whatever reports it."""
    panel, mouse = devices
    panel.down(*spot(bench, 3))
    bench.frames(1)
    over = monotonic() + WINDOW + 0.001
    bench.wait(lambda: monotonic() > over)
    mouse.down(*spot(bench, 3))
    bench.frames(1)
    assert bench.app.desk.total == 2


def test_two_fingers_count_twice_on_one_tile_and_on_two(bench, devices):
    """One device with two fingers on one tile, and two devices on two tiles: four tallies."""
    panel, mouse = devices
    panel.down(*spot(bench, 3))
    panel.down(*spot(bench, 3))
    panel.down(*spot(bench, 4))
    mouse.down(*spot(bench, 5))
    bench.frames(1)
    assert bench.app.desk.total == 4


def test_undo_that_two_devices_report_takes_back_one(bench, devices):
    """The rule holds for every button, or one press of undo would take back two tallies."""
    for place in (1, 2, 3):
        bench.tap(spot(bench, place))
    screen = bench.app.screens.current_screen
    (undo,) = [w for w in screen.walk() if getattr(w, "title", None) == "Undo"]
    for device in devices:
        device.down(*undo.to_window(*undo.center))
    bench.frames(2)
    assert bench.app.desk.total == 2
