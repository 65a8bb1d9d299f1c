"""Keeps a dp at its real size on a measured screen, before widgets are made and whenever the window turns."""

from kivy.core.window import Window
from kivy.metrics import Metrics

from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.tablet.real_size import density_for, nominal


class Scale:
    """Sets Kivy's density from what a bank card showed; what the system says stays known beside it."""

    def __init__(self, desk: Desk):
        self._desk = desk
        self._system = Metrics.density

    def density(self, px_per_mm: float) -> float:
        """Return the pixels of a dp that a measured screen has in this window."""
        return density_for(self._system, px_per_mm, min(Window.size))

    def follow(self, *_) -> None:
        """Give the dp its size by the tablet's settings, now and after each change of the window."""
        measured = self._desk.tablet.px_per_mm
        wanted = self.density(measured) if measured else self._system
        if wanted != Metrics.density:
            Metrics.density = wanted
        Window.unbind(size=self.follow)
        if measured:
            Window.bind(size=self.follow)

    def leave(self) -> None:
        """Give the dp back to the system."""
        Window.unbind(size=self.follow)
        if self._system != Metrics.density:
            Metrics.density = self._system


def px_per_mm(desk: Desk) -> float:
    """Return the pixels of a millimetre: measured with a card, or else as the screen claims."""
    return desk.tablet.px_per_mm or nominal(Metrics.dpi)
