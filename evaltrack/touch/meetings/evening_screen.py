"""What an evening of meetings is to be: day, start, minutes, tables, a break, the end, and the wishes."""

from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.days import in_full
from evaltrack.rink.meeting_evening import Break, minute_of, place_words
from evaltrack.rink.plain_text import capital
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.meetings.meetings_in_hand import MeetingsInHand
from evaltrack.touch.widgets.field import Field  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, KeyedLine, Line, Option, keys_for
from evaltrack.words.meetings import clock_words, evening_words, summary_words, wish_words
from evaltrack.words.wording import counted

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_NO_WISH = mark(
    "No wish yet. Brothers and sisters go one straight after the other once you say who they are."
)


class EveningScreen(AppScreen):
    """Asks, and has the evening worked out: ``waiting`` while that goes on, ``words`` say why it failed."""

    __events__ = ("on_back", "on_wish", "on_evening")
    summary = StringProperty("")
    words = StringProperty("")
    stays = StringProperty("")
    day_words = StringProperty("")
    start_words = StringProperty("")
    minutes_words = StringProperty("")
    tables_words = StringProperty("")
    break_words = StringProperty("")
    break_at_words = StringProperty("")
    end_words = StringProperty("")
    waiting = BooleanProperty(False)
    has_evening = BooleanProperty(False)

    def __init__(self, desk: Desk, meetings: MeetingsInHand, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._meetings = meetings

    def on_pre_enter(self, *_):
        """Show what was asked for last."""
        self.words = ""
        if self.desk.season:
            self._meetings.read()
            self.ids.place.text = self._meetings.wanted.place
            self._show()

    def _show(self) -> None:
        wanted, evening = self._meetings.wanted, self._meetings.evening
        self.has_evening = evening is not None and wanted.key == evening.key
        locked = any(slot.locked for slot in wanted.slots.values())
        self.stays = tr("who is locked stays") if locked else ""
        self.day_words = capital(in_full(wanted.day))
        self.start_words = tr("from {time}", time=clock_words(wanted.start))
        self.minutes_words = tr("{minutes} minutes each", minutes=wanted.minutes)
        self.tables_words = counted(wanted.tables, "table")
        pause = wanted.breaks[0] if wanted.breaks else None
        self.break_words = (
            tr("a break of {minutes} minutes", minutes=_minutes(pause)) if pause else tr("no break")
        )
        self.break_at_words = tr("the break is at {time}", time=clock_words(pause.start)) if pause else ""
        self.end_words = (
            tr("over by {time}", time=clock_words(wanted.until))
            if wanted.until
            else tr("as long as it takes")
        )
        self.summary = counted(len(self._meetings.families), "family", "families")
        self._show_wishes()
        self._show_others()

    def _show_wishes(self) -> None:
        box, labels = self.ids.wishes, self._meetings.labels
        box.clear_widgets()
        for wish in self._meetings.wanted.wishes:
            line = KeyedLine(words=wish_words(wish, labels), title=tr("Take out"))
            line.bind(on_turn=lambda _, one=wish: self._drop(one))
            box.add_widget(line)
        if not self._meetings.wanted.wishes:
            box.add_widget(Line(text=tr(_NO_WISH), soft=True))

    def _show_others(self) -> None:
        """Offer the other evenings of the season."""
        box, others = self.ids.others, self._meetings.others
        box.clear_widgets()
        if others:
            options = [
                Option(capital(evening_words(one)), summary_words(one), partial(self._open, one))
                for one in others
            ]
            box.add_widget(Heading(text=tr("Other evenings")))
            box.add_widget(keys_for(options, "380sp"))

    def _open(self, evening) -> None:
        self._meetings.open(evening)
        self.dispatch("on_evening")

    def _drop(self, wish) -> None:
        self._meetings.drop_wish(wish)
        self._show()

    def move(self, what: str, by: int) -> None:
        """Change one of the numbers; ``what`` names it."""
        acts = {
            "day": self._meetings.move_day,
            "start": self._meetings.move_start,
            "minutes": self._meetings.change_minutes,
            "tables": self._meetings.change_tables,
            "break": self._meetings.change_break,
            "break_at": self._meetings.move_break,
            "end": self._meetings.move_end,
        }
        acts[what](by)
        self._show()

    def begin_anew(self) -> None:
        """Ask for another evening."""
        self._meetings.begin_anew()
        self.ids.place.text = ""
        self._show()

    def take_place(self) -> None:
        """Take what was typed of the place."""
        self._meetings.want_place(place_words(self.ids.place.text))

    def to_wish(self) -> None:
        """Go and say a wish."""
        self.take_place()
        self.dispatch("on_wish")

    def work_out(self) -> None:
        """Have the evening worked out, and show it."""
        self.take_place()
        self.words, self.waiting = "", True
        self._meetings.work_out(self._done, self._failed)

    def _done(self) -> None:
        self.waiting = False
        if self.manager.current == self.name:
            self.dispatch("on_evening")

    def _failed(self, sentence: str) -> None:
        self.waiting, self.words = (
            False,
            tr("The evening could not be worked out: {sentence}.", sentence=sentence),
        )


def _minutes(pause: Break) -> int:
    return minute_of(pause.end) - minute_of(pause.start)
