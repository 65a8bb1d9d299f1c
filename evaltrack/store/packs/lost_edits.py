"""Changes of one thing that two tablets made without each other: the newer one is in force, both are kept."""

import sqlite3
from collections import defaultdict

from evaltrack.store import sound
from evaltrack.store.connection import reading
from evaltrack.store.edits import KINDS, as_text, values_of
from evaltrack.store.packs.joined import Joined, Lost
from evaltrack.store.packs.merge_rules import FACTS
from evaltrack.store.packs.pack_file import Header
from evaltrack.store.packs.rows import Fact, Shape

# what two tablets at one practice note each for itself, and which is no contradiction
_QUIET = {("practice", "ended_at"), ("practice", "surface"), ("definition", "since")}
_FLAG_ONLY = {("attendance", "here")}  # when somebody came is no contradiction either
_COLUMNS = "kind, key, field, clock, tablet, value"


class Sides:
    """What this file has that a pack has not, and the other way round, of things that both changed."""

    def __init__(self, header: Header):
        self._whole = not header.since
        self.met: list[tuple[tuple, tuple]] = []  # the last change here, the last one there

    def edits(self, here: dict[tuple, str], there: dict[tuple, str]) -> None:
        """Compare the values of fields, by kind, key, field, clock and tablet."""
        only = {"here": here.keys() - there.keys(), "there": there.keys() - here.keys()}
        last: dict[str, dict] = {side: {} for side in only}
        for side, found in only.items():
            for row in sorted(found, key=lambda row: row[3:]):
                if row[3] > 0 and _is_told(row):
                    last[side][row[:3]] = row
        for register in last["here"].keys() & last["there"].keys():
            mine, theirs = last["here"][register], last["there"][register]
            if _told(mine, here[mine]) != _told(theirs, there[theirs]):
                self.met.append(((*mine, here[mine]), (*theirs, there[theirs])))

    def facts(
        self, connection: sqlite3.Connection, table: str, shape: Shape, given: list[Fact], new: list[Fact]
    ) -> None:
        """Compare facts of which the last one is in force."""
        rule = FACTS[table]
        if not rule.about or not new or not (rule.always or self._whole):
            return
        told = {shape.key_of(fact.row) for fact in given}
        rows = connection.execute(f"SELECT {shape.listed} FROM {table}").fetchall()
        here = _last_of(shape, rule.about, [row for row in rows if shape.key_of(row) not in told])
        there = _last_of(shape, rule.about, [fact.row for fact in new])
        for about in here.keys() & there.keys():
            self.met.append(tuple(_as_edit(shape, about, side[about]) for side in (here, there)))


def _is_told(row: tuple) -> bool:
    kind, _, field = row[:3]
    rules = {one.name: one.rule for one in KINDS[kind].fields} if kind in KINDS else {}
    return (kind, field) not in _QUIET and rules.get(field, "last") == "last"


def _told(row: tuple, value: str) -> object:
    return values_of(value)[:1] if (row[0], row[2]) in _FLAG_ONLY else value


def _last_of(shape: Shape, about: tuple[str, ...], rows: list[tuple]) -> dict[tuple, tuple]:
    spots = [shape.at(name) for name in about]
    order = shape.at("nth"), shape.at("tablet")
    ordered = sorted(rows, key=lambda row: tuple(row[at] for at in order))
    return {tuple(row[at] for at in spots): row for row in ordered}


def _as_edit(shape: Shape, about: tuple, row: tuple) -> tuple:
    return (shape.table, as_text(about), "", row[shape.at("nth")], row[shape.at("tablet")], as_text(row))


def note_lost(connection: sqlite3.Connection, sides: Sides, result: Joined) -> None:
    """Keep and tell which of two changes that met has lost."""
    found = defaultdict(list)
    for pair in sides.met:
        lost, won = sorted(pair, key=lambda row: row[3:])
        found[lost[:3]].append((lost, won))
        result.lost.append(_lost(lost, won))
    rows = [lost for pairs in found.values() for lost, _ in pairs]
    connection.executemany(
        f"INSERT INTO lost_edit ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?)"
        " ON CONFLICT (kind, key, field, clock, tablet) DO NOTHING",
        rows,
    )


def _lost(lost: tuple, won: tuple | None = None) -> Lost:
    kind, key, field, clock, tablet, value = lost
    what = tuple(values_of(key)), field, tuple(values_of(value))
    if won is None:
        return Lost(kind, *what, tablet, clock)
    return Lost(kind, *what, tablet, clock, tuple(values_of(won[5])), won[4])


@reading()
def lost_so_far(connection: sqlite3.Connection) -> list[Lost]:
    """Return every change that a join has found outdone, the latest first."""
    rows = connection.execute(f"SELECT {_COLUMNS} FROM lost_edit ORDER BY clock DESC, tablet, kind, key")
    widths = {
        (kind.table, field.name): len(field.columns) for kind in KINDS.values() for field in kind.fields
    }
    widths |= {
        (table, ""): len(Shape(connection, table).columns) for table, rule in FACTS.items() if rule.about
    }
    try:
        found = [_lost(row) for row in sound.no_more_than(sound.MOST_CHANGES, rows, "lost changes")]
        if any(len(one.value) != widths.get((one.kind, one.field), len(one.value)) for one in found):
            raise ValueError
        return found
    except (ValueError, TypeError):
        raise sound.unlike("a lost change") from None
