"""How home leads to the meetings with the families, and these to cards and wishes; each when asked for."""

from functools import cached_property, partial
from uuid import UUID

_LIST, _EVENING, _WISH, _CARD = "meetings", "evening", "meeting_wish", "cue_card"


class MeetingsScreens:
    """A part of the app."""

    @cached_property
    def meetings_in_hand(self):
        """Return the evening that is made and changed, and what is asked of it."""
        from evaltrack.touch.meetings.meetings_in_hand import MeetingsInHand

        return MeetingsInHand(self.desk, self.worker)

    def _make_meetings(self):
        from evaltrack.touch.meetings.meetings_screen import MeetingsScreen

        screen = MeetingsScreen(name=_LIST, desk=self.desk, meetings=self.meetings_in_hand)
        screen.bind(
            on_back=partial(self.go, "home"), on_ask=partial(self.go, _EVENING), on_card=self._to_cue_card
        )
        return screen

    def _make_evening(self):
        from evaltrack.touch.meetings.evening_screen import EveningScreen

        screen = EveningScreen(name=_EVENING, desk=self.desk, meetings=self.meetings_in_hand)
        screen.bind(
            on_back=self._from_evening, on_wish=partial(self.go, _WISH), on_evening=partial(self.go, _LIST)
        )
        return screen

    def _make_meeting_wish(self):
        from evaltrack.touch.meetings.wish_screen import WishScreen

        screen = WishScreen(name=_WISH, desk=self.desk, meetings=self.meetings_in_hand)
        to_evening = partial(self.go, _EVENING)
        screen.bind(on_back=to_evening, on_done=to_evening)
        return screen

    def _make_cue_card(self):
        from evaltrack.touch.meetings.cue_screen import CueScreen

        screen = CueScreen(name=_CARD, desk=self.desk, review=self.review, meetings=self.meetings_in_hand)
        screen.bind(on_back=partial(self.go, _LIST), on_charts=self._to_player, on_page=self._to_note)
        return screen

    def _to_meetings(self, *_) -> None:
        """Show the evening that is kept, or else ask what it is to be."""
        self.meetings_in_hand.read()
        self.go(_LIST if self.meetings_in_hand.evening else _EVENING)

    def _from_evening(self, *_) -> None:
        self.go(_LIST if self.meetings_in_hand.evening else "home")

    def _to_cue_card(self, _, player: UUID) -> None:
        self.screen(_CARD).player = player
        self.go(_CARD)
