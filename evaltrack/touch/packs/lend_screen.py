"""A season is lent to a second tablet: which names go along, until when, and where the file goes."""

from datetime import date, timedelta
from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import tr
from evaltrack.rink.days import in_full
from evaltrack.rink.loan import MOST_DAYS, USUAL_DAYS, LentNames
from evaltrack.rink.plain_text import capital
from evaltrack.rink.practice import local_day
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line, Option, keys_for
from evaltrack.touch.widgets.stepper import Stepper
from evaltrack.touch.worker import pack_tasks
from evaltrack.touch.worker.worker import Worker

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class LendScreen(AppScreen):
    """Chooses, and asks with ``on_folder`` where the loan goes. ``words`` say what became of it."""

    __events__ = ("on_back", "on_folder")
    summary = StringProperty("")
    words = StringProperty("")
    busy = BooleanProperty(False)

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._worker = worker
        self._names, self._days = LentNames.FIRST, USUAL_DAYS

    def on_pre_enter(self, *_):
        """Begin anew, but for what was chosen."""
        if not self.busy:
            self.words = ""
            self.desk.told(self.show)

    @property
    def last_day(self) -> date:
        """Return the last day of the loan, as chosen."""
        return (local_day(self.desk.now()) or date.today()) + timedelta(self._days)

    def show(self) -> None:
        """Show what goes along and until when."""
        self.summary = self.desk.team_words()
        body = self.ids.body
        body.clear_widgets()
        body.add_widget(Heading(text=tr("What the second tablet knows of the players")))
        body.add_widget(keys_for(map(self._names_key, LentNames), "260sp"))
        body.add_widget(Heading(text=tr("The last day")))
        body.add_widget(keys_for([self._days_key(0), self._days_key(USUAL_DAYS)], "260sp"))
        stepper = Stepper(words=capital(in_full(self.last_day)))
        stepper.bind(on_turn=lambda _, by: self._move(int(by)))
        body.add_widget(stepper)
        body.add_widget(Line(text=_without(), soft=True))
        write = Option(tr("Write the loan"), tr("into a folder, such as a stick"), self._to_folder, True)
        body.add_widget(keys_for([write], "300sp", large=True))

    def _names_key(self, names: LentNames) -> Option:
        title, small = {
            LentNames.FIRST: (tr("First names and numbers"), tr("no surname goes along")),
            LentNames.NONE: (tr("Numbers alone"), tr("no name goes along")),
        }[names]
        return Option(title, small, partial(self._choose, names), names is self._names)

    def _days_key(self, days: int) -> Option:
        title = tr("In 7 days") if days else tr("Tonight")
        day = (local_day(self.desk.now()) or date.today()) + timedelta(days)
        return Option(title, in_full(day), partial(self._choose_days, days), days == self._days)

    def _choose(self, names: LentNames) -> None:
        self._names = names
        self.show()

    def _choose_days(self, days: int) -> None:
        self._days = days
        self.show()

    def _move(self, days: int) -> None:
        self._choose_days(min(max(self._days + days, 0), MOST_DAYS))

    def _to_folder(self) -> None:
        self.dispatch("on_folder")

    def lend_into(self, folder: str) -> None:
        """Write the loan into a folder."""
        self.busy, self.words = True, tr("One moment …")
        path = self.desk.season.path.resolve()
        work = partial(pack_tasks.lend, path, Path(folder), self._names.value, self.last_day)
        self._worker.ask(work, self._done, self._done)

    def _done(self, sentence: str) -> None:
        self.busy, self.words = False, sentence


def _without() -> str:
    return tr(
        "Skills, drills and the practice that runs go along. No tally of before, no page of a family, no "
        "comment, meeting or plan does. After the last day it takes no tallies. Whoever copies the file "
        "while it lasts has what is in it."
    )
