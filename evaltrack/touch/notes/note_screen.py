"""One family's page: each sentence is tapped to be changed; read, printed, talked over, what was agreed."""

from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path
from uuid import UUID

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.note_life import NoteField, NoteKey, NoteLife
from evaltrack.rink.player import Player
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.notes.held_place import HeldPlace
from evaltrack.touch.notes.note_parts import NoteParts
from evaltrack.touch.notes.notes_in_hand import NotesInHand, PageInHand
from evaltrack.touch.notes.page_changes import PageChanges
from evaltrack.touch.notes.to_look_at import concerned, to_look_at
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import SheetBar  # noqa: F401  the kv rule names it
from evaltrack.words.family.life_words import advice
from evaltrack.words.wording import long_date

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_WORKING = mark("Working out the page …")
_NOTHING = mark("Nothing was noted of this player yet, so there is nothing to tell.")
_PRINTING = mark("The page is being printed …")


class NoteScreen(PageChanges, AppScreen):
    """Shows the newest page of a player's family; where there is none one is drafted.

    ``words`` say what became of a print, ``advice`` what to do with the page: names of other children first.
    """

    __events__ = ("on_back", "on_history", "on_choose", "on_look_back")
    heading = StringProperty("")
    summary = StringProperty("")
    words = StringProperty("")
    advice = StringProperty("")
    paper = StringProperty("letter")
    is_draft = BooleanProperty(True)
    has_page = BooleanProperty(False)
    printing = BooleanProperty(False)
    waiting = BooleanProperty(False)

    def __init__(self, desk: Desk, notes: NotesInHand, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._notes = notes
        self._player: UUID | None = None
        self._key: NoteKey | None = None
        self._shown: PageInHand | None = None
        self.opened = self.new_thing = ""
        self._stays = False  # Back was pressed once while something was not saved
        self.typed: dict = {}
        self._editor = None
        self._held = HeldPlace(self.ids.view, self.ids.columns)
        self.bind(landscape=lambda *_: self._shown and self._notes.is_in_hand and self._show())

    @property
    def key(self) -> NoteKey | None:
        """Return which page is shown."""
        return self._key

    @property
    def today(self) -> Callable[[], date]:
        """Return what gives the day."""
        return self._notes.today

    @property
    def _life(self) -> NoteLife:
        return self._notes.lives[self._key]

    def open_player(self, player: UUID) -> None:
        """Have the newest page of a player's family shown, now or when the screen comes in front."""
        in_front = self.manager is not None and self.manager.current_screen is self
        if in_front:
            self._keep_typed()
        self._player, self._key = player, None
        if in_front:
            self.on_pre_enter()

    def on_pre_enter(self, *_):
        """Read the page again, and work out what has changed behind it."""
        self.words = self.opened = ""
        self._shown, self._editor, self.typed = None, None, {}
        self._held.to_top()
        self._stays = False
        if self._notes.read() and any(one.id == self._player for one in self.desk.everyone):
            self._take_key()
            self._show()
            self.waiting = True
            self._notes.refresh(self._come, self._failed)

    def on_pre_leave(self, *_):
        """Keep what is being typed."""
        self._keep_typed()

    def back(self) -> None:
        """Leave the page; with something that could not be saved the second time only."""
        if self._keep_typed() or self._stays:
            self.dispatch("on_back")
        else:
            self._stays = True

    def _take_key(self) -> None:
        if self._key not in self._notes.lives:
            newest = next(iter(self._notes.of(self._player)), None)
            self._key = newest.key if newest else None

    def _come(self) -> None:
        self.waiting = False
        player = self.desk.player(self._player)
        if self._key is None and self._notes.standings(player.number, self._notes.latest):
            self._notes.draft([player])
            self._take_key()
        if self._key is None or self._notes.page(self._key) is not self._shown:
            self._show()

    def _failed(self, sentence: str) -> None:
        self.waiting, self.words = (
            False,
            tr("The page could not be worked out: {sentence}.", sentence=sentence),
        )

    def _show(self) -> None:
        """Show the page as it is now; what is being typed is kept first, or stays where it is."""
        if not self._keep_typed():
            self._tell()
            return
        self.typed, self._editor = {}, None
        self._held.hold()
        for column in (self.ids.page, self.ids.beside):
            column.clear_widgets()
        player = self.desk.player(self._player)
        self.heading = f"{player.number}  {player.name}"
        self._tell()
        page = self._shown
        self.asked = concerned(page, self.desk.everyone) if page else ()
        if page:
            parts = NoteParts(page, self.opened, self)
            first = to_look_at(page, self.desk.everyone)
            for part in parts.sentences():
                self.ids.page.add_widget(part)
            for part in parts.beside(first, self._leading_on()):
                self.ids.beside.add_widget(part)
        self._held.hold(self._editor)

    def _tell(self) -> None:
        """Say how the page stands, and leave what is shown of it as it is."""
        self._shown = page = self._notes.page(self._key) if self._key else None
        self.has_page = page is not None
        if page is None:
            self.summary, self.advice = "", tr(_WORKING if self._key or self.waiting else _NOTHING)
            return
        self.is_draft = page.is_draft
        said = mark("Draft, counts up to {day}") if page.is_draft else mark("Read, counts up to {day}")
        self.summary = tr(said, day=long_date(self._key.as_of))
        self.advice = next(iter(concerned(page, self.desk.everyone)), advice(page.since))

    def _leading_on(self) -> list[tuple[str, str, Callable[[], None]]]:
        """Return the keys that lead to what was agreed before, to a newer page, and to the other ones."""
        lives, latest = self._notes.of(self._player), self._notes.latest
        keys = self._as_elsewhere()
        if any(life.things for life in lives):
            keys.append((tr("Look back"), tr("at what was agreed"), partial(self.dispatch, "on_look_back")))
        if latest and lives and lives[0].key.as_of < latest:
            keys.append(
                (
                    tr("Draft a new page"),
                    tr("counts up to {day}", day=long_date(latest)),
                    self._draft_anew,
                )
            )
        if after := self._after():
            keys.append(
                (tr("Next family"), f"{after.number} {after.name}", partial(self.open_player, after.id))
            )
        for life in lives:
            if life.key != self._key:
                day = long_date(life.key.as_of)
                keys.append(
                    (
                        tr("The other page"),
                        tr("counts up to {day}", day=day),
                        partial(self._turn_to, life.key),
                    )
                )
        return keys

    def _as_elsewhere(self) -> list[tuple[str, str, Callable[[], None]]]:
        """Return keys that give the page the day of the evening that was made, and another page's coach."""
        edits, day, name = self._life.edits, self._notes.meeting_of(self._player), self._notes.coach_named()
        keys = []
        if day and day != edits.meeting and not self._life.discussed:
            act = partial(self.say_at_once, NoteField.MEETING, day.isoformat())
            keys.append((tr("Meeting: {day}", day=long_date(day)), tr("as the evening was made"), act))
        if name and not edits.coach:
            act = partial(self.say_at_once, NoteField.COACH, name)
            keys.append((tr("Coach: {name}", name=name), tr("as on another page"), act))
        return keys

    def _after(self) -> Player | None:
        """Return the next player by number."""
        ids = [player.id for player in self.desk.players]
        place = ids.index(self._player) + 1 if self._player in ids else len(ids)
        return self.desk.players[place] if place < len(ids) else None

    def _draft_anew(self) -> None:
        if self._notes.draft([self.desk.player(self._player)]):
            self._turn_to(NoteKey(self._player, self._notes.latest))

    def _turn_to(self, key: NoteKey) -> None:
        self._keep_typed()
        self.opened, self.words, self._key = "", "", key
        self.typed, self._editor = {}, None
        self._held.to_top()
        self._show()

    def turn_paper(self) -> None:
        """Take the other paper."""
        self.paper = "letter" if self.paper == "a4" else "a4"

    def print_out(self, form: str = "pdf", large: bool = False) -> None:
        """Print the page beside the season files, or save it in another form."""
        if self.printing:
            return
        self._keep_typed()
        self.printing, self.words = True, tr(_PRINTING)
        self._notes.print_out(self._key, (self.paper, form, large), self._printed)

    def _printed(self, sentence: str) -> None:
        self.printing, self.words = False, sentence
        if self._player and self._notes.is_in_hand:
            self._tell()
