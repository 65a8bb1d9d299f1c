"""What is kept of one player: a copy for the parents, and the erasure, which asks once with what goes."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import tr
from evaltrack.rink.plain_text import one_line
from evaltrack.rink.player import Player
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line, Option, answers_for, keys_for
from evaltrack.touch.worker import player_tasks
from evaltrack.touch.worker.worker import Worker

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class KeptScreen(AppScreen):
    """Gives a copy away and erases; ``on_folder`` asks for a folder, ``on_done`` comes when one is erased.

    ``words`` say what became of an act, ``busy`` that something is done beside the app from which nobody may
    walk away, ``erased`` that the player is gone and the receipt is shown.
    """

    __events__ = ("on_back", "on_folder", "on_done")
    heading = StringProperty("")
    words = StringProperty("")
    busy = BooleanProperty(False)
    erased = BooleanProperty(False)

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._worker = worker
        self._player: Player | None = None
        self._lines: list[str] | None = None  # what would go, or went
        self._keep_counts = False

    def open(self, player: Player) -> None:
        """Show what can be done with what is kept of a player."""
        self._player, self._lines, self._keep_counts = player, None, False
        self.heading, self.words, self.erased = one_line(f"{player.number}  {player.name}"), "", False
        self.show()

    def go_back(self) -> None:
        """Go back to the player, or to the roster where the player is gone."""
        self.dispatch("on_done" if self.erased else "on_back")

    def show(self) -> None:
        """Show the keys, the question, or the receipt."""
        body = self.ids.body
        body.clear_widgets()
        if self.erased:
            body.add_widget(Heading(text=tr("The receipt")))
            self._tell(body)
            done = Option(tr("To the roster"), tr("it is done"), partial(self.dispatch, "on_done"), True)
            body.add_widget(keys_for([done], "300sp"))
        elif self._lines is None:
            self._offer(body)
        else:
            self._ask(body)

    def _tell(self, body) -> None:
        for line in self._lines:  # each by itself: paths wrap, and what follows would run on
            body.add_widget(Line(text=line))

    def _offer(self, body) -> None:
        body.add_widget(Heading(text=tr("A copy for the parents")))
        copy = tr("All that is kept of this child, to read and as tables, and no word of any other child.")
        body.add_widget(Line(text=copy))
        write = Option(tr("Write the copy"), tr("into a folder"), partial(self.dispatch, "on_folder"))
        body.add_widget(keys_for([write], "300sp"))
        body.add_widget(Heading(text=tr("Erase for good")))
        gone = tr("The player goes out of this season, out of its backups here, and comes back with no pack.")
        body.add_widget(Line(text=gone))
        look = Option(tr("What would go"), tr("nothing is erased yet"), self.look)
        body.add_widget(keys_for([look], "300sp"))

    def _ask(self, body) -> None:
        body.add_widget(Heading(text=tr("Erase {player} for good?", player=self.heading)))
        body.add_widget(keys_for([self._counts_key(False), self._counts_key(True)], "260sp"))
        self._tell(body)
        leave = Option(tr("Leave it"), tr("nothing is changed"), self._leave)
        erase = Option(tr("Erase for good"), tr("this cannot be undone"), self._erase)
        body.add_widget(answers_for(leave, erase))

    def _counts_key(self, keep: bool) -> Option:
        if keep:
            title, small = tr("Keep the counts"), tr("the tries stay in the team’s figures, as nobody’s")
        else:
            title, small = tr("Everything goes"), tr("the tries too")
        return Option(title, small, partial(self._choose, keep), keep is self._keep_counts)

    def _choose(self, keep: bool) -> None:
        self._keep_counts = keep
        self.look()

    def look(self) -> None:
        """Find out what would go, and which packs, notes and copies are out."""
        if self.desk.practice:
            self.words = tr("A practice runs. End it first, then erase.")
            return
        self._work(True, self._looked)

    def _looked(self, path: Path, lines: list[str]) -> None:
        self._lines = lines
        self._open_again(path, "")

    def _leave(self) -> None:
        self._lines, self.words = None, ""
        self.show()

    def _erase(self) -> None:
        self._work(False, self._gone)

    def _gone(self, path: Path, lines: list[str]) -> None:
        self._lines, self.erased = lines, True
        self._open_again(path, "")

    def _work(self, rehearse: bool, done: Callable[[Path, list[str]], None]) -> None:
        path = self._path
        self.desk.close()  # nobody may have the file open, also while it is only found out what would go
        self.busy, self.words = True, tr("One moment …")
        work = partial(player_tasks.erase, path, self._player.id, self._keep_counts, rehearse)
        self._worker.ask(work, partial(done, path), partial(self._open_again, path))

    def _open_again(self, path: Path, sentence: str) -> None:
        opened = self.desk.open(path)
        self._done(sentence if opened else f"{sentence} {self.desk.message}".strip())

    def write_into(self, folder: str) -> None:
        """Write the copy for the parents into a folder."""
        self.busy, self.words = True, tr("One moment …")
        work = partial(player_tasks.export_player, self._path, Path(folder), self._player.id)
        self._worker.ask(work, self._done, self._done)

    @property
    def _path(self) -> Path:
        return self.desk.season.path.resolve()

    def _done(self, sentence: str) -> None:
        self.busy, self.words = False, sentence
        self.show()
