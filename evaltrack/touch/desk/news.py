"""What the desk has told goes with the screen on which it was read: on the next one it is about nothing."""

from kivy.clock import Clock

from evaltrack.language import tr
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.desk.season_in_hand import NOT_WHOLE


class News:
    """Lets the desk's ``message`` and ``ended`` go when the screen that shows them is left.

    What an act told that leads to another screen goes along with it, and so does what still holds.
    """

    def __init__(self, desk: Desk):
        self._desk = desk
        self._told_in = 0  # the frame of the latest news
        desk.bind(message=self._note, ended=self._note)

    def _note(self, *_) -> None:
        self._told_in = Clock.frames

    def leave(self, screen, name: str) -> None:
        """Forget what a screen tells, which is left for the one of this name."""
        if screen is None or screen.name == name or Clock.frames - self._told_in <= 1:
            return  # some acts lead on in the frame after the one in which they tell
        desk = self._desk
        if desk.message and not self._holds() and screen.tells(desk.message):
            desk.message = ""
        if desk.ended and screen.tells(desk.ended):
            desk.ended = ""

    def _holds(self) -> bool:
        """Say whether what is told is still so: a file that was refused, is gone, or is not whole alone."""
        desk = self._desk
        gone = bool(desk.season and desk.season.may_return)
        return gone or desk.refused is not None or desk.message == tr(NOT_WHOLE)
