"""The families in order of time: who came is ticked, two are swapped, one is locked, a cue card is opened."""

from functools import partial
from itertools import pairwise
from pathlib import Path
from uuid import UUID

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.meeting_evening import Evening
from evaltrack.rink.plain_text import capital
from evaltrack.rink.short_names import short_names
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.meetings.meeting_row import MeetingRow
from evaltrack.touch.meetings.meetings_in_hand import MeetingsInHand
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line
from evaltrack.words.meetings import GUIDANCE, clock_words, evening_words, slot_words, summary_words

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_HINT = mark("Tap a family for the coach's card. Swap on two of them changes them round.")
_OTHER = mark("Tap Swap on the other family.")
_NONE = mark("There is no evening yet. Change says when it is; then it is worked out.")


class MeetingsScreen(AppScreen):
    """Shows the evening in hand; ``on_card`` brings the player whose card is wanted.

    ``words`` say what to do next, or what became of a print; ``printing`` that it goes on.
    """

    __events__ = ("on_back", "on_ask", "on_card")
    heading = StringProperty("")
    summary = StringProperty("")
    words = StringProperty("")
    hint = StringProperty("")
    paper = StringProperty("letter")
    with_names = BooleanProperty(False)
    printing = BooleanProperty(False)
    has_evening = BooleanProperty(False)

    def __init__(self, desk: Desk, meetings: MeetingsInHand, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._meetings = meetings
        self._rows: dict[UUID, MeetingRow] = {}
        self._swapping: UUID | None = None

    def on_pre_enter(self, *_):
        """Read the evening again."""
        self.words, self.hint, self._swapping = "", tr(_HINT), None
        if self.desk.season:
            self._meetings.read()
            self._show()

    def _show(self) -> None:
        evening, body = self._meetings.evening, self.ids.body
        self.has_evening, self._rows = evening is not None, {}
        body.clear_widgets()
        if evening is None:
            self.heading, self.summary = tr("Meetings"), ""
            body.add_widget(Line(text=tr(_NONE)))
            return
        self.heading = capital(evening_words(evening))
        self._tell_summary(evening)
        body.add_widget(Line(text=summary_words(evening), soft=True))
        for words in self._meetings.remarks:
            body.add_widget(Line(text=words))
        for part in self._parts(evening):
            body.add_widget(part)
        body.add_widget(Heading(text=tr("At every meeting")))
        for words in GUIDANCE:
            body.add_widget(Line(text=tr(words), soft=True))

    def _parts(self, evening: Evening) -> list:
        """Return a row for each meeting, and a line for each break that lies between two."""
        ordered, made = evening.in_order(), []
        short = short_names(self.desk.player(player) for player in evening.slots)
        for (_, before), (player, slot) in pairwise([(None, None), *ordered]):
            for one in evening.breaks:
                if before and before.start < one.end <= slot.start:
                    pause = tr("{start}–{end}  Break", start=clock_words(one.start), end=clock_words(one.end))
                    made.append(Line(text=pause, soft=True))
            title = f"{slot_words(evening, slot)}    {self.desk.player(player).number} {short[player]}"
            made.append(self._row(player, title))
        return made

    def _row(self, player: UUID, title: str) -> MeetingRow:
        row = self._rows[player] = MeetingRow(title=title)
        row.bind(
            on_row=lambda _: self.dispatch("on_card", player),
            on_came=lambda _: self.tick(player),
            on_swap=lambda _: self.swap(player),
            on_lock=lambda _: self.lock(player),
        )
        self._mark(player)
        return row

    def _mark(self, player: UUID) -> None:
        """Have a row say what is true of its family now."""
        row, meetings = self._rows[player], self._meetings
        row.came, row.swapping = player in meetings.came, player == self._swapping
        row.locked = meetings.evening.slots[player].locked

    def _tell_summary(self, evening: Evening) -> None:
        came = len(self._meetings.came & evening.slots.keys())
        self.summary = tr_many(
            "{number} of {all} came", "{number} of {all} came", came, all=len(evening.slots)
        )

    def tick(self, player: UUID) -> None:
        """Note who came."""
        if self._meetings.tick(player):
            self._mark(player)
            self._tell_summary(self._meetings.evening)

    def lock(self, player: UUID) -> None:
        """Lock a family to its place, or let it go."""
        if self._meetings.lock(player):
            self._mark(player)

    def swap(self, player: UUID) -> None:
        """Take a family to be swapped, or swap it with the one that was taken before."""
        first, self._swapping = self._swapping, None
        if first is None:
            self._swapping, self.words = player, tr(_OTHER)
            self._mark(player)
            return
        self.words = ""
        if first == player:
            self._mark(player)
        elif self._meetings.swap(first, player):
            self._show()

    def turn_paper(self) -> None:
        """Take the other paper."""
        self.paper = "letter" if self.paper == "a4" else "a4"

    def turn_names(self) -> None:
        """Have first names in the calendar's titles, or numbers alone."""
        self.with_names = not self.with_names

    def print_out(self) -> None:
        """Print the list, the cards, the overview and the notes beside the season file."""
        self.printing, self.words = True, tr("The evening is being printed …")
        self._meetings.print_out(self.paper, self.with_names, partial(self._printed))

    def _printed(self, sentence: str) -> None:
        self.printing, self.words = False, sentence
