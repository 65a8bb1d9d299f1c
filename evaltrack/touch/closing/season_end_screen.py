"""The end of the season in hand: until when its names are kept, and what is to be done by then."""

from datetime import timedelta
from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import tr
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line, Option, keys_for
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.season_life import closed_words, keep_words

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class SeasonEndScreen(AppScreen):
    """Shows how long names are kept, and changes it. ``words`` say what became of an act.

    ``busy`` says that something is done beside the app from which nobody may walk away.
    """

    __events__ = ("on_back",)
    summary = StringProperty("")
    words = StringProperty("")
    busy = BooleanProperty(False)

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._worker = worker

    def on_pre_enter(self, *_):
        """Look again what is kept."""
        if not self.busy:
            self.words = ""
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
            add(Line(text=closed_words(closed)))
            return
        add(Heading(text=tr("How long names are kept")))
        add(Line(text=keep_words(life.retention())))
        add(Line(text=tr("The app reminds two weeks before. Nothing goes by itself."), soft=True))
        add(keys_for(self._days(), wide="150sp"))

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
