"""Names of players who were erased here, in what a tablet noted that has them still.

This file knows ids alone. A pack of such a tablet has the names by them, so they are struck out of all that
comes in, as erasing did. Where it has none, nobody can tell, and the texts that came in are told.
"""

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field

from evaltrack.rink.name_pattern import NamePattern
from evaltrack.store.erased import NAMELESS
from evaltrack.store.erasing.taking_out import is_of_file, words_of_file
from evaltrack.store.erasing.whose_names import names_of_others, pattern_among, texts_in
from evaltrack.store.packs.joined import Written
from evaltrack.store.packs.merge_rules import FACTS
from evaltrack.store.packs.rows import Fact, Shape

# in which somebody writes what they like
_TEXTS = ("practice_comment", "player_comment", "practice_plan", "ice_time", "note_fact", "meeting_evening")
Facts = Mapping[str, list[Fact]]


@dataclass
class ErasedNames:
    """What a pack says of the names of erased players.

    Parameters
    ----------
    names : those that it has by their ids.
    unnamed : whether somebody was erased of whom it has neither the name nor that they were erased.
    made : texts in which a name was struck out.
    """

    names: NamePattern
    unnamed: bool
    own: frozenset[str]
    made: set[str] = field(default_factory=set)
    _known: dict[str, str] = field(default_factory=dict)

    def fact(self, fact: Fact) -> Fact:
        """Return a fact without the names."""
        if not self.names.needles:
            return fact
        parts = {table: [*map(self.row, rows)] for table, rows in fact.parts.items()}
        return Fact(self.row(fact.row), parts)

    def row(self, row: tuple) -> tuple:
        """Return a row without the names."""
        return tuple(self.text(value) if type(value) is str else value for value in row)

    def text(self, text: str) -> str:
        """Return a text without the names; words by which the file itself is read stay."""
        if text not in self._known:
            self._known[text] = rest = text if is_of_file(text, self.own) else self.names.struck(text)
            self.made.update([rest] if rest != text else [])
        return self._known[text]

    def count(self, facts: Iterable[Fact]) -> int:
        """Return in how many facts a name was struck out."""
        return sum(self._is_in(fact) for fact in facts) if self.made else 0

    def _is_in(self, fact: Fact) -> bool:
        rows = fact.row, *(row for rows in fact.parts.values() for row in rows)
        return any(not self.made.isdisjoint(row) for row in rows)


def erased_names(connection: sqlite3.Connection, facts: Facts, shapes: Mapping[str, Shape]) -> ErasedNames:
    """Return what a pack says of the names of who was erased, within a join that has its list of them."""
    erased = {raw for (raw,) in connection.execute("SELECT player FROM erased")}
    named = _named(facts, shapes) if erased else {}
    own = [name for player in erased for name in sorted(named.get(player, ()))]
    others = {name for player, names in named.items() if player not in erased for name in names}
    others |= names_of_others(connection, {player.hex() for player in erased}) if own else set()
    nameless = {raw for (raw,) in connection.execute(NAMELESS)}
    there = {fact.row[0] for fact in facts.get("erased", ())}
    return ErasedNames(
        pattern_among(connection, own, others),
        bool(erased - nameless - there - named.keys()),
        words_of_file(connection) if own else frozenset(),
    )


def _named(facts: Facts, shapes: Mapping[str, Shape]) -> dict[bytes, set[str]]:
    """Return every name that a pack has, by player."""
    found: dict[bytes, set[str]] = defaultdict(set)
    for fact in facts.get("edit", ()):
        kind, key, part, *_, value = fact.row
        if (kind, part) == ("player", "name"):
            for player in _ids(key):
                found[player].update(filter(None, texts_in(value)))
    for fact in facts.get("roster_change", ()):
        player, part, *names = shapes["roster_change"].of(fact.row, "player", "field", "was", "becomes")
        if part == "name":
            found[player].update(filter(None, names))
    return {player: names for player, names in found.items() if names}


def _ids(key: str) -> list[bytes]:
    with suppress(ValueError):
        return [bytes.fromhex(one) for one in texts_in(key)]
    return []  # damaged, which is found out where it is put in force


def written(shape: Shape, new: Iterable[Fact]) -> list[Written]:
    """Return which texts of somebody are among new facts."""
    if shape.table not in _TEXTS:
        return []
    return [Written(shape.table, shape.of(fact.row, *FACTS[shape.table].about), "", fact.row,
                    *shape.of(fact.row, "tablet", "nth")) for fact in new]  # fmt: skip
