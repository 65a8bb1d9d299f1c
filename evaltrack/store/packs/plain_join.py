"""The quick way for packs that bring nothing but facts that stand alone, as tallies do: those of a practice.

A join works out anew what is in force, and reads the whole file for it. Where a pack has no practice, no
definition, no change and no erasure that this file does not know, none of that can come out otherwise: its
facts are put in as `joining` does, and proved as there, and that is all. No tap waits for it. Whatever else
there is, and whatever is wrong with a pack, is left to `joining`.
"""

import sqlite3

from evaltrack.errors import EvaltrackError
from evaltrack.rink.begun_practice import Begun, NewKeys
from evaltrack.store.connection import transaction
from evaltrack.store.erased import erased_players
from evaltrack.store.packs.gathering import held_here, season_ident
from evaltrack.store.packs.joined import Joined
from evaltrack.store.packs.merge_rules import FACTS, PLAIN
from evaltrack.store.packs.pack_file import Pack
from evaltrack.store.packs.proving import prove_facts
from evaltrack.store.packs.rows import Fact, Shape
from evaltrack.store.packs.translating import Translation, definitions_here

_MOST_CHANGES = 5_000  # fields; to look at more one by one takes longer than a join
_VALUE = "SELECT value FROM edit WHERE kind = ? AND key = ? AND field = ? AND clock = ? AND tablet = ?"
Facts = dict[str, list[Fact]]


def join_plain(connection: sqlite3.Connection, pack: Pack) -> tuple[Joined, dict[str, Shape], Facts] | None:
    """Take a pack of facts alone in, and return what became of it, with the facts and their shapes.

    None, and nothing has changed, when it has more, or anything is wrong with it: that is for `joining.join`.
    """
    try:
        shapes = {table: Shape(connection, table) for table in FACTS if pack.facts.get(table)}
        found = _only_facts(connection, pack, shapes)
        if found is None:
            return None
        result = Joined()
        new = {table: _unknown(shapes[table], facts) for table, facts in found.items()}
        with transaction(connection):
            for table, facts in new.items():
                shapes[table].put(facts)
                result.new[table] = len(facts)
            prove_facts(connection, shapes, new)
    except (_Differs, EvaltrackError, ValueError, OverflowError, sqlite3.Error):
        return None
    return result, shapes, found


class _Differs(Exception):  # noqa: N818  nothing is wrong
    """Another fact has the key of one of the pack."""


def _only_facts(connection: sqlite3.Connection, pack: Pack, shapes: dict[str, Shape]) -> Facts | None:
    """Return the facts of the pack as this file has them; None when it has anything that must be merged."""
    if (pack.header.season, pack.header.made) != season_ident(connection) or pack.foreign:
        return None
    if not (_begun_known(connection, pack, shapes) and _edits_known(connection, pack, shapes)):
        return None
    versions = definitions_here(connection)
    if not _definitions_known(pack, shapes, versions):
        return None
    for table in shapes.keys() - {"begun", "edit", "definition", *PLAIN}:
        if _unknown(shapes[table], [*map(shapes[table].fact, pack.facts[table])]):
            return None
    same = {(skill, version): version for (skill, _, _), version in versions.items()}
    translation = Translation(NewKeys({}, {}), same, erased_players(connection))
    return {
        table: [
            fact
            for row in pack.facts[table]
            if (fact := translation.of(shapes[table], shapes[table].fact(row)))
        ]
        for table in PLAIN
        if table in shapes
    }


def _begun_known(connection: sqlite3.Connection, pack: Pack, shapes: dict[str, Shape]) -> bool:
    here, given = held_here(connection), pack.facts.get("begun", [])
    rows = map(shapes["begun"].row, given) if given else ()
    return all(here.get(Begun(*row[:4])) == row[4] for row in rows)


def _edits_known(connection: sqlite3.Connection, pack: Pack, shapes: dict[str, Shape]) -> bool:
    given = pack.facts.get("edit", [])
    if len(given) > _MOST_CHANGES:
        return False
    rows = map(shapes["edit"].row, given) if given else ()
    return all(connection.execute(_VALUE, row[:5]).fetchone() == (row[5],) for row in rows)


def _definitions_known(pack: Pack, shapes: dict[str, Shape], here: dict[tuple, int]) -> bool:
    given = pack.facts.get("definition", [])
    if not given:
        return True
    shape = shapes["definition"]
    spots = [shape.at(name) for name in ("skill", "clock", "tablet", "version")]
    rows = [tuple(shape.fact(row).row[at] for at in spots) for row in given]
    return all(here.get(row[:3]) == row[3] for row in rows)


def _unknown(shape: Shape, facts: list[Fact]) -> list[Fact]:
    """Return the facts that are not there, each once; _Differs where another one has a key of them."""
    new: dict[tuple, Fact] = {}
    for fact in facts:
        key = shape.key_of(fact.row)
        known = new.get(key) or shape.find(key)
        if known is None:
            new[key] = fact
        elif known.text() != fact.text():
            raise _Differs
    return list(new.values())
