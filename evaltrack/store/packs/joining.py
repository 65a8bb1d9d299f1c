"""Packs of other tablets taken into a season file: all of it or nothing, in one transaction.

Everything but facts is worked out anew from what is known then, so it does not matter in which order packs
come, how often, or whether some were lost on the way.
"""

import sqlite3
from collections.abc import Iterable, Sequence

from evaltrack.errors import EvaltrackError, NotSavedError
from evaltrack.language import tr
from evaltrack.rink.begun_practice import Begun, NewKeys, keys_of, of_one_start
from evaltrack.rink.name_pattern import STRUCK
from evaltrack.store import sound
from evaltrack.store.clock import AHEAD
from evaltrack.store.connection import transaction
from evaltrack.store.edits import KINDS
from evaltrack.store.erased import erased_but_here, erased_players
from evaltrack.store.packs.erased_names import ErasedNames, erased_names, written
from evaltrack.store.packs.gathering import base_edits, held_here, season_ident
from evaltrack.store.packs.in_force import InForce
from evaltrack.store.packs.joined import Joined
from evaltrack.store.packs.last_words import put_in_force
from evaltrack.store.packs.lost_edits import Sides, note_lost
from evaltrack.store.packs.merge_rules import FACTS
from evaltrack.store.packs.pack_file import Pack, PackError, unlike
from evaltrack.store.packs.plain_join import join_plain
from evaltrack.store.packs.proving import prove
from evaltrack.store.packs.renaming import rename_here, renumber_here
from evaltrack.store.packs.rows import LONGEST_FACT, Fact, Shape
from evaltrack.store.packs.same_clock import heaviest, weight
from evaltrack.store.packs.sound_pages import whole_read
from evaltrack.store.packs.translating import Translation, definitions_here, numbered

_BY_CLOCK = {"edit": "clock", "begun": "clock", "tally": "at", "practice_comment": "nth", "ice_time": "nth"}
_OWN_WAY = ("erased", "begun", "definition", "edit")  # of the tables of facts
_EDIT = "INSERT OR REPLACE INTO edit VALUES (?, ?, ?, ?, ?, ?)"


class _TakenBack(Exception):  # noqa: N818  nothing is wrong
    """Ends a rehearsal."""


def join(
    connection: sqlite3.Connection, packs: Sequence[tuple[str, Pack]], now: int, rehearse: bool = False
) -> Joined:
    """Take packs in, each with the name that sentences call it by, all or nothing; return what became of it.

    Parameters
    ----------
    now : the moment by this tablet's clock, against which wrong clocks are told.
    rehearse : take all of it back at the end, and only say what would change.

    Raises
    ------
    PackError
        One of them is of another season, or has what no season file may have.
    NotSavedError
        It is not on disk, or builds on an earlier pack that was not joined.
    """
    if not rehearse and len(packs) == 1 and (quick := join_plain(connection, packs[0][1])):
        result, shapes, facts = quick
        _clocks(shapes, facts, now, result)
        return result
    result = Joined()
    with whole_read(connection):
        pass  # a join reads all of the file too, and within its transaction nothing ends that
    try:
        with transaction(connection):
            for name, pack in packs:
                _one(connection, name, pack, now, result)
            if rehearse:
                raise _TakenBack
    except _TakenBack:
        pass
    return result


def _one(connection: sqlite3.Connection, name: str, pack: Pack, now: int, result: Joined) -> None:
    if (pack.header.season, pack.header.made) != season_ident(connection):
        raise PackError(tr('"{name}" is of another season; nothing was taken in', name=name))
    connection.execute("PRAGMA defer_foreign_keys = ON")
    try:
        _take_in(connection, pack, now, result)
        stray = connection.execute("PRAGMA foreign_key_check").fetchone()
    except NotSavedError:
        raise
    except (EvaltrackError, ValueError, OverflowError, sqlite3.IntegrityError, sqlite3.DataError) as error:
        why = str(error) if isinstance(error, PackError) else tr("it has what no season file may have")
        raise PackError(
            tr('"{name}" is damaged or was changed: {why}; nothing was taken in', name=name, why=why)
        ) from error
    if stray and pack.header.since:
        raise PackError(
            tr(
                '"{name}" goes on from an earlier pack, which was not joined yet; join that one first',
                name=name,
            )
        )
    if stray:
        raise PackError(
            tr(
                '"{name}" is damaged or was changed: it names what is not there; nothing was taken in',
                name=name,
            )
        )


def _take_in(connection: sqlite3.Connection, pack: Pack, now: int, result: Joined) -> None:
    shapes = {table: Shape(connection, table) for table in FACTS}
    facts = {table: [*map(shapes[table].fact, found)] for table, found in pack.facts.items()}
    before = connection.execute("SELECT count(*) FROM practice").fetchone()[0]
    _plain(shapes["erased"], facts.get("erased", []), result)
    names = erased_names(connection, facts, shapes)
    facts = {table: [*map(names.fact, found)] for table, found in facts.items()}
    _foreign(connection, pack.foreign, names)
    connection.executemany(_EDIT, base_edits(connection))
    _refuse_damaged(connection)
    keys = _practices(connection, facts.get("begun", []), result)
    versions = _definitions(shapes["definition"], facts.get("definition", []), result)
    translation = Translation(keys, versions, erased_players(connection))
    sides = Sides(pack.header)
    changed = _edits(connection, facts.get("edit", []), translation, sides, result)
    result.struck += names.count(changed)
    for table in FACTS:
        if table not in _OWN_WAY:
            found = (translation.of(shapes[table], fact) for fact in facts.get(table, []))
            mine = [fact for fact in found if fact]
            facts[table] = mine
            new = _plain(shapes[table], mine, result)
            sides.facts(connection, table, shapes[table], mine, new)
            result.struck += names.count(new)
            result.to_read += written(shapes[table], new) if names.unnamed else []
    result.doubled = put_in_force(connection)
    note_lost(connection, sides, result)
    prove(connection, shapes, facts)
    _clocks(shapes, facts, now, result)
    result.practices += connection.execute("SELECT count(*) FROM practice").fetchone()[0] - before
    result.erased = erased_but_here(connection)


def _refuse_damaged(connection: sqlite3.Connection) -> None:
    """Refuse to join into a file that has what no season file may have: it is not the pack's fault."""
    try:
        InForce(connection)
    except PackError:
        raise NotSavedError(
            tr("not saved: {damaged}", damaged=sound.damaged("a change of a field"))
        ) from None


def _foreign(connection: sqlite3.Connection, lines: Iterable[str], names: ErasedNames) -> None:
    if any(len(line) > LONGEST_FACT for line in lines):
        raise unlike("a fact of a newer evaltrack")
    erased = [player.hex() for player in erased_players(connection)]
    rows = [(names.text(line),) for line in lines if not any(player in line.lower() for player in erased)]
    connection.executemany("INSERT INTO foreign_fact VALUES (?) ON CONFLICT (line) DO NOTHING", rows)


def _plain(shape: Shape, facts: list[Fact], result: Joined) -> list[Fact]:
    """Put facts in that are not there, and return them; of two with one key the heavier one stays."""
    new: dict[tuple, Fact] = {}
    for fact in facts:
        key = shape.key_of(fact.row)
        known = new.get(key) or shape.find(key)
        if known is None:
            new[key] = fact
        elif known.text() != fact.text():
            # a name that was struck out on one tablet is no clash
            if not (FACTS[shape.table].quiet or STRUCK in max(known.text(), fact.text(), key=weight)):
                result.clashes[shape.table] += 1
            if weight(known.text()) < weight(fact.text()):
                if key not in new:
                    shape.delete(key)
                new[key] = fact
    shape.put(list(new.values()))
    result.new[shape.table] += len(new)
    return list(new.values())


def _practices(connection: sqlite3.Connection, facts: list[Fact], result: Joined) -> NewKeys:
    """Give every practice its key, now that more of them are known; return what the pack's keys become."""
    theirs = {Begun(*fact.row[:4]): fact.row[4] for fact in facts}
    mine, theirs = of_one_start(held_here(connection), theirs)
    keys = keys_of([*mine, *theirs])
    new = NewKeys(keys, mine)
    rename_here(connection, new)
    result.renamed |= {old: key for old, key in new.first.items() if old != key}
    connection.execute("DELETE FROM begun")
    rows = [(*one, key) for one, key in keys.items()]
    connection.executemany("INSERT INTO begun VALUES (?, ?, ?, ?, ?)", rows)
    return NewKeys(keys, theirs)


def _definitions(shape: Shape, facts: list[Fact], result: Joined) -> dict[tuple[str, int], int]:
    """Give every definition its number, now that more of them are known; return what the pack's become."""
    connection = shape.connection
    mine = definitions_here(connection)
    spots = [shape.at(name) for name in ("skill", "clock", "tablet", "version")]
    theirs = {tuple(fact.row[at] for at in spots[:3]): fact for fact in facts}
    numbers = numbered({*mine, *theirs})
    renumber_here(connection, {(one[0], version): numbers[one] for one, version in mine.items()})
    at = spots[3]
    new = [
        (*fact.row[:at], numbers[one], *fact.row[at + 1 :]) for one, fact in theirs.items() if one not in mine
    ]
    shape.insert(new)
    result.new["definition"] += len(new)
    return {(one[0], fact.row[at]): numbers[one] for one, fact in theirs.items()}


def _edits(
    connection: sqlite3.Connection, facts: list[Fact], translation: Translation, sides: Sides, result: Joined
) -> list[Fact]:
    given = [translation.edit(fact.row) for fact in facts]
    given = [row for row in given if not _is_erased(row, translation.erased)]
    if any(row[0] not in KINDS for row in given):
        raise unlike("a change")
    known = {row[:5]: row[5] for row in connection.execute("SELECT * FROM edit")}
    sides.edits(known, {row[:5]: row[5] for row in given})
    new = [row for row in given if known.get(row[:5]) != row[5]]
    clashing = ((*row[:5], known[row[:5]]) for row in new if row[:5] in known)
    connection.executemany(_EDIT, heaviest([*clashing, *new]))
    result.new["edit"] += sum(row[:5] not in known and row[3] > 0 for row in new)
    return [Fact(row, {}) for row in new]


def _is_erased(row: tuple, erased: frozenset[bytes]) -> bool:
    return row[0] in ("player", "attendance") and any(player.hex() in row[1] for player in erased)


def _clocks(shapes: dict[str, Shape], facts: dict[str, list[Fact]], now: int, result: Joined) -> None:
    """Find the tablets whose clocks are more than a day ahead: their facts are kept and count."""
    for table, column in _BY_CLOCK.items():
        for fact in facts.get(table, ()):
            clock, tablet = shapes[table].of(fact.row, column, "tablet")
            if clock > now + AHEAD:
                result.ahead[tablet] = max(result.ahead.get(tablet, 0), clock - now)
