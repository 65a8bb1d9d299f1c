"""Players and observers in the season file."""

import sqlite3
from collections.abc import Iterable
from dataclasses import astuple
from datetime import date
from functools import partial

from evaltrack.rink.plain_text import by_letters
from evaltrack.rink.player import BETWEEN, Player, Position, Status, by_number, may_be_both, status_in
from evaltrack.rink.roster_change import NumbersWorn, RosterChange, RosterField, changes_between
from evaltrack.store import sound
from evaltrack.store.clock import next_number
from evaltrack.store.connection import reading, transaction, writing
from evaltrack.store.edits import noting
from evaltrack.store.erased import NAMELESS
from evaltrack.store.known import known_players
from evaltrack.store.room import refuse_overfull

_FIELDS = "number, name, position, birth_year, status, away_until, also"
_INSERT = f"INSERT INTO player (id, {_FIELDS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
_PUT = (
    f"{_INSERT} ON CONFLICT (id) DO UPDATE SET number = excluded.number, name = excluded.name,"
    " position = excluded.position, birth_year = excluded.birth_year, status = excluded.status,"
    " away_until = excluded.away_until, also = excluded.also"
)
_CHANGE = "player, field, was, becomes, day, tablet, at"
_NOTE = f"INSERT INTO roster_change (nth, {_CHANGE}) VALUES (?, ?, ?, ?, ?, ?, ?, ?)"


class People:
    """The roster and those who observe.

    Who has left the team is in ``everyone`` and not in ``players``. The changes of the roster only grow;
    the players themselves are as they are now.
    """

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def players(self) -> list[Player]:
        """Return the team in order of number, without those who have left."""
        return [player for player in self.everyone() if player.status is not Status.LEFT]

    @reading()
    def everyone(self) -> list[Player]:
        """Return all players of the season in order of number, those who have left among them.

        Not those who were erased and of whom the tries alone are kept.
        """
        rows = self._connection.execute(f"SELECT {_FIELDS}, id FROM player WHERE id NOT IN ({NAMELESS})")
        players = [_player(*row) for row in sound.no_more_than(sound.MOST_PLAYERS, rows, "players")]
        worn = (player.number for player in players if player.status is not Status.LEFT)
        sound.each_once(worn, "the number of a player")
        sound.each_once((player.id for player in players), "a player")
        return sorted(players, key=by_number)

    @reading()
    def nobody(self) -> list[Player]:
        """Return those of whom only the tries are kept, each apart, without name and number; in no order."""
        rows = self._connection.execute(f"SELECT {_FIELDS}, id FROM player WHERE id IN ({NAMELESS})")
        return [_player(*row) for row in sound.no_more_than(sound.MOST_PLAYERS, rows, "players")]

    def in_figures(self) -> list[Player]:
        """Return who makes the team's figures: the team; of a season that was closed, everyone as nobody."""
        return self.players() or self.nobody()

    def add(self, players: Iterable[Player]) -> None:
        """Add the players with whom a season begins, all or none; NotSavedError when a number is taken."""
        with transaction(self._connection):
            self._connection.executemany(_INSERT, map(_row, players))

    def change(self, players: Iterable[Player], day: date, tablet: str) -> list[RosterChange]:
        """Put players in place of those with their ids, and add new ones; all or none. Return what changed.

        Parameters
        ----------
        day : from which on the changes hold; the numbers before it stay what they were.

        Raises
        ------
        NotSavedError : two players of the team would have the same number, or it is not on disk.
        """
        with transaction(self._connection):
            known = {player.id: player for player in self.everyone()}
            wanted = [player for player in players if known.get(player.id) != player]
            made = [c for p in wanted for c in changes_between(known.get(p.id), p, day, tablet)]
            at = max((change.at for change in made), default=0)
            with noting(self._connection, tablet, at, "player"):
                # first of all their numbers are free, so that two players can swap them
                freed = [(player.id.bytes,) for player in wanted]
                self._connection.executemany("UPDATE player SET status = 'left' WHERE id = ?", freed)
                self._connection.executemany(_PUT, map(_row, wanted))
            for c in made:
                row = (c.player.bytes, *astuple(c)[1:4], c.day.isoformat(), c.tablet, c.at)
                nth = next_number(self._connection, "roster_change", c.at, "player = ?", row[:1])
                self._connection.execute(_NOTE, (nth, *row))
            refuse_overfull(self._connection, "player", sound.MOST_PLAYERS, "players, with those who left")
            refuse_overfull(self._connection, "roster_change", sound.MOST_CHANGES, "changes of the roster")
        return made

    @reading()
    def changes(self) -> list[RosterChange]:
        """Return every change of the roster, as they came."""
        rows = self._connection.execute(f"SELECT {_CHANGE} FROM roster_change ORDER BY nth, tablet")
        known = known_players(self._connection)
        return [_change(row, known) for row in sound.no_more_than(sound.MOST_CHANGES, rows, "changes")]

    def numbers_worn(self) -> NumbersWorn:
        """Return who wore which number on which day."""
        return NumbersWorn(self.everyone(), self.changes())

    @reading()
    def observers(self) -> list[str]:
        """Return the names of all who have observed or may observe, in order of name."""
        rows = self._connection.execute("SELECT name FROM observer")
        names = [sound.observer(*row) for row in sound.no_more_than(sound.MOST_OBSERVERS, rows, "observers")]
        return sorted(names, key=by_letters)

    def add_observer(self, name: str) -> None:
        """Add an observer; one who is there already stays."""
        with writing(self._connection):
            self._connection.execute("INSERT INTO observer VALUES (?) ON CONFLICT (name) DO NOTHING", (name,))


def _row(player: Player) -> tuple:
    return (
        *(player.id.bytes, player.number, player.name),
        *(player.position, player.birth_year, player.status),
        *(player.away_until and player.away_until.isoformat(), player.also),
    )


def _player(number, name, position, birth_year, status, away_until, also, ident) -> Player:
    first = sound.word(Position, position, "the position of a player")
    return Player(
        sound.digits(number, "the number of a player"),
        sound.name(name, "the name of a player"),
        first,
        sound.maybe(sound.year, birth_year, "the year in which a player was born"),
        sound.word(Status, status, "the status of a player"),
        sound.ident(ident, "the id of a player"),
        sound.maybe(sound.day, away_until, "the day until which a player is away"),
        sound.maybe(partial(_second, first), also, "the second position of a player"),
    )


def _second(first: Position, value: object, what: str) -> Position:
    second = sound.word(Position, value, what)
    if not may_be_both(first, second):
        raise sound.unlike(what)
    return second


def _value(part: object, text: object) -> str:
    """Return what was or became in a field of a player; only a number is never empty."""
    what = "a change of the roster"
    if part == RosterField.NUMBER:
        return sound.digits(text, what)
    text = sound.name(text, what)
    if text and part == RosterField.POSITION:
        return _positions(text, what)
    if text and part == RosterField.BIRTH_YEAR:
        return sound.digits(text, what)
    if text and part == RosterField.STATUS:
        try:
            status_in(text)
        except ValueError:
            raise sound.unlike(what) from None
    return text


def _positions(text: str, what: str) -> str:
    first, between, second = text.partition(BETWEEN)
    counts = sound.word(Position, first, what)
    return f"{counts}{BETWEEN}{_second(counts, second, what)}" if between else counts


def _change(row, known) -> RosterChange:
    player, part, was, becomes, day, tablet, at = row
    return RosterChange(
        sound.of(known, player, "a change of the roster"),
        sound.word(RosterField, part, "a change of the roster"),
        _value(part, was),
        _value(part, becomes),
        sound.day(day, "the day of a change of the roster"),
        sound.tablet(tablet),
        sound.moment(at, "the moment of a change of the roster"),
    )
