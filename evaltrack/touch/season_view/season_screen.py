"""The season as a whole: one section at a time, and each as a picture."""

from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.metrics import dp, sp
from kivy.properties import BooleanProperty, OptionProperty, StringProperty
from kivy.uix.gridlayout import GridLayout

from evaltrack.analysis.team.season_view import Part, SeasonView
from evaltrack.device.season_places import pictures_folder
from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr, tr_many
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.season_view.sections import legend_of, why_empty, widget_of
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Option, keys_for
from evaltrack.touch.worker import tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.season import TITLES
from evaltrack.words.wording import counted, long_date

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_WORKING = mark("Working out how the team goes …")
_UPDATING = mark("Bringing it up to date …")


class SeasonScreen(AppScreen):
    """Shows the ``section`` of the season as it was last worked out, and brings it up to date when entered.

    ``empty`` says why there is nothing to show, ``legend`` how to read what is shown, and ``told`` what
    became of a picture.
    """

    __events__ = ("on_back",)
    section = OptionProperty(Part.TEAM, options=list(Part))
    summary = StringProperty("")
    empty = StringProperty("")
    legend = StringProperty("")
    told = StringProperty("")
    saving = BooleanProperty(False)

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self.empty = tr(_WORKING)
        self._worker = worker
        self._view: SeasonView | None = None
        self._made: dict[Part, object] = {}
        self._asked = None  # of which state of which file
        options = [
            Option(tr(TITLES[one]), "", partial(self._turn_to, one), one == self.section) for one in Part
        ]
        self._keys = keys_for(options, "230dp")
        self.ids.sections.add_widget(self._keys)
        self.ids.body.bind(width=self._arrange)
        desk.bind(season=self._forget)

    def on_pre_enter(self, *_):
        """Show what is at hand, and have it worked out anew when the file has changed since."""
        self.told = ""
        version = self._version()
        if version is not None and version != self._asked:
            self._asked = version
            self.summary = tr(_UPDATING) if self._view else ""
            work = partial(tasks.season_view, self.desk.season.path)
            self._worker.ask(work, partial(self._take, version), partial(self._take_failure, version))

    def on_section(self, *_):
        """Show another section, from its top."""
        for one, key in zip(Part, self._keys.children[::-1], strict=True):
            key.active = one == self.section
        self.told = ""
        self._show()
        self.ids.view.scroll_y = 1

    def save_picture(self, form: str) -> None:
        """Have the charts of the section written beside the app, and say where they are."""
        if self.saving or self._view is None:
            return
        self.saving, self.told = True, tr("Drawing …")
        folder = pictures_folder(self.desk.season.path)
        work = partial(tasks.save_season_pictures, folder, self._view, self.section, form)
        self._worker.ask(
            work, self._say, lambda why: self._say(tr("No picture was saved: {reason}.", reason=why))
        )

    def _say(self, sentence: str) -> None:
        self.saving, self.told = False, sentence

    def _turn_to(self, section: Part) -> None:
        self.section = section

    def _version(self) -> tuple | None:
        season = self.desk.season
        if season is None:
            return None
        try:
            return season.path, self.desk.changed, season.seen_version
        except EvaltrackError:
            return season.path, self.desk.changed, None

    def _forget(self, *_) -> None:
        self._view, self._asked, self._made = None, None, {}
        self.summary, self.empty = "", tr(_WORKING)
        self.ids.body.clear_widgets()

    def _take(self, version: tuple, view: SeasonView) -> None:
        if version != self._asked:
            return
        self.summary = _summary(view)
        if view != self._view:
            self._view, self._made = view, {}
            self._show()

    def _take_failure(self, version: tuple, why: str) -> None:
        if version == self._asked:
            self._asked, self.summary = None, ""
            self.empty = tr("The season could not be worked out: {reason}.", reason=why)

    def _show(self) -> None:
        if self._view is None:
            return
        self.empty = why_empty(self._view, self.section)
        self.legend = "" if self.empty else legend_of(self.section)
        body = self.ids.body
        body.clear_widgets()
        if not self.empty:
            if self.section not in self._made:
                self._made[self.section] = widget_of(self._view, self.section)
            body.add_widget(self._made[self.section])
            self._arrange()

    def _arrange(self, *_) -> None:
        """Give the cards of the team as many columns as there is room for."""
        for cards in self.ids.body.children:
            if isinstance(cards, GridLayout):
                cards.cols = min(3 if self.landscape else 2, max(len(cards.children), 1))
                cards.row_default_height = sp(110) + dp(170)


def _summary(view: SeasonView) -> str:
    if not view.practices:
        return ""
    days = [one.practice.held_on for one in view.practices]
    first, last = long_date(days[0]), long_date(days[-1])
    tallies = sum(one.total for one in view.practices)
    parts = {
        "practices": counted(len(days), "practice"),
        "days": first if first == last else tr("{first} to {last}", first=first, last=last),
        "tallies": tallies,
    }
    return tr_many(
        "{practices}, {days}; {tallies} tally", "{practices}, {days}; {tallies} tallies", tallies, **parts
    )
