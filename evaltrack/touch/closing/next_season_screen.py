"""The season after the one in hand: who comes along, in which age class, and what is noted of last season."""

from functools import partial
from pathlib import Path
from uuid import UUID

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.device.season_places import season_stem, seasons_folder
from evaltrack.language import mark, tr
from evaltrack.rink.age_class import AGE_CLASSES
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line, Option, keys_for
from evaltrack.touch.worker import closing_tasks
from evaltrack.touch.worker.worker import Worker

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_WHAT = mark(
    "A new file with the roster, the skills, drills and targets, and who observes. No tally, practice, plan,"
    " page or meeting comes along. This season stays as it is."
)


class NextSeasonScreen(AppScreen):
    """Shows who is on the roster, each with whether they come along; ``on_made`` brings the new file's path.

    ``words`` say what became of an act, ``busy`` that the file is being made.
    """

    __events__ = ("on_back", "on_made")
    summary = StringProperty("")
    words = StringProperty("")
    count_words = StringProperty("")
    busy = BooleanProperty(False)

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._worker = worker
        self._leaving: set[UUID] = set()
        self._age_class, self._comments = "", False
        self._of: UUID | None = None  # the season that was chosen for

    def on_pre_enter(self, *_):
        """Begin anew for another season; what was chosen for this one is still chosen."""
        if self.busy:
            return
        self.words = ""
        self.desk.told(self._begin)
        self.show()

    def _begin(self) -> None:
        season = self.desk.season
        if season is None or season.ident != self._of:
            self._leaving, self._comments = set(), False
            self._of = season and season.ident
            self._age_class = season.team.age_class if season else ""

    def show(self) -> None:
        """Show what is chosen."""
        body, players = self.ids.body, self.desk.players
        body.clear_widgets()
        if self.desk.season is None:
            return
        self.summary = self.desk.team_words()
        coming = len([one for one in players if one.id not in self._leaving])
        self.count_words = tr("{count} of {all} players", count=coming, all=len(players))
        body.add_widget(Line(text=tr(_WHAT)))
        body.add_widget(Heading(text=tr("Age class")))
        body.add_widget(keys_for(self._classes(), wide="110sp"))
        body.add_widget(Heading(text=tr("Who comes along")))
        body.add_widget(keys_for(map(self._player, players)))
        body.add_widget(Heading(text=tr("How they stood")))
        body.add_widget(keys_for(self._standings(), wide="320sp"))

    def _classes(self) -> list[Option]:
        known = [*AGE_CLASSES] if self._age_class in AGE_CLASSES else [self._age_class, *AGE_CLASSES]
        return [Option(one, "", partial(self.choose_class, one), one == self._age_class) for one in known]

    def _player(self, player) -> Option:
        leaves = player.id in self._leaving
        small = tr("stays behind") if leaves else tr("comes along")
        return Option(f"{player.number} {player.name}", small, partial(self.turn, player.id), not leaves)

    def _standings(self) -> list[Option]:
        on = self._comments
        return [
            Option(
                tr("Note the last counts with each player"),
                tr("a short comment"),
                partial(self.note, True),
                on,
            ),
            Option(tr("Begin without"), tr("nothing of last season"), partial(self.note, False), not on),
        ]

    def choose_class(self, age_class: str) -> None:
        """Take an age class."""
        self._age_class = age_class
        self.show()

    def turn(self, player: UUID) -> None:
        """Let a player come along, or stay behind."""
        self._leaving ^= {player}
        self.show()

    def note(self, comments: bool) -> None:
        """Choose whether last season's counts come along as comments."""
        self._comments = comments
        self.show()

    def make(self) -> None:
        """Make the file beside the app."""
        season = self.desk.season
        if season is None or not self._age_class:
            return
        stem = season_stem(season.team.name, self._age_class, closing_tasks.season_after(season))
        self.busy, self.words = True, tr("One moment …")
        chosen = frozenset(self._leaving), self._age_class, self._comments
        work = partial(
            closing_tasks.next_season,
            season.path.resolve(),
            (seasons_folder(), stem),
            chosen,
            self.desk.tablet.id,
        )
        self._worker.ask(work, self._made, self._failed)

    def _made(self, path: Path) -> None:
        self.busy, self.words = False, ""
        self.dispatch("on_made", path)

    def _failed(self, sentence: str) -> None:
        self.busy, self.words = False, sentence

    def on_made(self, path: Path) -> None:
        """Make nothing more of it; the app opens the file."""
