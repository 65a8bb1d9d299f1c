"""How one comes to the hand-over and away from it; it is made when somebody first asks for it."""

from functools import cached_property, partial

from evaltrack.device.handover.course import Stage
from evaltrack.language import mark, tr

_NAME, _BENCH = "handover", ("board", "start")
_LEFT = mark("The other tablet has ended it: each of the two notes alone now.")


class HandoverScreens:
    """A part of the app."""

    @cached_property
    def handover(self):
        """Return the hand-over in hand, which ends when its screen is left for anything but the bench."""
        from evaltrack.touch.handover.handover_in_hand import HandoverInHand

        hand = HandoverInHand(self.desk)
        hand.bind(running=self._tell_handover_ended)
        self.screens.bind(current=self._leave_handover)
        return hand

    def _make_handover(self):
        from evaltrack.touch.handover.handover_screen import HandoverScreen

        screen = HandoverScreen(name=_NAME, desk=self.desk, hand=self.handover)
        screen.bind(on_back=partial(self.go, "home"), on_board=self._to_practice)
        return screen

    def _leave_handover(self, _, name: str) -> None:
        hand = self.handover
        together = hand.running and hand.course and hand.course.stage is Stage.TOGETHER
        if name != _NAME and not (together and name in _BENCH):
            hand.leave()

    def _tell_handover_ended(self, hand, running: bool) -> None:
        if running:
            self.desk.apart = False
        elif hand.course and self.screens.current in _BENCH:
            # whoever taps on must know that they are alone again; the next tap lets the message go
            self.desk.apart = self.desk.practice is not None
            if hand.trouble or hand.course.stage is Stage.ENDED:
                self.desk.message = hand.trouble or tr(_LEFT)
