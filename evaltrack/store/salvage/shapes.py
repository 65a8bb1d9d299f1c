"""What a row of each table of a season file looks like: its values, their kinds and bounds."""

import ast
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from evaltrack.errors import SeasonFileError
from evaltrack.store import sound
from evaltrack.store.salvage.records import Value, Values
from evaltrack.store.schema_check import expected

_KINDS = {"INTEGER": int, "TEXT": str, "REAL": float, "BLOB": bytes}
_LONGEST_FILE = 300_000  # characters of a catalogue as a file
_LOOKED_AT = (
    13  # the version whose tables these rules are for; a later one may keep other things under a name
)
_ONE_KEY = {"practice", "drill", "step", "skill", "slot", "key", "against", "next"}
_MOMENTS = {"at", "created_at", "started_at", "ended_at", "since"}
_MOMENTS |= {"nth", "clock", "correction", "fact"}  # numbers by the clock, and what is named by them
_NOT_LOOKED_INTO = {"edit", "lost_edit", "foreign_fact"}  # JSON of any rows
_DAYS = {"held_on", "day", "away_until"}
_EPOCH = {"epoch", "before"}


@dataclass(frozen=True)
class Column:
    """A column: its name, the kind of its values, whether it may be empty, and what an old row has in it."""

    name: str
    kind: type
    may_be_none: bool
    default: Value
    rule: Callable[[object, str], object]

    def fits(self, value: Value) -> bool:
        """Say whether a value is one that evaltrack writes here."""
        if value is None:
            return self.may_be_none
        if type(value) is not self.kind:
            return False
        try:
            self.rule(value, "")
        except SeasonFileError:
            return False
        return True


@dataclass(frozen=True)
class Shape:
    """A table or an index: its columns in the order in which a record has them.

    ``keys`` are so many of them at the beginning that tell one row from another, and stand in ascending
    order; 0 where a row has a number instead.
    """

    name: str
    columns: tuple[Column, ...]
    keys: int
    numbered: int | None = None  # which column is the number of the row

    def row(self, values: Values) -> tuple[Value, ...] | None:
        """Return the values of a record as a row of this table; None where it cannot be one."""
        found = list(values.values)
        if self.numbered is not None and self.numbered < len(found):
            found[self.numbered] = values.rowid
        later = self.columns[len(found) :]
        if len(found) > len(self.columns) or any(
            column.default is None and not column.may_be_none for column in later
        ):
            return None
        found += [column.default for column in later]
        # a whole number in a column of fractions is kept as an integer
        whole = zip(self.columns, found, strict=True)
        found = [float(v) if c.kind is float and type(v) is int else v for c, v in whole]
        if not all(column.fits(value) for column, value in zip(self.columns, found, strict=True)):
            return None
        return tuple(found)


def tables_of(connection: sqlite3.Connection) -> dict[str, Shape]:
    """Return the tables of a season file, without SQLite's own and those of the ledger of migrations."""
    select = "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE '\\_%' ESCAPE '\\'"
    names = [name for (name,) in connection.execute(select) if not name.startswith("sqlite_")]
    return {name: _table(connection, name) for name in names}


def index_of(connection: sqlite3.Connection, name: str, table: Shape) -> Shape:
    """Return an index of a table."""
    columns = {column.name: column for column in table.columns}
    rows = connection.execute(f"PRAGMA index_xinfo({name})").fetchall()
    return Shape(name, tuple(columns[row[2]] for row in rows), len(rows))


def _table(connection: sqlite3.Connection, name: str) -> Shape:
    found = connection.execute(f"PRAGMA table_info({name})").fetchall()
    keys = sorted((row for row in found if row[5]), key=lambda row: row[5])
    (sql,) = connection.execute("SELECT sql FROM sqlite_schema WHERE name = ?", (name,)).fetchone()
    if "WITHOUT ROWID" in sql:
        ordered = keys + [row for row in found if not row[5]]
        return Shape(name, tuple(_column(name, *row) for row in ordered), len(keys))
    numbered = next((nth for nth, row in enumerate(found) if row[5]), None)
    return Shape(name, tuple(_column(name, *row) for row in found), 0, numbered)


def _column(table: str, _, name: str, kind: str, not_null: int, default: str | None, key: int) -> Column:
    value = None if default is None else ast.literal_eval(default)
    return Column(name, _KINDS[kind], not (not_null or key), value, _rule(table, name, _KINDS[kind]))


def _rule(table: str, name: str, kind: type) -> Callable[[object, str], object]:
    if table not in expected(_LOOKED_AT) or table in _NOT_LOOKED_INTO:
        return _any
    if kind is float:
        return sound.share if name == "target" else _any
    if kind is bytes:
        return _any if name in _EPOCH else sound.ident
    if kind is int:
        return _whole_rule(name)
    if name in _DAYS:
        return sound.day
    if name in _ONE_KEY:
        return _key_or_nothing
    return partial(_text, longest=_LONGEST_FILE if table == "catalogue_text" else sound.LONGEST_LIST)


def _whole_rule(name: str) -> Callable[[object, str], object]:
    if name in _MOMENTS:
        return sound.moment
    return sound.year if name == "birth_year" else partial(sound.whole, high=sound.MOST_TALLIES)


def _text(value: str, what: str, longest: int) -> None:
    if len(value) > longest or "\0" in value or "\ufffd" in value:
        raise sound.unlike(what)


def _key_or_nothing(value: str, what: str) -> None:
    if value:
        sound.key(value, what)


def _any(value: object, what: str) -> None:
    """Take every value of its kind."""
