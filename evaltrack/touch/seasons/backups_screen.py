"""The backups of the season in hand: made, listed, brought back; and whether the season file is whole."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.device.backup_places import Backup, Why, backups_of, copies_elsewhere
from evaltrack.device.sealing import SHORTEST
from evaltrack.device.tablet import load_tablet
from evaltrack.language import mark, tr
from evaltrack.rink.plain_text import capital, one_line
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets.field import Field  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, KeyedLine, Line, Option, answers_for
from evaltrack.touch.worker import backup_tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.backups import day_words, lost_words, when_words, why_words

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_NONE = mark("None is kept yet. One is made after each practice that was ended.")
_WHOLE = mark("The season file is whole: every tally was counted once more from the facts.")
_RUNS = mark("A practice runs. End it first, then bring a backup back.")
_KEPT = mark("The season file that is there now is kept as a backup too, so this can be taken back.")
_SHORT = mark(
    "A passphrase has at least {number} characters. Several words that nobody would guess are best."
)


class BackupsScreen(AppScreen):
    """Lists backups; ``on_folder`` asks for a folder to write one to. ``words`` say what became of an act.

    ``asking`` says that a question is open, ``busy`` that something is done beside the app from which nobody
    may walk away.
    """

    __events__ = ("on_back", "on_folder")
    summary = StringProperty("")
    words = StringProperty("")
    busy = BooleanProperty(False)
    asking = BooleanProperty(False)

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._worker = worker
        self._asked: tuple[Backup, list[str]] | None = None

    def on_pre_enter(self, *_):
        """List anew."""
        if not self.busy:
            self.words, self._asked = "", None
            self.desk.told(self.show)

    def show(self) -> None:
        """Show what is known of backups."""
        season = self.desk.season
        if season is None:
            return
        kept, elsewhere = backups_of(season.ident), copies_elsewhere(season.ident)
        self.summary = tr(
            "{team}: {number} kept on this tablet", team=self.desk.team_words(), number=len(kept)
        )
        self._show_question()
        box = self.ids.kept
        box.clear_widgets()
        for backup in kept:
            box.add_widget(self._line(backup))
        if not kept:
            box.add_widget(Line(text=tr(_NONE)))
        if elsewhere:
            box.add_widget(Heading(text=tr("Written elsewhere")))
        for copy in reversed(elsewhere):
            how = tr("sealed under a passphrase") if copy.sealed else tr("not sealed")
            box.add_widget(Line(text=f"{capital(day_words(copy.day))}, {how}\n{one_line(str(copy.path))}"))

    def back_up(self) -> None:
        """Keep a backup in the app's own folder."""
        self._do(partial(backup_tasks.back_up_now, self._path), self._done)

    def to_folder(self) -> None:
        """Ask into which folder a backup is to be written."""
        if 0 < len(self.ids.passphrase.text) < SHORTEST:
            self.words = tr(_SHORT, number=SHORTEST)
        else:
            self.dispatch("on_folder")

    def write_to(self, folder: str) -> None:
        """Write a backup into a folder, sealed where a passphrase was typed."""
        passphrase, self.ids.passphrase.text = self.ids.passphrase.text, ""
        self._do(partial(backup_tasks.back_up_into, self._path, Path(folder), passphrase), self._done)

    def check(self) -> None:
        """Look whether the season file is whole."""
        work = partial(backup_tasks.check, self._path)
        self._do(work, lambda found: self._done("\n".join(found) or tr(_WHOLE)))

    @property
    def _path(self) -> Path:
        return self.desk.season.path.resolve()

    def _line(self, backup: Backup) -> KeyedLine:
        title = "" if backup.why is Why.DAMAGED else tr("Bring back")
        line = KeyedLine(words=f"{capital(when_words(backup))}\n{why_words(backup.why)}", title=title)
        line.bind(on_turn=lambda _: self._ask(backup))
        return line

    def _ask(self, backup: Backup) -> None:
        if self.desk.practice:
            self.words = tr(_RUNS)
            return
        work = partial(backup_tasks.would_lose, self._path, backup.path)
        self._do(work, lambda lost: self._question(backup, lost_words(lost)))

    def _question(self, backup: Backup, told: list[str]) -> None:
        self._asked = backup, told
        self._done("")
        self.ids.view.scroll_y = 1

    def _show_question(self) -> None:
        box = self.ids.question
        box.clear_widgets()
        self.asking = self._asked is not None
        if not self.asking:
            return
        backup, told = self._asked
        box.add_widget(Heading(text=tr("Bring back the backup of {when}?", when=when_words(backup))))
        for sentence in (*told, tr(_KEPT)):
            box.add_widget(Line(text=sentence))
        leave = Option(tr("Leave it"), tr("nothing is changed"), self._leave)
        bring = Option(tr("Bring it back"), tr("in the place of the season file"), self._bring_back)
        box.add_widget(answers_for(leave, bring))

    def _leave(self) -> None:
        self._asked = None
        self._show_question()

    def _bring_back(self) -> None:
        (backup, _), self._asked = self._asked, None
        path = self._path
        self.desk.close()  # nobody may have the file open while it is replaced
        work = partial(backup_tasks.bring_back, path, backup.path)
        self._do(work, partial(self._take_up, path), partial(self._take_up, path))

    def _take_up(self, path: Path, sentence: str) -> None:
        """Open the season file again, whichever it is now; this tablet may have a new id."""
        self.desk.update_tablet(lambda _: load_tablet())
        opened = self.desk.open(path)
        self._done(sentence if opened else f"{sentence} {self.desk.message}")

    def _do(
        self,
        work: Callable[[], object],
        done: Callable[[object], None],
        failed: Callable[[str], None] | None = None,
    ) -> None:
        self.busy, self.words = True, tr("One moment …")
        self._worker.ask(work, done, failed or self._done)

    def _done(self, sentence: str) -> None:
        self.busy, self.words = False, sentence
        self.desk.told(self.show)
