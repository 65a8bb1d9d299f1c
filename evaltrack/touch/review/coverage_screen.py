"""Coverage: whom to watch next, and how much is known of each skill."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.metrics import dp, sp
from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.gridlayout import GridLayout

from evaltrack.analysis.standings.standing import Coverage
from evaltrack.analysis.standings.watching import whom_to_watch
from evaltrack.language import mark, tr
from evaltrack.rink.player import Status
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets.list_row import ListRow
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line
from evaltrack.touch.worker.tasks import coverage_at
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.coverage import (
    HOW_CHOSEN,
    known_words,
    more_words,
    watched_words,
    why_nobody,
)
from evaltrack.words.wording import counted

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_WORKING = mark("Working out what is known …")
_WIDE = 400  # sp, of a player and skill to watch
_FIRST = 12  # players and skills that are named before somebody asks for all


class CoverageScreen(AppScreen):
    """``words`` say what is being done or went wrong; ``waiting`` that it is being worked out.

    ``on_player`` brings the number of a player who is to be watched. ``rows`` is what is known of whom.
    """

    __events__ = ("on_back", "on_player")
    summary = StringProperty("")
    words = StringProperty("")
    waiting = BooleanProperty(False)
    every = BooleanProperty(False)

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._worker = worker
        self._asked = None  # of which season file, and after how many writes
        self.rows: Sequence[Coverage] = ()

    def on_pre_enter(self, *_):
        """Work it out again where something was written since."""
        season = self.desk.season
        asked = season and (season, self.desk.changed, season.seen_version)
        if season is None or asked == self._asked:
            return
        self._asked, self.waiting, self.words = asked, True, tr(_WORKING)
        self._worker.ask(
            partial(coverage_at, season.path), partial(self._take, asked), partial(self._fail, asked)
        )

    def _take(self, asked: tuple, rows: Sequence[Coverage]) -> None:
        if asked == self._asked:
            self.rows, self.waiting, self.words, self.every = rows, False, "", False
            self.ids.view.scroll_y = 1
            self._fill()

    def _fail(self, asked: tuple, sentence: str) -> None:
        if asked == self._asked:
            self._asked, self.waiting = None, False
            self.words = tr("What is known could not be worked out: {reason}.", reason=sentence)

    def show_all(self) -> None:
        """Name everyone who was not watched enough."""
        self.every = True
        self._fill()

    def _fill(self) -> None:
        away = {player.number for player in self.desk.players if player.status is Status.AWAY}
        wanted = whom_to_watch(self.rows, away)
        pairs = counted(len(wanted), "player and skill", "players and skills")
        self.summary = tr("{pairs} to watch", pairs=pairs) if wanted else ""
        body = self.ids.body
        body.clear_widgets()
        for part in (*self._next(wanted), *self._skills()):
            body.add_widget(part)

    def _next(self, wanted: Sequence[Coverage]) -> list:
        if not wanted:
            return [Line(text=why_nobody(self.rows))]
        shown = wanted if self.every else wanted[:_FIRST]
        keys = [self._key(row) for row in shown]
        if len(shown) < len(wanted):
            left = tr("{number} more", number=len(wanted) - len(shown))
            more = ListRow(title=left, small=tr("show all"), title_size="17sp")
            more.bind(on_press=lambda _: self.show_all())
            keys.append(more)
        return [
            Heading(text=tr("Whom to watch next")),
            Line(text=tr(HOW_CHOSEN), soft=True),
            _columns(keys, self.width),
        ]

    def _key(self, row: Coverage) -> ListRow:
        title = tr("{who}: {what}", who=f"{row.player}  {row.name}", what=self._name(row.skill))
        told = f"{watched_words(row)}; {more_words(row)}"
        key = ListRow(title=title, small=told, title_size="17sp")
        key.bind(on_press=lambda _: self.dispatch("on_player", row.player))
        return key

    def _skills(self) -> list:
        keys = list(dict.fromkeys(row.skill for row in self.rows))
        if not keys:
            return []
        return [Heading(text=tr("How much is known of each skill")), *map(self._known, keys)]

    def _known(self, skill: str) -> Line:
        known = known_words([row for row in self.rows if row.skill == skill])
        return Line(text=tr("{skill}: {what}", skill=self._name(skill), what=known))

    def _name(self, key: str) -> str:
        return self.desk.skills[key].name if key in self.desk.skills else key


def _columns(keys: Sequence[ListRow], width: float) -> GridLayout:
    """Return rows in as many columns as have room, each as high as its words."""
    columns = GridLayout(cols=max(1, int(width // sp(_WIDE))), spacing=dp(8), size_hint_y=None)
    columns.bind(minimum_height=columns.setter("height"))
    for key in keys:
        columns.add_widget(key)
    return columns
