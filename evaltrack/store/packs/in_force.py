"""The value in force of each field that tablets change, from every value that it ever had."""

import sqlite3
from collections import defaultdict

from evaltrack.store.edits import KINDS, SLOTS, Field, Kind, as_text, values_of
from evaltrack.store.erased import erased_players
from evaltrack.store.packs.pack_file import unlike

_OF_PLAYERS = ("player", "attendance")
Claims = dict[str, list[tuple[int, str, str]]]  # by player: clock, tablet and number, in order


_IDS = {"id", "player"}
_PYTHON = {"TEXT": {str}, "INTEGER": {int}, "REAL": {float}, "BLOB": {bytes}}


class InForce:
    """The value in force of each field, by kind and key, and every number that a player ever had."""

    def __init__(self, connection: sqlite3.Connection):
        self.values: dict[str, dict[str, dict[str, list]]] = defaultdict(dict)
        self.claims: Claims = defaultdict(list)
        rows = connection.execute(
            "SELECT kind, key, field, value, clock, tablet FROM edit ORDER BY kind, key, field, clock, tablet"
        )
        known = {
            kind: {field.name: field for field in (*each.fields, *([SLOTS] if kind == "step" else []))}
            for kind, each in KINDS.items()
        }
        self._columns = {kind: _Columns(connection, kind) for kind in KINDS}
        slots = _Columns(connection, "slot")
        erased = [player.hex() for player in erased_players(connection)]
        for kind, key, name, value, clock, tablet in rows:
            if erased and kind in _OF_PLAYERS and any(player in key for player in erased):
                continue  # they are as they are until they are erased here too
            field = known.get(kind, {}).get(name)
            if field is None:
                raise unlike("a change")
            found = self.values[kind].setdefault(key, {})
            taken = (slots if field is SLOTS else self._columns[kind]).take(field, value)
            found[name] = _later(field, found.get(name), taken)
            if (kind, name) == ("player", "number"):
                self.claims[key].append((clock, tablet, found[name][0]))

    def key(self, kind: Kind, key: str) -> tuple:
        """Return the values of a key; PackError when it is none of this kind."""
        return self._columns[kind.table].key(key, kind.key)

    def rows(self, kind: Kind) -> dict[tuple, dict[str, object]]:
        """Return the rows of a table by their keys, each by column; a row that lacks a field is none yet."""
        found = {}
        for key, values in self.values[kind.table].items():
            if all(field.name in values for field in kind.fields):
                row = {
                    column: one
                    for field in kind.fields
                    for column, one in zip(field.columns, values[field.name], strict=True)
                }
                found[self.key(kind, key)] = row
        return found


def _later(field: Field, before: list | None, value: list) -> list:
    if field.rule == "last" or before is None:
        return value
    known = [one for one in (before, value) if None not in one]
    return min(known, default=value)


class _Columns:
    """What the columns of a table take: what SQLite would turn into something else is not as we write it."""

    def __init__(self, connection: sqlite3.Connection, table: str):
        described = connection.execute(f"PRAGMA table_info({table})")
        self._kinds = {name: (kind, bool(needed)) for _, name, kind, needed, *_ in described}

    def take(self, field: Field, value: str) -> list:
        """Return the values of a field from the text that has them."""
        found = _parsed(value)
        if field is SLOTS:
            for slot in found:
                self._look(slot, field.columns)
        else:
            self._look(found, field.columns)
        return found

    def key(self, key: str, names: tuple[str, ...]) -> tuple:
        """Return the values of a key."""
        parts = _parsed(key)
        self._look(
            [bytes(16) if name in _IDS else part for name, part in zip(names, parts, strict=False)], names
        )
        try:
            found = tuple(
                _ident(part) if name in _IDS else part for name, part in zip(names, parts, strict=True)
            )
        except (ValueError, TypeError):
            raise unlike("the key of a change") from None
        if as_text(found) != key:
            raise unlike("the key of a change")
        return found

    def _look(self, values: object, names: tuple[str, ...]) -> None:
        if type(values) is not list or len(values) != len(names):
            raise unlike("a change")
        for name, value in zip(names, values, strict=True):
            kind, needed = self._kinds[name]
            if needed if value is None else type(value) not in _PYTHON[kind]:
                raise unlike("a change")


def _parsed(text: str) -> list:
    try:
        return values_of(text)
    except ValueError:
        raise unlike("a change") from None


def _ident(part: object) -> bytes:
    if len(part) != 32:
        raise ValueError
    return bytes.fromhex(part)
