"""Facts as rows of their tables and as lines of a pack: values become one another, and are looked at."""

import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from evaltrack.language import tr
from evaltrack.store import sound
from evaltrack.store.clock import LAST
from evaltrack.store.edits import as_text
from evaltrack.store.packs.merge_rules import FACTS
from evaltrack.store.packs.pack_file import unlike

Parts = dict[str, list[tuple]]
LONGEST_FACT = 400_000  # characters, of the longest text of a row


@dataclass(frozen=True)
class Fact:
    """A row of a table of facts, with the rows that belong to it, by their table."""

    row: tuple
    parts: Parts

    def text(self) -> str:
        """Return the text by which two facts under one key are compared."""
        return as_text([self.row, {table: sorted(map(as_text, rows)) for table, rows in self.parts.items()}])


class Shape:
    """The columns of one table of facts and of its parts, as SQLite has them."""

    def __init__(self, connection: sqlite3.Connection, table: str):
        self.table, self.connection = table, connection
        described = connection.execute(f"PRAGMA table_info({table})").fetchall()
        self.columns = tuple(row[1] for row in described)
        keyed = sorted((row[5], at) for at, row in enumerate(described) if row[5])
        self.key = tuple(at for _, at in keyed)
        self._takes = tuple(
            _taker(f"{table}.{name}", name, kind, bool(needed)) for _, name, kind, needed, *_ in described
        )

    @cached_property
    def parts(self) -> dict[str, "Shape"]:
        """Return the shapes of the tables with its parts."""
        return {table: Shape(self.connection, table) for table in FACTS[self.table].parts}

    def at(self, column: str) -> int:
        """Return where a column stands in a row."""
        return self.columns.index(column)

    def of(self, row: tuple, *columns: str) -> tuple:
        """Return the values of some columns of a row."""
        return tuple(row[self.at(column)] for column in columns)

    def key_of(self, row: tuple) -> tuple:
        """Return the values by which a row is known."""
        return tuple(row[at] for at in self.key)

    def row(self, values: object) -> tuple:
        """Return a row from what stands in a pack; PackError for a value that no evaltrack writes."""
        if type(values) is not list or len(values) != len(self._takes):
            raise unlike(tr("a row of {table}", table=self.table))
        return tuple(take(value) for take, value in zip(self._takes, values, strict=True))

    def fact(self, values: list) -> Fact:
        """Return a fact from what stands in a pack, parts and all; each part must belong to it."""
        if not self.parts:
            return Fact(self.row(values), {})
        given = values[-1]
        if type(given) is not dict or given.keys() != self.parts.keys():
            raise unlike(tr("a row of {table}", table=self.table))
        row = self.row(values[:-1])
        parts = {table: [*map(shape.row, _list(given[table]))] for table, shape in self.parts.items()}
        for table, rows in parts.items():
            spots = [self.parts[table].at(name) for name in FACTS[self.table].parts[table]]
            if any(tuple(one[at] for at in spots) != self.key_of(row) for one in rows):
                raise unlike(tr("a row of {table}", table=table))
        return Fact(row, parts)

    def find(self, key: tuple) -> Fact | None:
        """Return the fact of the file with this key."""
        where = " AND ".join(f"{self.columns[at]} = ?" for at in self.key)
        row = self.connection.execute(f"SELECT {self.listed} FROM {self.table} WHERE {where}", key).fetchone()
        return row and Fact(row, self._parts_of(key))

    def _parts_of(self, key: tuple) -> Parts:
        found = {}
        for table, shape in self.parts.items():
            where = " AND ".join(f"{name} = ?" for name in FACTS[self.table].parts[table])
            select = f"SELECT {shape.listed} FROM {table} WHERE {where}"
            found[table] = self.connection.execute(select, key).fetchall()
        return found

    @cached_property
    def listed(self) -> str:
        """Return the columns as SQL has them."""
        return ", ".join(self.columns)

    def insert(self, rows: list[tuple]) -> None:
        """Insert rows that are not there."""
        marks = ", ".join("?" * len(self.columns))
        self.connection.executemany(f"INSERT INTO {self.table} ({self.listed}) VALUES ({marks})", rows)

    def put(self, facts: list[Fact]) -> None:
        """Insert facts that are not there, with their parts."""
        self.insert([fact.row for fact in facts])
        for table, shape in self.parts.items():
            shape.insert([row for fact in facts for row in fact.parts[table]])

    def delete(self, key: tuple) -> None:
        """Take a fact out, with its parts."""
        for table, names in FACTS[self.table].parts.items():
            where = " AND ".join(f"{name} = ?" for name in names)
            self.connection.execute(f"DELETE FROM {table} WHERE {where}", key)
        where = " AND ".join(f"{self.columns[at]} = ?" for at in self.key)
        self.connection.execute(f"DELETE FROM {self.table} WHERE {where}", key)

    def line(self, fact: Fact) -> str:
        """Return a fact as a line of a pack."""
        return as_text([self.table, *fact.row, *([fact.parts] if self.parts else [])])

    def lines(self) -> list[str]:
        """Return every fact of the file as a line of a pack, in the order of the keys."""
        order = ", ".join(self.columns[at] for at in self.key)
        rows = self.connection.execute(f"SELECT {self.listed} FROM {self.table} ORDER BY {order}")
        if not self.parts:
            return [as_text([self.table, *row]) for row in rows]
        belonging = {table: self._by_owner(table) for table in self.parts}
        return [
            as_text(
                [self.table, *row, {part: own.get(self.key_of(row), []) for part, own in belonging.items()}]
            )
            for row in rows
        ]

    def _by_owner(self, table: str) -> dict[tuple, list[tuple]]:
        shape, found = self.parts[table], {}
        spots = [shape.at(name) for name in FACTS[self.table].parts[table]]
        order = ", ".join(shape.columns[at] for at in shape.key)
        for row in self.connection.execute(f"SELECT {shape.listed} FROM {table} ORDER BY {order}"):
            found.setdefault(tuple(row[at] for at in spots), []).append(row)
        return found


def _list(value: object) -> list:
    if type(value) is not list:
        raise unlike("a part of a fact")
    return value


def _taker(what: str, name: str, kind: str, needed: bool) -> Callable[[object], object]:
    """Return what makes a value of a column from what stands in a pack."""
    take = _BY_NAME.get(name) or _BY_KIND[kind]

    def taken(value: object) -> object:
        if value is None and not needed:
            return None
        found = take(value)
        if found is None:
            raise unlike(what)
        return found

    return taken


def _ident(value: object) -> bytes | None:
    if type(value) is not str or len(value) != 32:
        return None
    try:
        found = bytes.fromhex(value)
    except ValueError:
        return None
    return found if len(found) == 16 else None  # blanks are no digits


def _within(low: int, high: int) -> Callable[[object], int | None]:
    return lambda value: value if type(value) is int and low <= value <= high else None


def _real(value: object) -> float | None:
    return float(value) if type(value) in (int, float) and abs(value) < 1e300 else None


def _text(value: object) -> str | None:
    return value if type(value) is str and len(value) <= LONGEST_FACT else None


def _tablet(value: object) -> str | None:
    return value if type(value) is str and len(value) <= sound.LONGEST_NAME else None


_BY_KIND = {"BLOB": _ident, "INTEGER": _within(-(1 << 53), 1 << 53), "REAL": _real, "TEXT": _text}
_COUNT, _MOMENT = _within(0, LAST), _within(sound.FIRST_MOMENT, sound.LAST_MOMENT)
_BY_NAME = {"nth": _COUNT, "clock": _COUNT, "at": _MOMENT, "since": _MOMENT, "tablet": _tablet}
