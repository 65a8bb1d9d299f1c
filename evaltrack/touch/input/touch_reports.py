"""What comes from Kivy's input devices, without the second report of one and the same touch."""

from time import monotonic

from kivy.base import EventLoop
from kivy.clock import Clock
from kivy.metrics import dp

from evaltrack.touch.input.one_touch import OneTouch
from evaltrack.touch.widgets.button import is_finger

_REACH = 24  # dp, some 4 mm: less than two fingers side by side, more than two devices differ


class TouchReports:
    """Stands between the devices and the screens, as the last of Kivy's steps for input."""

    def __init__(self):
        self._one = OneTouch(_REACH)
        self._repeats: list = []
        self._answered = Clock.create_trigger(lambda _: self._one.answered(monotonic()), -1)

    def listen(self) -> None:
        """Take every report from now on."""
        EventLoop.add_postproc_module(self)

    def leave(self) -> None:
        """Let all reports pass again."""
        EventLoop.remove_postproc_module(self)

    def process(self, events: list) -> list:
        """Return the events of one round without those of repeats, from touch down to lifting."""
        moment = monotonic()
        return [event for event in events if self._passes(*event, moment)]

    def _passes(self, kind: str, touch, moment: float) -> bool:
        if kind == "begin" and touch.is_touch and is_finger(touch):
            return self._is_new(touch, moment)
        repeat = any(touch is known for known in self._repeats)
        if repeat and kind == "end":
            self._repeats = [known for known in self._repeats if known is not touch]
        return not repeat

    def _is_new(self, touch, moment: float) -> bool:
        width, height = EventLoop.window.size
        new = self._one.is_new(touch.sx * width / dp(1), touch.sy * height / dp(1), touch.device, moment)
        if new:
            self._answered()
        else:
            self._repeats.append(touch)
        return new
