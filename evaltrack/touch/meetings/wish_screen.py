"""A wish for a meeting: whose family, what is wished, and the time, the table or the other family."""

from functools import partial
from pathlib import Path
from uuid import UUID

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.meeting_evening import OF_A_TIME, OF_ANOTHER, MeetingWish, MeetingWishKind
from evaltrack.rink.meeting_times import starts_of
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.meetings.meetings_in_hand import MeetingsInHand
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Option, keys_for
from evaltrack.words.meetings import clock_words, wish_words

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_KINDS = {
    MeetingWishKind.NOT_BEFORE: (mark("Not before"), mark("begins then or later")),
    MeetingWishKind.NOT_AFTER: (mark("Not after"), mark("is over by then")),
    MeetingWishKind.AT: (mark("At"), mark("begins just then")),
    MeetingWishKind.TABLE: (mark("Table"), mark("with these coaches")),
    MeetingWishKind.SIBLING: (mark("Brother or sister"), mark("straight after each other")),
    MeetingWishKind.NOT_WITH: (mark("Not with"), mark("not at the same time")),
    MeetingWishKind.NOT_COMING: (mark("Not coming"), mark("has no meeting")),
}
_ASKS = {
    **dict.fromkeys(OF_A_TIME, mark("Which time?")),
    **dict.fromkeys(OF_ANOTHER, mark("Which other family?")),
    MeetingWishKind.TABLE: mark("Which table?"),
}
_WHOSE, _WHAT = mark("Whose family?"), mark("What is wished?")
_MOST_TIMES = 24
_THERE = mark("That is wished already.")


class WishScreen(AppScreen):
    """``said`` is the wish in words as far as it is said; ``ready`` that nothing is missing."""

    __events__ = ("on_back", "on_done")
    said = StringProperty("")
    words = StringProperty("")
    ready = BooleanProperty(False)

    def __init__(self, desk: Desk, meetings: MeetingsInHand, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._meetings = meetings
        self._player: UUID | None = None
        self._kind: MeetingWishKind | None = None
        self._value: dict = {}

    def on_pre_enter(self, *_):
        """Begin a wish."""
        self.words, self._player, self._kind, self._value = "", None, None, {}
        self.ids.view.scroll_y = 1
        if self.desk.season:
            self._show()

    def _show(self) -> None:
        wish = self._wish()
        self.ready = wish is not None
        self.said = wish_words(wish, self._meetings.labels) if wish else self._next_question()
        self._fill(self.ids.players, [self._player_key(one) for one in self._meetings.families])
        kinds = [
            Option(tr(title), tr(small), partial(self._choose_kind, kind), kind is self._kind)
            for kind, (title, small) in _KINDS.items()
        ]
        self._fill(self.ids.kinds, kinds, "200sp")
        values, asked = self._values(), tr(_ASKS.get(self._kind, ""))
        self.ids.asked.text = asked
        self._fill(self.ids.given, values, "104sp" if self._kind in OF_A_TIME else "168sp")

    def _next_question(self) -> str:
        """Return what is to be tapped next: it may stand below what is in sight."""
        if self._player is None:
            return tr(_WHOSE)
        return tr(_WHAT if self._kind is None else _ASKS[self._kind])

    def _fill(self, box, options: list[Option], wide: str = "168sp") -> None:
        box.clear_widgets()
        if options:
            box.add_widget(keys_for(options, wide))

    def _player_key(self, player) -> Option:
        act = partial(self._choose_player, player.id)
        return Option(f"{player.number}  {player.name}", "", act, player.id == self._player)

    def _values(self) -> list[Option]:
        """Return the keys for the value that the kind has."""
        if self._kind in OF_A_TIME:
            evening = self._meetings.wanted
            starts = list(starts_of(evening))[:_MOST_TIMES]
            if self._kind is MeetingWishKind.NOT_AFTER:
                starts = [evening.end_of(one) for one in starts]
            return [self._value_key(clock_words(one), {"at": one}) for one in starts]
        if self._kind is MeetingWishKind.TABLE:
            tables = range(1, self._meetings.wanted.tables + 1)
            return [self._value_key(tr("Table {number}", number=one), {"table": one}) for one in tables]
        if self._kind in OF_ANOTHER:
            others = [one for one in self._meetings.families if one.id != self._player]
            return [self._value_key(f"{one.number}  {one.name}", {"other": one.id}) for one in others]
        return []

    def _value_key(self, title: str, value: dict) -> Option:
        return Option(title, "", partial(self._choose_value, value), value == self._value)

    def _choose_player(self, player: UUID) -> None:
        self._player = player
        if self._value.get("other") == player:
            self._value = {}
        self._show()

    def _choose_kind(self, kind: MeetingWishKind) -> None:
        self._kind, self._value = kind, {}
        self._show()

    def _choose_value(self, value: dict) -> None:
        self._value = value
        self._show()

    def _wish(self) -> MeetingWish | None:
        """Return the wish; None while something is missing."""
        if self._player is None or self._kind is None or (self._kind in _ASKS and not self._value):
            return None
        return MeetingWish(self._kind, self._player, **self._value)

    def keep(self) -> None:
        """Keep the wish, and go back to the evening."""
        if self._meetings.add_wish(self._wish()):
            self.dispatch("on_done")
        else:
            self.words = tr(_THERE)
