"""What is in sight stays where it is while parts above or below it grow, shrink or are made anew."""

from kivy.clock import Clock
from kivy.metrics import dp


class HeldPlace:
    """Keeps the distance of a scrolled view from the top of what it shows, in pixels."""

    def __init__(self, view, content):
        self._view, self._content = view, content
        self._from_top, self._held, self._shown = 0.0, False, None
        self._let_go = Clock.schedule_once(self._done, 0)
        view.bind(scroll_y=self._note)
        content.bind(height=self._apply)

    def to_top(self) -> None:
        """Show the top."""
        self._from_top, self._view.scroll_y = 0.0, 1

    def hold(self, shown=None) -> None:
        """Say that the content is made anew: what is measured of it in this frame and the next is passing.

        After that a part that is to be ``shown`` is brought in sight.
        """
        self._held, self._shown = True, shown
        self._let_go.cancel()
        self._let_go = Clock.schedule_once(lambda _: Clock.schedule_once(self._done, 0), 0)

    def _done(self, *_) -> None:
        self._apply()
        self._held = False
        if self._shown and self._room > 0 and self._shown.get_root_window():
            self._view.scroll_to(self._shown, dp(10), animate=False)
        self._shown = None

    @property
    def _room(self) -> float:
        return self._content.height - self._view.height

    def _note(self, *_) -> None:
        if not self._held:
            self._from_top = (1 - self._view.scroll_y) * max(self._room, 0)

    def _apply(self, *_) -> None:
        held, self._held = self._held, True
        self._view.scroll_y = max(0.0, 1 - self._from_top / self._room) if self._room > 0 else 1
        self._held = held
