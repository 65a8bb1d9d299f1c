"""Players and observers in the season file."""

import sqlite3
from collections.abc import Iterable

from evaltrack.rink.plain_text import by_letters
from evaltrack.rink.player import Player, Position, Status, by_number
from evaltrack.store import sound
from evaltrack.store.connection import reading, transaction, writing


class People:
    """The roster and those who observe."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    @reading()
    def players(self) -> list[Player]:
        """Return the whole roster in order of number."""
        rows = self._connection.execute("SELECT number, name, position, birth_year, status, id FROM player")
        players = [_player(*row) for row in sound.no_more_than(sound.MOST_PLAYERS, rows, "players")]
        sound.each_once((player.number for player in players), "the number of a player")
        sound.each_once((player.id for player in players), "a player")
        return sorted(players, key=by_number)

    def add(self, players: Iterable[Player]) -> None:
        """Add players, all or none; NotSavedError when a number is taken."""
        with transaction(self._connection):
            self._connection.executemany(
                "INSERT INTO player (id, number, name, position, birth_year, status)"
                " VALUES (?, ?, ?, ?, ?, ?)",
                [(p.id.bytes, p.number, p.name, p.position, p.birth_year, p.status) for p in players],
            )

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


def _player(number, name, position, birth_year, status, ident) -> Player:
    return Player(
        sound.digits(number, "the number of a player"),
        sound.name(name, "the name of a player"),
        sound.word(Position, position, "the position of a player"),
        sound.maybe(sound.year, birth_year, "the year in which a player was born"),
        sound.word(Status, status, "the status of a player"),
        sound.ident(ident, "the id of a player"),
    )
