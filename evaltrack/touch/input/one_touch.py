"""Which reports of a touch panel are touches, and which repeat one that another device has reported.

Some panels reach the app twice: as a touch device, and as the mouse that the system makes of it. Pure: it
knows places, devices and moments, and nothing of a window.
"""

from math import hypot

WINDOW = 0.060  # seconds; nobody lifts a finger and taps again within it


class OneTouch:
    """Tells a touch from a second report of the same touch.

    A report repeats a touch when it comes from another device, from the same place, and in time. A device
    reports one touch once, so each touch takes at most one repeat from each other device: a quick double
    tap that comes as four reports is two.

    Parameters
    ----------
    reach : how far apart two reports of one touch may lie, in the unit of the places.
    """

    def __init__(self, reach: float):
        self._reach = reach
        self._touches: list[_Touch] = []

    def is_new(self, x: float, y: float, device: str, moment: float) -> bool:
        """Say whether a report is a touch of its own; ``moment`` in seconds, never running backwards."""
        self._touches = [touch for touch in self._touches if touch.is_open(moment)]
        for touch in self._touches:
            if device not in touch.devices and hypot(x - touch.x, y - touch.y) <= self._reach:
                touch.devices.add(device)
                return False
        self._touches.append(_Touch(x, y, device))
        return True

    def answered(self, moment: float) -> None:
        """Note that all reports so far have been acted upon.

        Their window begins now and not earlier: while the app waits for the disk it hears nothing, and the
        second report of a touch waits with it.
        """
        for touch in self._touches:
            if touch.until is None:
                touch.until = moment + WINDOW


class _Touch:
    def __init__(self, x: float, y: float, device: str):
        self.x, self.y = x, y
        self.devices = {device}
        self.until: float | None = None  # not answered yet

    def is_open(self, moment: float) -> bool:
        return self.until is None or moment < self.until
