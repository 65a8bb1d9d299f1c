"""The evening that is in hand: what is asked for, what was worked out, each change saved. No widgets."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time, timedelta
from functools import partial
from uuid import UUID, uuid4

from evaltrack.device.season_places import meetings_folder
from evaltrack.rink.meeting_evening import (
    LONGEST,
    MOST_TABLES,
    MOST_WISHES,
    SHORTEST,
    Break,
    Evening,
    MeetingWish,
    later,
    minute_of,
)
from evaltrack.rink.note_life import NoteFact
from evaltrack.rink.placed_evening import PlacedEvening, locked, swapped
from evaltrack.rink.player import Player, by_number
from evaltrack.rink.short_names import short_names
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.worker import family_tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.meetings import remarks_of

_USUAL = time(18)
_AHEAD = timedelta(14)  # of a first evening: families want to know two weeks before
_PAUSE = 10  # minutes of a break at first


class MeetingsInHand:
    """``evening`` is the kept one that is looked at, or None; ``wanted`` what is to be worked out next.

    ``others`` are the other evenings of the season. ``came`` are the players whose families came,
    ``remarks`` what must be said of what was worked out last.
    """

    def __init__(self, desk: Desk, worker: Worker, today: Callable[[], date] = date.today):
        self.desk, self._worker, self._today = desk, worker, today
        self.evening: Evening | None = None
        self.others: list[Evening] = []
        self._key = ""  # of the evening that is looked at; empty for the one that was written last
        self.came: frozenset[UUID] = frozenset()
        self.remarks: list[str] = []
        self._season = None
        self.wanted = self._first()

    def _first(self) -> Evening:
        return Evening(uuid4().hex, self._today() + _AHEAD, _USUAL)

    def read(self) -> None:
        """Take up the evening that is looked at, else the one that was kept last, and who came to it."""
        found: list[Evening] = []
        if not self.desk.told(lambda: found.extend(self._evenings())):
            self.evening, self.others = None, []
            return
        if self._season is not self.desk.season:
            self._season, self._key = self.desk.season, ""
            self._look_at(found[0] if found else None)
        evening = next((one for one in found if one.key == self._key), found[0] if found else None)
        if evening != self.evening:
            self._look_at(evening)
        self.others = [one for one in found if one != evening]
        self._read_came()

    def _evenings(self) -> list[Evening]:
        """Return every evening in force, the one that was written last before the others."""
        meetings = self.desk.season.meetings
        last = meetings.last()
        return [last, *(one for one in meetings.all() if one.key != last.key)] if last else []

    def _look_at(self, evening: Evening | None) -> None:
        self.evening, self._key, self.remarks = evening, evening.key if evening else "", []
        self.wanted = evening or self._first()

    def open(self, evening: Evening) -> None:
        """Look at another of the evenings."""
        self._key = evening.key
        self.read()

    def _read_came(self) -> None:
        came: list[frozenset[UUID]] = [frozenset()]
        if self.evening:
            self.desk.told(lambda: came.append(self.desk.season.meetings.who_came(self.evening.key)))
        self.came = came[-1]

    @property
    def labels(self) -> dict[UUID, str]:
        """Return numbers and short names of the players, those who have left among them: ``4 Tadhg``.

        "2 not before 19:10" has one number too many to be read at a glance.
        """
        short = short_names(self.desk.everyone)
        return {player.id: f"{player.number} {short[player.id]}" for player in self.desk.everyone}

    @property
    def families(self) -> list[Player]:
        """Return the team in order of numbers."""
        return sorted(self.desk.players, key=by_number)

    def begin_anew(self) -> None:
        """Ask for another evening; the one in hand stays in the season file."""
        self.wanted = replace(self._first(), minutes=self.wanted.minutes, tables=self.wanted.tables)

    def move_day(self, by: int) -> None:
        """Ask for another day, not before today."""
        self._want(day=max(self._today(), self.wanted.day + timedelta(by)))

    def move_start(self, by: int) -> None:
        """Begin so many minutes later."""
        self._want(start=later(self.wanted.start, by))

    def change_minutes(self, by: int) -> None:
        """Make the meetings longer or shorter."""
        self._want(minutes=max(SHORTEST, min(LONGEST, self.wanted.minutes + by)))

    def change_tables(self, by: int) -> None:
        """Take a table more or less."""
        self._want(tables=max(1, min(MOST_TABLES, self.wanted.tables + by)))

    def change_break(self, by: int) -> None:
        """Make the break longer or shorter; without minutes there is none."""
        pause = self.wanted.breaks[0] if self.wanted.breaks else None
        if pause is None:
            start = later(self.wanted.start, 60)
            self._want_break(start, later(start, _PAUSE) if by > 0 else start)
        else:
            self._want_break(pause.start, later(pause.end, by))

    def _want_break(self, start: time, end: time) -> None:
        """Ask for a break, or for none where it would be over before it begins, as at midnight."""
        self._want(breaks=(Break(start, end),) if end > start else ())

    def move_break(self, by: int) -> None:
        """Have the break so many minutes later."""
        if self.wanted.breaks:
            pause = self.wanted.breaks[0]
            self._want_break(later(pause.start, by), later(pause.end, by))

    def move_end(self, by: int) -> None:
        """Have all over so many minutes later; before the first meeting is over no end is asked for."""
        now = self.wanted.until
        if now is None:
            self._want(until=later(self.wanted.start, 120) if by > 0 else None)
            return
        until = later(now, by)
        first = minute_of(self.wanted.start) + self.wanted.minutes
        self._want(until=until if minute_of(until) >= first else None)

    def want_place(self, place: str) -> None:
        """Say where it is."""
        self._want(place=place)

    def add_wish(self, wish: MeetingWish) -> bool:
        """Ask for a wish; False where it is asked for already, or where there are too many."""
        if wish in self.wanted.wishes or len(self.wanted.wishes) >= MOST_WISHES:
            return False
        self._want(wishes=(*self.wanted.wishes, wish))
        return True

    def drop_wish(self, wish: MeetingWish) -> None:
        """Ask for a wish no more."""
        self._want(wishes=tuple(one for one in self.wanted.wishes if one != wish))

    def _want(self, **changes) -> None:
        self.wanted = replace(self.wanted, **changes)

    def work_out(self, done: Callable[[], None], failed: Callable[[str], None]) -> None:
        """Have the evening worked out beside the app, and keep it; who is locked stays."""
        work = partial(family_tasks.meetings_at, self.desk.season.path, self.wanted)
        self._worker.ask(work, partial(self._take, self.desk.season, done), failed)

    def _take(self, season, done: Callable[[], None], found: PlacedEvening) -> None:
        if season is not self.desk.season:
            return  # another one was opened meanwhile
        if self.keep(found.evening):
            self.remarks = remarks_of(found, self.labels)
            self._read_came()
            done()

    def keep(self, evening: Evening) -> bool:
        """Have another evening in hand once it is on disk."""
        desk = self.desk
        if evening != self.evening:
            if not desk.save(lambda: desk.season.meetings.add(evening, desk.tablet.id, desk.now())):
                return False
        self.evening = self.wanted = evening
        self._key = evening.key
        return True

    def swap(self, one: UUID, other: UUID) -> bool:
        """Give two families each other's place; both are locked there."""
        return self.keep(swapped(self.evening, one, other))

    def lock(self, player: UUID) -> bool:
        """Lock a family to its place, or let it go."""
        return self.keep(locked(self.evening, player))

    def tick(self, player: UUID) -> bool:
        """Note that a family came, or that it did not."""
        desk, key, came = self.desk, self.evening.key, player not in self.came
        where = desk.tablet.id, desk.now()
        if not desk.save(lambda: desk.season.meetings.note_came(key, player, came, *where)):
            return False
        self.came = self.came | {player} if came else self.came - {player}
        return True

    def print_out(self, paper: str, with_names: bool, told: Callable[[str], None]) -> None:
        """Have all that the evening needs printed beside the season files, and say where it is."""
        path, done = self.desk.season.path, partial(self._printed, self.desk.season, told)
        work = partial(
            family_tasks.print_meetings, path, self.evening.key, meetings_folder(path), paper, with_names
        )
        self._worker.ask(work, done, told)

    def _printed(self, season, told: Callable[[str], None], answer: tuple[str, list[NoteFact]]) -> None:
        sentence, printed = answer
        if printed and season is self.desk.season:
            self.desk.save(lambda: season.notes.add(printed, self.desk.tablet.id, self.desk.now()))
        told(sentence)
