"""What a player was ever called, and which words of it are not only theirs."""

import re
import sqlite3
from collections.abc import Collection, Iterator
from contextlib import suppress
from uuid import UUID

from evaltrack.rink.name_pattern import NamePattern, folded_words, words_in
from evaltrack.store.edits import values_of

_NAMED = (
    "SELECT player, was FROM roster_change WHERE field = 'name'"
    " UNION SELECT player, becomes FROM roster_change WHERE field = 'name'"
    " UNION SELECT id, name FROM player"
)
_EDITS = "SELECT key, value FROM {} WHERE kind = 'player' AND field = 'name'"
# words of the trade: a name that is one of them stands in every plan
_VOCABULARY = (
    "SELECT name || ' ' || caption || ' ' || looks_like || ' ' || at_home FROM skill",
    "SELECT starts || ' ' || done || ' ' || missed || ' ' || not_counted FROM definition",
    "SELECT name FROM drill",
    "SELECT name FROM step",
    "SELECT name FROM slot",
)
_OF_TEAM = "SELECT team || ' ' || age_class FROM season"
_NOBODY = {"bench", "coach"}  # who observes when nobody said so
OBSERVER = "Observer {}"  # who observed, once the season is closed; a pack brings them to other tablets
_NUMBERED = re.compile(OBSERVER.format("[0-9]+"))


def pattern_of(connection: sqlite3.Connection, player: UUID) -> NamePattern:
    """Return the names of a player, all that they ever had, told apart from those of everybody else."""
    return pattern_among(connection, *names_in_season(connection, player))


def pattern_among(connection: sqlite3.Connection, own: list[str], others: set[str]) -> NamePattern:
    """Return names told apart from those of others, of observers among them, and from words of the game."""
    observers = [name for (name,) in connection.execute("SELECT name FROM observer")]
    apart = {name for name in observers if name.casefold() not in {one.casefold() for one in own}}
    usual = folded_words([*others, *apart])
    return NamePattern(own, others | apart, usual | usual_words(connection))


def usual_words(connection: sqlite3.Connection) -> set[str]:
    """Return words, folded, that are no names even where somebody is called so: of the team and the game."""
    small = {word for text in _texts(connection, _VOCABULARY) for word in words_in(text) if word.islower()}
    return small | folded_words(_texts(connection, (_OF_TEAM,)))


def names_ever(connection: sqlite3.Connection) -> set[str]:
    """Return every name that a player of the season ever had."""
    return set(names_in_season(connection, None)[0])


def pattern_of_all(connection: sqlite3.Connection) -> NamePattern:
    """Return the names of everybody whom the season knows: players, also those who left, and observers.

    An observer who is called by words of the game, such as “Bench”, is no name.
    """
    players, _ = names_in_season(connection, None)
    usual = usual_words(connection) | _NOBODY
    observers = [name for (name,) in connection.execute("SELECT name FROM observer")]
    called = [name for name in observers if not (_NUMBERED.fullmatch(name) or folded_words([name]) <= usual)]
    return NamePattern([*players, *called], (), usual)


def names_in_season(connection: sqlite3.Connection, player: UUID | None) -> tuple[list[str], set[str]]:
    """Return every name of a player, and those of all others; without a player all of them, and none."""
    found = [(player is None or player.hex in whose, name) for whose, name in _called(connection)]
    own = list(dict.fromkeys(name for is_own, name in found if is_own and name))
    return own, {name for is_own, name in found if not is_own and name}


def names_of_others(connection: sqlite3.Connection, players: Collection[str]) -> set[str]:
    """Return every name of those who are none of these players, who are given by the digits of their ids."""
    return {name for whose, name in _called(connection) if name and not any(one in whose for one in players)}


def _called(connection: sqlite3.Connection) -> Iterator[tuple[str, str]]:
    """Yield every name that stands in a season, with the digits of whose it is."""
    for raw, name in connection.execute(_NAMED):
        yield raw.hex(), name
    for table in ("edit", "lost_edit"):
        for key, value in connection.execute(_EDITS.format(table)):
            for name in texts_in(value):
                yield key, name


def texts_in(text: str) -> list[str]:
    """Return the texts in a list of JSON, such as the value of a field; none where it is no such list."""
    with suppress(ValueError):
        return [one for one in values_of(text) if type(one) is str]
    return []


def _texts(connection: sqlite3.Connection, selects: tuple[str, ...]) -> list[str]:
    return [text for select in selects for (text,) in connection.execute(select) if text]
