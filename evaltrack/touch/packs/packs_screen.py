"""Packs written for other tablets and taken in from them, with what a pack would bring shown first."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.device.backup_places import copies_elsewhere
from evaltrack.device.sealing import SHORTEST
from evaltrack.device.six_words import six_words
from evaltrack.language import tr
from evaltrack.rink.plain_text import capital, one_line
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets.field import Field  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line, Lines, Option, keys_for
from evaltrack.touch.worker import pack_tasks, player_tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.backups import day_words
from evaltrack.words.wording import sentence

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class PacksScreen(AppScreen):
    """Writes and takes in packs; ``on_folder`` and ``on_file`` ask for a place, and say to whom it is given.

    ``words`` say what became of an act. ``asking`` says that a question is open, ``busy`` that something is
    done beside the app from which nobody may walk away.
    """

    __events__ = ("on_back", "on_lend", "on_folder", "on_file")
    summary = StringProperty("")
    words = StringProperty("")
    busy = BooleanProperty(False)
    asking = BooleanProperty(False)

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._worker = worker
        self._since: Path | None = None
        self._pack: Path | None = None  # that is to be taken in
        self._told: list[str] | None = None  # what it would bring, or what became of it

    def on_folder(self, then: Callable[[str], None]) -> None:
        """Leave it to whoever listens."""

    def on_file(self, then: Callable[[str], None]) -> None:
        """Leave it to whoever listens."""

    def on_pre_enter(self, *_):
        """Show anew what was written and is out."""
        if not self.busy:
            self.words, self._pack, self._told = "", None, None
            self.desk.told(self.show)

    def go_back(self) -> None:
        """Forget what was typed and chosen, and go back."""
        self._since, self.ids.passphrase.text = None, ""
        self.dispatch("on_back")

    def show(self) -> None:
        """Show the question that is open, and the packs and loans that are out."""
        if self.desk.season is None:
            return
        self.summary = self.desk.team_words()
        self.ids.since.text = self._since_words()
        self._show_question()
        out = self.ids.out
        out.clear_widgets()
        for copy in reversed(copies_elsewhere(self.desk.season.ident)):
            how = tr("sealed under a passphrase") if copy.sealed else tr("not sealed")
            out.add_widget(Line(text=f"{capital(day_words(copy.day))}, {how}\n{one_line(str(copy.path))}"))

    def _since_words(self) -> str:
        if self._since is None:
            return tr("A pack has all that was noted on this tablet and on those that it has met.")
        return tr("Only what is new since {file}.", file=one_line(self._since.name))

    def new_words(self) -> None:
        """Put six new words into the field of the passphrase, where they can be read and written down."""
        self.ids.passphrase.text = six_words()

    def choose_since(self) -> None:
        """Choose an earlier pack that the other tablet has, or all again."""
        if self._since is None:
            self.dispatch("on_file", self._take_since)
        else:
            self._since = None
            self.show()

    def _take_since(self, path: str) -> None:
        self._since = Path(path)
        self.show()

    def write(self) -> None:
        """Ask into which folder a pack is to be written."""
        if 0 < len(self.ids.passphrase.text) < SHORTEST:
            self.words = tr(
                "A passphrase has at least {number} characters. Six new words are a good one.",
                number=SHORTEST,
            )
            return
        self.dispatch("on_folder", self.write_into)

    def write_into(self, folder: str) -> None:
        """Write a pack into a folder, sealed where a passphrase stands in the field."""
        passphrase, tablet = self.ids.passphrase.text, self.desk.tablet.id
        work = partial(pack_tasks.write_pack, self._path, Path(folder), tablet, passphrase, self._since)
        self._do(work, self._done)

    def choose(self) -> None:
        """Choose a pack to take in."""
        if self.desk.practice:
            self.words = tr("A practice runs. End it first, then take the pack in.")
        else:
            self.dispatch("on_file", self.look_into)

    def look_into(self, path: str) -> None:
        """Say what a pack would bring; one that is sealed asks for its passphrase first."""
        self._pack, self._told = Path(path), None
        self._do(partial(pack_tasks.needs_passphrase, self._pack), self._looked_at)

    def _looked_at(self, is_sealed: bool) -> None:
        if is_sealed and not self.ids.passphrase.text:
            self._done(tr("This pack is sealed: type its passphrase below, and then look into it."))
        else:
            self._look()

    def _look(self, *_) -> None:
        work = partial(pack_tasks.look_into, self._path, self._pack, self.ids.passphrase.text)
        self._do(work, self._question)

    def _question(self, lines: list[str]) -> None:
        self._told = [*map(sentence, lines)]
        self._done("")
        self.ids.view.scroll_y = 1

    def _show_question(self) -> None:
        box = self.ids.question
        box.clear_widgets()
        self.asking = self._pack is not None
        if self._pack is None:
            if self._told:
                box.add_widget(Lines(self._told, self.width - 40))
            return
        name = one_line(self._pack.name)
        leave = Option(tr("Leave it"), tr("nothing is changed"), self._leave)
        if self._told is None:
            box.add_widget(Heading(text=tr("The pack {file}", file=name)))
            box.add_widget(
                keys_for(
                    [Option(tr("Look into it"), tr("with the passphrase below"), self._look, True), leave]
                )
            )
            return
        box.add_widget(Heading(text=tr("Take in the pack {file}?", file=name)))
        box.add_widget(Lines(self._told, self.width - 40))
        box.add_widget(Line(text=tr("A backup is kept first, so this can be taken back."), soft=True))
        take = Option(tr("Take it in"), tr("into this season"), self._take_in, True)
        box.add_widget(keys_for([take, leave]))

    def _leave(self) -> None:
        self._pack = self._told = None
        self.show()

    def _take_in(self) -> None:
        path, pack, passphrase = self._path, self._pack, self.ids.passphrase.text
        self._pack = self._told = None
        self.desk.close()  # what it shows is read anew when the pack is in
        work = partial(pack_tasks.take_in, path, pack, passphrase)
        self._do(work, partial(self._took_in, path), lambda why: self._open_again(path, why))

    def _took_in(self, path: Path, lines: list[str]) -> None:
        self._told = [*map(sentence, lines)]
        self._open_again(path, tr("The pack is in."))

    def _open_again(self, path: Path, told: str) -> None:
        opened = self.desk.open(path)
        self._done(told if opened else f"{told} {self.desk.message}")

    def export(self) -> None:
        """Ask into which folder the season is to be written as tables."""
        self.dispatch("on_folder", self.export_into)

    def export_into(self, folder: str) -> None:
        """Write the season as tables into a folder."""
        self._do(partial(player_tasks.export_team, self._path, Path(folder)), self._done)

    def show_lost(self) -> None:
        """Show every change that lost against a newer one."""
        self._do(partial(pack_tasks.lost_so_far, self._path), self._show_lines)

    def _show_lines(self, lines: list[str]) -> None:
        self._told = lines
        self._done("" if lines else tr("No change has lost against a newer one."))
        self.ids.view.scroll_y = 1

    @property
    def _path(self) -> Path:
        return self.desk.season.path.resolve()

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
