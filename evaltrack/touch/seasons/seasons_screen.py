"""The first screen of a tablet without a season, and the way from one team to another."""

from datetime import date, timedelta
from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, NumericProperty, StringProperty

from evaltrack.device.recent_seasons import KnownSeason, note_season, recent_seasons
from evaltrack.device.season_places import demo_folder
from evaltrack.founding.demo import DEMO_FILE, Stage
from evaltrack.language import mark, tr
from evaltrack.rink.plain_text import one_line
from evaltrack.touch.desk.reminded import reminder_of
from evaltrack.touch.widgets.list_row import ListRow
from evaltrack.touch.widgets.row_list import RowList  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.theme import theme

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_FIRST = mark(
    "Note from the bench whether a skill came off, and see after practice who needs work on "
    "what. How would you like to begin?"
)
_GONE = mark("not there any more: moved, renamed or deleted")


class SeasonsScreen(AppScreen):
    """Three ways to a season, and the files that were opened here before.

    ``on_opened`` comes when a season is in hand. ``share`` is how much of the invented team's season is made,
    and ``making`` says that it is being made.
    """

    __events__ = (
        *("on_back", "on_opened", "on_start_ours", "on_file", "on_palette", "on_setup", "on_backups"),
        *("on_packs", "on_season_end", "on_next_season"),
    )
    worker = None
    words = StringProperty("")
    stage = StringProperty("")
    share = NumericProperty(0.0)
    making = BooleanProperty(False)
    has_season = BooleanProperty(False)
    is_own = BooleanProperty(False)
    reminder = StringProperty("")
    has_known = BooleanProperty(False)
    dark = BooleanProperty(False)

    def __init__(self, worker, **kwargs):
        self.worker = worker
        super().__init__(**kwargs)

    def on_pre_enter(self, *_):
        """Look again which files are there."""
        desk = self.desk
        self.dark, self.has_season = desk.tablet.dark, desk.season is not None
        self.is_own = self.has_season and desk.loan is None
        if self.has_season:  # an earlier version may have opened it, and kept no list
            desk.told(lambda: note_season(desk.season.path.resolve(), desk.team_words()))
        self.reminder = reminder_of(desk)
        known = recent_seasons()
        self.has_known = bool(known)
        self.words = desk.message or ("" if known else tr(_FIRST))
        self.ids.known.show(map(self._row, known))

    def on_leave(self, *_):
        """Leave a refusal behind: it was of another file than the one in hand."""
        if self.desk.season and self.desk.refused:
            self.desk.refused, self.desk.message = None, ""

    def look_round(self) -> None:
        """Open the season of the invented team, which is made when somebody first asks for it."""
        place = demo_folder() / DEMO_FILE
        if place.exists():
            self.open(place)
            return
        self.words, self.making = "", True
        from evaltrack.touch.worker import tasks  # the first screen does not wait for it

        work = partial(tasks.demo_at, place, date.today() + timedelta(1))
        self.worker.ask(work, lambda _: self._made(place), self._failed, self._follow)

    def open(self, path: Path) -> None:
        """Open a season file; where that cannot be, say why and stay."""
        if self.desk.season and self.desk.season.path.resolve() == path:
            self.dispatch("on_opened")
        elif self.desk.open(path):
            theme.use(self.desk.tablet.dark)
            self.dispatch("on_opened")
        else:
            self.on_pre_enter()

    def _row(self, known: KnownSeason) -> ListRow:
        folder = one_line(str(known.path.parent))
        where = tr("{file}, in {folder}", file=one_line(known.path.name), folder=folder)
        in_hand = self.desk.season and known.path == self.desk.season.path.resolve()
        row = ListRow(
            title=one_line(known.team or known.path.stem),
            small=where if known.is_there else f"{where}\n{tr(_GONE)}",
            marked=not known.is_there,
            active=bool(in_hand),
        )
        row.bind(on_press=lambda _: self.open(known.path))
        return row

    def _follow(self, stage: Stage) -> None:
        self.stage, self.share = f"{tr(stage.words)} ...", stage.share

    def _made(self, place: Path) -> None:
        self._stop()
        if self.manager and self.manager.current == self.name:
            self.open(place)

    def _failed(self, sentence: str) -> None:
        self._stop()
        self.words = sentence

    def _stop(self) -> None:
        self.making, self.stage, self.share = False, "", 0.0
