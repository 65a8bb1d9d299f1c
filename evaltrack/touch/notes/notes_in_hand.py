"""The families' pages in hand: drafted from the season, changed, and each change saved. No widgets."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from uuid import UUID

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import language
from evaltrack.rink.meeting_evening import Evening
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey, NoteLife, ReadMark, Since, Stage
from evaltrack.rink.player import Player
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.worker import family_tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.family.drafting import draft_sheet
from evaltrack.words.family.ground import Ground
from evaltrack.words.family.in_force import page_in_force
from evaltrack.words.family.live_pages import DayGround
from evaltrack.words.family.sheet import FamilySheet

_CARRIED = (NoteField.COACH, NoteField.LANGUAGE)  # to the next page of the same family


@dataclass(frozen=True)
class PageInHand:
    """A family's page: ``sheet`` as it is, ``full`` with all sentences in our words, ``mark`` of its text."""

    player: Player
    life: NoteLife
    ground: Ground
    standings: tuple[Standing, ...]
    sheet: FamilySheet
    full: FamilySheet
    mark: ReadMark

    @property
    def since(self) -> Since:
        """Return what has become of the page since it was read."""
        return self.life.since(self.mark)

    @property
    def is_draft(self) -> bool:
        """Whether the page carries the word draft."""
        return self.since is not Since.AS_READ

    def stage(self, today: date) -> Stage:
        """Return how far the page has come."""
        return self.life.stage(self.mark, today)


class NotesInHand:
    """``latest`` is the day of the last practice, None where none was held or before it is known."""

    def __init__(self, desk: Desk, worker: Worker, today: Callable[[], date] = date.today):
        self.desk, self._worker, self.today = desk, worker, today
        self._forget()

    def _forget(self) -> None:
        self._season = self.desk.season
        self.latest: date | None = None
        self.lives: dict[NoteKey, NoteLife] = {}
        self._evenings: list[Evening] = []
        self._grounds: dict[date, DayGround] = {}
        self._made: dict[NoteKey, tuple] = {}

    @property
    def is_in_hand(self) -> bool:
        """Say whether what is here belongs to the season that is open."""
        return self._season is not None and self._season is self.desk.season

    def read(self) -> bool:
        """Read again what was done to the pages."""
        if self._season is not self.desk.season:
            self._forget()
        season = self.desk.season
        return season is not None and self.desk.told(self._read_evenings) and self._read_lives()

    def _read_evenings(self) -> None:
        self._evenings = self.desk.season.meetings.all()

    def _read_lives(self) -> bool:
        return self.desk.told(lambda: setattr(self, "lives", self.desk.season.notes.all()))

    def refresh(self, done: Callable[[], None], failed: Callable[[str], None]) -> None:
        """Have worked out beside the app what the pages are drafted from, where that is not at hand."""
        known = {day: one.edition for day, one in self._grounds.items()}
        days = sorted({key.as_of for key in self.lives})
        work = partial(family_tasks.family_pages, self.desk.season.path, days, known)
        self._worker.ask(work, partial(self._take, self.desk.season, done), failed)

    def _take(self, season, done: Callable[[], None], answer: tuple) -> None:
        if season is not self.desk.season or season is not self._season:
            return  # another one was opened meanwhile
        self.latest, found = answer
        self._grounds |= {day: one for day, one in found.items() if one is not None}
        done()

    def of(self, player: UUID) -> list[NoteLife]:
        """Return the pages of a player's family, the newest first."""
        own = [life for key, life in self.lives.items() if key.player == player]
        return sorted(own, key=lambda life: life.key.as_of, reverse=True)

    def page(self, key: NoteKey) -> PageInHand | None:
        """Return a page; None until what it is drafted from is there."""
        life, day = self.lives.get(key), self._grounds.get(key.as_of)
        if life is None or day is None:
            return None
        player = self.desk.player(key.player)
        source = life, day.edition, player
        if self._made.get(key, (None,))[0] != source:
            self._made[key] = source, _made(player, life, day)
        return self._made[key][1]

    def meeting_of(self, player: UUID) -> date | None:
        """Return the day of the next evening at which a player's family has a meeting."""
        today = self.today()
        return next((one.day for one in self._evenings if one.day >= today and player in one.slots), None)

    def coach_named(self) -> str:
        """Return the coach who was named last on any page."""
        named = [one for life in self.lives.values() if (one := life.in_force.get((NoteField.COACH, "")))]
        last = max((one for one in named if one.value), key=lambda one: (one.at, one.nth), default=None)
        return last.value if last else ""

    def standings(self, number: str, day: date | None) -> list[Standing]:
        """Return a player's standings as of a day, as far as they are there."""
        ground = self._grounds.get(day)
        return [one for one in ground.standings if one.player == number] if ground else []

    def draft(self, players: Iterable[Player]) -> bool:
        """Draft a page for each of these as of the last practice, unless it is there."""
        facts = [fact for player in players for fact in self._drafted(player)]
        return bool(facts) and self.write(facts)

    def _drafted(self, player: Player) -> list[NoteFact]:
        key = NoteKey(player.id, self.latest)
        if self.latest is None or key in self.lives:
            return []
        before = next(iter(self.of(player.id)), NoteLife(key))
        carried = {field: before.value(field) for field in _CARRIED}
        if language().is_french:  # a page of which nothing is said is in English
            carried[NoteField.LANGUAGE] = carried[NoteField.LANGUAGE] or str(language())
        meeting = self.meeting_of(player.id)
        carried[NoteField.MEETING] = meeting.isoformat() if meeting else None
        return [
            NoteFact(key, NoteField.DRAFTED),
            *(NoteFact(key, field, value) for field, value in carried.items() if value),
        ]

    def write(self, facts: list[NoteFact]) -> bool:
        """Save what is done to pages, and have it in hand."""
        desk = self.desk
        return self._saved(lambda: desk.season.notes.add(facts, desk.tablet.id, desk.now()))

    def put_in_force(self, fact: NoteFact, in_force: bool) -> bool:
        """Take back what was done, or let it hold again."""
        desk = self.desk
        return self._saved(lambda: desk.season.notes.put_in_force(fact, in_force, desk.tablet.id, desk.now()))

    def _saved(self, write: Callable[[], None]) -> bool:
        return self.desk.save(write) and self._read_lives()

    def print_out(self, key: NoteKey, how: tuple[str, str, bool], told: Callable[[str], None]) -> None:
        """Have a page printed beside the season files, and say where it is or why it is not.

        Parameters
        ----------
        how : paper, form, and whether in large print, as `family_tasks.print_note` has them.
        """
        work = partial(family_tasks.print_note, self.desk.season.path, key, *how)
        self._worker.ask(work, partial(self._printed, self.desk.season, key, told), told)

    def _printed(self, season, key: NoteKey, told: Callable[[str], None], answer: tuple[str, str]) -> None:
        sentence, form = answer
        if form and season is self.desk.season:
            self.write([NoteFact(key, NoteField.PRINTED, form)])
        told(sentence)


def _made(player: Player, life: NoteLife, day: DayGround) -> PageInHand:
    standings = tuple(one for one in day.standings if one.player == player.number)
    page, mark = page_in_force(day.ground, player, standings, life)
    full = draft_sheet(day.ground, player, standings, replace(life.edits, words={}))
    return PageInHand(player, life, day.ground, standings, page, full, mark)
