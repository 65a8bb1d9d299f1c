"""The end of the season in hand: until when its names are kept, and what is to be done by then."""

from collections.abc import Callable
from datetime import timedelta
from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.device.season_places import parents_folder
from evaltrack.device.tablet import load_tablet
from evaltrack.language import mark, tr
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line, Option, answers_for, keys_for
from evaltrack.touch.worker import closing_tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.closing import FIRST
from evaltrack.words.season_life import closed_words, keep_words

_WHAT = mark(
    "One step lets every name go: of players, observers and families, from the season file and from this"
    " tablet. The team’s counts stay, as nobody’s."
)
_RUNS = mark("A practice runs. End it first, then close the season.")

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class SeasonEndScreen(AppScreen):
    """Shows how long names are kept, and changes it. ``words`` say what became of an act.

    ``busy`` says that something is done beside the app from which nobody may walk away.
    """

    __events__ = ("on_back", "on_next_season")
    summary = StringProperty("")
    words = StringProperty("")
    busy = BooleanProperty(False)

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._worker = worker
        self._asked: tuple[list[str], list[str]] | None = None  # what would go, while it is asked about
        self._told: list[str] = []  # what went, and whom to ask

    def on_pre_enter(self, *_):
        """Look again what is kept."""
        if not self.busy:
            self.words, self._asked, self._told = "", None, []
            self.show()

    def show(self) -> None:
        """Show what there is to do."""
        self.ids.body.clear_widgets()
        if self.desk.season is None:
            self.summary = ""
            return
        self.summary = self.desk.team_words()
        self.desk.told(self._show)

    def _show(self) -> None:
        life, add = self.desk.season.life, self.ids.body.add_widget
        if closed := life.closed():
            if self._told:
                add(Heading(text=tr("The receipt")))
            for sentence in self._told or [closed_words(closed)]:
                add(Line(text=sentence))
            return
        if self._asked:
            self._show_question(*self._asked)
            return
        add(Heading(text=tr("How long names are kept")))
        add(Line(text=keep_words(life.retention())))
        add(Line(text=tr("The app reminds two weeks before. Nothing goes by itself."), soft=True))
        add(keys_for(self._days(), wide="150sp"))
        add(Heading(text=tr("Before the names go")))
        add(Line(text=tr(FIRST)))
        add(keys_for(self._before()))
        add(Heading(text=tr("Close the season")))
        add(Line(text=tr(_WHAT)))
        add(keys_for([Option(tr("See what would go"), tr("nothing is changed yet"), self.ask)]))

    def _before(self) -> list[Option]:
        return [
            Option(tr("Copies for parents"), tr("a folder for each child"), self.copy_for_parents),
            Option(tr("Next season"), tr("who comes along"), partial(self.dispatch, "on_next_season")),
        ]

    def _show_question(self, what: list[str], files: list[str]) -> None:
        add = self.ids.body.add_widget
        add(Heading(text=tr("Close this season for good?")))
        for sentence in what:
            add(Line(text=sentence))
        leave = Option(tr("Leave it"), tr("nothing is changed"), self.leave)
        add(answers_for(leave, Option(tr("Close the season"), tr("the names go for good"), self.close)))
        for sentence in files:
            add(Line(text=sentence, soft=True))

    def _days(self) -> list[Option]:
        weeks = (
            (tr("4 weeks earlier"), -4),
            (tr("A week earlier"), -1),
            (tr("A week later"), 1),
            (tr("4 weeks later"), 4),
        )
        return [Option(title, "", partial(self.move, count)) for title, count in weeks]

    def move(self, weeks: int) -> None:
        """Keep the names so many weeks longer."""
        life = self.desk.season.life
        self.words = ""
        found = []
        if self.desk.told(lambda: found.append(life.retention().until + timedelta(weeks=weeks))):
            self.desk.save(lambda: life.keep_until(found[0], self.desk.tablet.id))
        self.show()

    def copy_for_parents(self) -> None:
        """Write what is kept of each child into a folder of its own."""
        path = self.desk.season.path.resolve()
        self._do(partial(closing_tasks.copies_for_parents, path, parents_folder(path)), self._done)

    def ask(self) -> None:
        """Say what would go, and ask whether it is to."""
        if self.desk.practice:
            self.words = tr(_RUNS)
        else:
            self._alone(closing_tasks.would_close, self._question)

    def leave(self) -> None:
        """Leave the season as it is."""
        self._asked = None
        self.show()

    def close(self) -> None:
        """Let the names go for good."""
        self._asked = None
        self._alone(closing_tasks.close, self._closed)

    def _question(self, asked: tuple[list[str], list[str]]) -> None:
        self._asked = asked
        self._done("")
        self.ids.view.scroll_y = 1

    def _closed(self, lines: list[str]) -> None:
        self._told = lines
        self._done("")
        self.ids.view.scroll_y = 1

    def _alone(self, work: Callable, done: Callable) -> None:
        """Have something done beside the app with the file, which nobody may have open meanwhile."""
        path, tablet = self.desk.season.path.resolve(), self.desk.tablet.id
        self.desk.close()

        def take_up(then: Callable, found: object) -> None:
            self.desk.update_tablet(lambda _: load_tablet())
            self.desk.open(path)
            then(found)

        self._do(partial(work, path, tablet), partial(take_up, done), partial(take_up, self._done))

    def _do(
        self, work: Callable[[], object], done: Callable, failed: Callable[[str], None] | None = None
    ) -> None:
        self.busy, self.words = True, tr("One moment …")
        self._worker.ask(work, done, failed or self._done)

    def _done(self, sentence: str) -> None:
        self.busy, self.words = False, sentence
        self.show()
