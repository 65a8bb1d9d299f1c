"""The list of families by number: whose page is drafted, read, printed, talked over, or looked at again."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.note_life import NoteLife
from evaltrack.rink.player import Player
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.notes.notes_in_hand import NotesInHand
from evaltrack.touch.widgets.list_row import ListRow
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import SheetBar  # noqa: F401  the kv rule names it
from evaltrack.words.family.life_words import NO_PAGE, due_words, stage_words
from evaltrack.words.wording import long_date

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_WORKING = mark("Working out the pages …")
_NO_PRACTICE = mark("No practice was held yet: a page needs something to tell.")
_ALL_DRAFTED = mark("every family has one")


class FamiliesScreen(AppScreen):
    """One row for each family; ``on_page`` brings the id of the player whose page is wanted.

    ``waiting`` says that what the pages are drafted from is being worked out, and ``words`` that or why it
    failed. ``missing`` says how many have no page as of the last practice.
    """

    __events__ = ("on_back", "on_page")
    summary = StringProperty("")
    words = StringProperty("")
    missing = StringProperty("")
    to_draft = BooleanProperty(False)
    waiting = BooleanProperty(False)

    def __init__(self, desk: Desk, notes: NotesInHand, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._notes = notes

    def on_pre_enter(self, *_):
        """Read the pages again, and work out what has changed behind them."""
        self.words, self.ids.view.scroll_y = "", 1
        if self._notes.read():
            self._show()
            self.waiting, self.words = True, "" if self._notes.latest else tr(_WORKING)
            self._notes.refresh(self._come, self._failed)

    def _come(self) -> None:
        self.waiting, self.words = False, "" if self._notes.latest else tr(_NO_PRACTICE)
        self._show()

    def _failed(self, sentence: str) -> None:
        self.waiting, self.words = (
            False,
            tr("The pages could not be worked out: {sentence}.", sentence=sentence),
        )

    def _show(self) -> None:
        latest, without = self._notes.latest, self._without()
        self.summary = tr("counts up to {day}", day=long_date(latest)) if latest else ""
        self.to_draft = bool(latest and without)
        some = tr_many("{number} family without one", "{number} families without one", len(without))
        self.missing = "" if latest is None else some if without else tr(_ALL_DRAFTED)
        rows = self.ids.rows
        rows.clear_widgets()
        for player in self.desk.players:
            rows.add_widget(self._row(player))

    def _without(self) -> list[Player]:
        """Return who has no page as of the last practice, and tries enough to speak of."""
        latest = self._notes.latest
        newest = {player: next(iter(self._notes.of(player.id)), None) for player in self.desk.players}
        return [
            player
            for player, life in newest.items()
            if not (life and life.key.as_of == latest) and self._notes.standings(player.number, latest)
        ]

    def _row(self, player: Player) -> ListRow:
        due, told = self._told(self._notes.of(player.id))
        row = ListRow(title=f"{player.number}  {player.name}", small=told, marked=due)
        row.bind(on_press=lambda _: self.dispatch("on_page", player.id))
        return row

    def _told(self, lives: list[NoteLife]) -> tuple[bool, str]:
        """Return whether something that was agreed is due to be looked at again, and what is told."""
        if not lives:
            return False, tr(NO_PAGE)
        newest, today = lives[0], self._notes.today()
        told = [due_words(life, today) for life in lives if life.due(today)]
        page = self._notes.page(newest.key)
        if page and not newest.due(today):
            told.append(stage_words(newest, page.stage(today), page.since))
        if newest.key.as_of != self._notes.latest:
            told.append(tr("Counts up to {day}.", day=long_date(newest.key.as_of)))
        return any(life.due(today) for life in lives), " ".join(told)

    def draft_all(self) -> None:
        """Draft a page for each family that has none as of the last practice."""
        if self._notes.draft(self._without()):
            self._show()
