"""The calendar: ice times to come are typed in, read from a file, and taken out."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import StringProperty

from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.days import in_full
from evaltrack.rink.ice_time import LONGEST, SHORTEST, IceTime, in_order
from evaltrack.rink.plain_text import capital, one_line
from evaltrack.rink.practice import Surface
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets.field import Field  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import KeyedLine, Line, Option, keys_for
from evaltrack.touch.worker import tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.calendar import ice_words, read_words, when_words
from evaltrack.words.plan_card import ICE
from evaltrack.words.wording import clock_time, counted

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_LONGEST_PLACE = 100  # characters
_NONE = mark("No ice time is known yet. Add one above, or read a calendar.")


class CalendarScreen(AppScreen):
    """Shows the ice times from today on. ``words`` say what became of a file."""

    __events__ = ("on_back", "on_file")
    summary = StringProperty("")
    words = StringProperty("")
    day_words = StringProperty("")
    start_words = StringProperty("")
    minutes_words = StringProperty("")

    def __init__(self, desk: Desk, worker: Worker, today: Callable[[], date] = date.today, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._worker, self._today = worker, today
        self._draft = IceTime(today(), time(18))

    def on_pre_enter(self, *_):
        """Read the calendar again."""
        self.words = ""
        if self._draft.day < self._today():
            self._draft = replace(self._draft, day=self._today())
        self._show_draft()
        self._show()

    def _show(self) -> None:
        self.desk.told(self._fill)

    def _fill(self) -> None:
        entries = in_order(self.desk.season.calendar.all(), self._today())
        self.summary = tr_many("{number} ice time to come", "{number} ice times to come", len(entries))
        box = self.ids.entries
        box.clear_widgets()
        for entry in entries:
            line = KeyedLine(words=f"{capital(when_words(entry))}\n{ice_words(entry)}", title=tr("Take out"))
            line.bind(on_turn=lambda _, one=entry: self._drop(one))
            box.add_widget(line)
        if not entries:
            box.add_widget(Line(text=tr(_NONE)))

    def _show_draft(self) -> None:
        draft = self._draft
        self.day_words, self.start_words = (
            capital(in_full(draft.day)),
            tr("at {time}", time=clock_time(draft.start)),
        )
        self.minutes_words = counted(draft.minutes, "minute")
        options = [
            Option(tr(ICE[one]).capitalize(), "", partial(self._choose, one), one == draft.surface)
            for one in Surface
        ]
        self.ids.ice.clear_widgets()
        self.ids.ice.add_widget(keys_for(options, "220dp"))

    def _change(self, **changes) -> None:
        self._draft = replace(self._draft, **changes)
        self._show_draft()

    def _choose(self, surface: Surface) -> None:
        self._change(surface=surface)

    def move_day(self, by: int) -> None:
        """Take another day, not before today."""
        self._change(day=max(self._today(), self._draft.day + timedelta(by)))

    def move_start(self, by: int) -> None:
        """Start so many minutes later; round the clock."""
        start = datetime.combine(self._draft.day, self._draft.start) + timedelta(minutes=by)
        self._change(start=start.time())

    def change_minutes(self, by: int) -> None:
        """Make it longer or shorter."""
        self._change(minutes=max(SHORTEST, min(LONGEST, self._draft.minutes + by)))

    def add(self) -> None:
        """Keep the ice time, and begin one a week later."""
        place = one_line(" ".join(self.ids.place.text.split()))[:_LONGEST_PLACE].strip()
        entry = replace(self._draft, place=place)
        desk = self.desk
        if desk.save(lambda: desk.season.calendar.note([entry], desk.tablet.id, desk.now())):
            fresh = IceTime(entry.day + timedelta(7), entry.start, entry.minutes, surface=entry.surface)
            self._draft = fresh
            self._show_draft()
            self._show()

    def _drop(self, entry: IceTime) -> None:
        desk = self.desk
        if desk.save(lambda: desk.season.calendar.drop(entry, desk.tablet.id, desk.now())):
            self._show()

    def read(self, path: str) -> None:
        """Take in the ice times of a file."""
        self.words = tr("The calendar is being read …")
        self._worker.ask(partial(tasks.calendar_in, Path(path)), self._take, self._tell)

    def _tell(self, sentence: str) -> None:
        self.words = sentence

    def _take(self, found) -> None:
        desk, done = self.desk, []
        if desk.season and desk.save(lambda: done.append(self._write(found))):
            self.words = read_words(*done[0], found)
            self._show()

    def _write(self, found) -> tuple[int, int]:
        desk = self.desk
        return desk.season.calendar.take_in(found.entries, found.cancelled, desk.tablet.id, desk.now())
