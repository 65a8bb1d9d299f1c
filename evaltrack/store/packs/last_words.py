"""The tables that have what is in force, put as the last value of each field says.

All of it follows from the values alone, so tablets with the same values have the same tables.
"""

import json
import sqlite3
from collections import defaultdict
from itertools import count

from evaltrack.store.edits import KINDS, SLOTS, Field, Kind, as_text
from evaltrack.store.erased import erased_players
from evaltrack.store.packs.pack_file import unlike

_OF_PLAYERS = ("player", "attendance")
Claims = dict[str, list[tuple[int, str, str]]]  # by player: clock, tablet and number, in order


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


def put_in_force(connection: sqlite3.Connection) -> list[tuple[str, str]]:
    """Put the tables as the values say, within the caller's transaction; foreign keys must wait for its end.

    Returns
    -------
    Who could not have the number that was given to them, because somebody else has it: the number, and the
    one that stands in its place.
    """
    force = InForce(connection)
    doubled = _put_players(connection, force)
    for table in ("definition", "skill", "drill", "step", "catalogue_text", "practice"):
        _put(connection, KINDS[table], force.rows(KINDS[table]))
    connection.execute(
        "UPDATE skill SET version = newest FROM"
        " (SELECT skill AS of, max(version) AS newest FROM definition GROUP BY skill)"
        " WHERE key = of AND version <> newest"
    )
    _put_slots(connection, force)
    _put_attendance(connection, force)
    return doubled


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
        found = json.loads(text)
    except (ValueError, RecursionError):
        found = None
    if type(found) is not list:
        raise unlike("a change")
    return found


def _ident(part: object) -> bytes:
    if len(part) != 32:
        raise ValueError
    return bytes.fromhex(part)


_IDS = {"id", "player"}
_PYTHON = {"TEXT": {str}, "INTEGER": {int}, "REAL": {float}, "BLOB": {bytes}}


def _put(connection: sqlite3.Connection, kind: Kind, wanted: dict[tuple, dict]) -> None:
    """Insert and update rows of a table so that they are as wanted; others stay."""
    columns = [column for field in kind.fields for column in field.columns]
    here = _here(connection, kind, columns)
    where = " AND ".join(f"{name} = ?" for name in kind.key)
    change = f"UPDATE {kind.table} SET {', '.join(f'{column} = ?' for column in columns)} WHERE {where}"
    names = [*kind.key, *columns, *(["version"] if kind.table == "skill" else [])]
    add = f"INSERT INTO {kind.table} ({', '.join(names)}) VALUES ({', '.join('?' * len(names))})"
    for key, row in wanted.items():
        values = tuple(row[column] for column in columns)
        if key not in here and kind.table != "definition":  # which are facts, and were put in before
            connection.execute(add, (*key, *values, *([1] if kind.table == "skill" else [])))
        elif key in here and here[key] != values:
            connection.execute(change, (*values, *key))


def _here(connection: sqlite3.Connection, kind: Kind, columns: list[str]) -> dict[tuple, tuple]:
    rows = connection.execute(f"SELECT {', '.join([*kind.key, *columns])} FROM {kind.table}").fetchall()
    return {row[: len(kind.key)]: row[len(kind.key) :] for row in rows}


def _put_players(connection: sqlite3.Connection, force: InForce) -> list[tuple[str, str]]:
    kind = KINDS["player"]
    wanted = force.rows(kind)
    claims = {force.key(kind, key): found for key, found in force.claims.items()}
    worn = numbers_worn({key: claims[key] for key, row in wanted.items() if row["status"] != "left"})
    doubled = sorted(
        (wanted[key]["number"], number) for key, number in worn.items() if wanted[key]["number"] != number
    )
    for key, number in worn.items():
        wanted[key]["number"] = number
    columns = [column for field in kind.fields for column in field.columns]
    here = _here(connection, kind, columns)
    # first their numbers are free, so that two players can swap them
    freed = [key for key, row in wanted.items() if key in here and here[key] != tuple(row.values())]
    connection.executemany("UPDATE player SET status = 'left' WHERE id = ?", freed)
    _put(connection, kind, wanted)
    return doubled


def numbers_worn(claims: dict[tuple, list[tuple[int, str, str]]]) -> dict[tuple, str]:
    """Return the number of each player of the team; where two were given one, the last word on it counts.

    Whoever cannot have it keeps the last one of before that is free, or has the first free one from 100 on.
    """
    wanted = {found[-1][2] for found in claims.values()}
    worn: dict[tuple, str] = {}
    taken: set[str] = set()
    for key in sorted(claims, key=lambda key: (claims[key][-1], key), reverse=True):
        number = claims[key][-1][2]
        if number in taken:
            before = (one[2] for one in reversed(claims[key][:-1]))
            free = (str(n) for n in count(100))
            number = next((n for n in before if n not in taken | wanted), None) or next(
                n for n in free if n not in taken | wanted
            )
        worn[key] = number
        taken.add(number)
    return worn


def _put_slots(connection: sqlite3.Connection, force: InForce) -> None:
    columns = ", ".join(SLOTS.columns)
    marks = ", ".join("?" * (2 + len(SLOTS.columns)))
    for key, values in force.values["step"].items():
        step, wanted = force.key(KINDS["step"], key), values.get(SLOTS.name, [])
        select = f"SELECT {columns} FROM slot WHERE drill = ? AND step = ? ORDER BY place, key"
        if [list(row) for row in connection.execute(select, step)] != wanted:
            connection.execute("DELETE FROM slot WHERE drill = ? AND step = ?", step)
            rows = [(*step, *slot) for slot in wanted]
            connection.executemany(f"INSERT INTO slot (drill, step, {columns}) VALUES ({marks})", rows)


def _put_attendance(connection: sqlite3.Connection, force: InForce) -> None:
    practices: dict[str, dict[bytes, dict]] = defaultdict(dict)
    for (practice, player), row in force.rows(KINDS["attendance"]).items():
        practices[practice][player] = row
    here: dict[str, set] = defaultdict(set)
    for practice, *row in connection.execute("SELECT practice, player, here, at, place FROM attendance"):
        here[practice].add(tuple(row))
    for practice, players in practices.items():
        places = places_of({player: row["place"] for player, row in players.items()})
        rows = {(player, row["here"], row["at"], places[player]) for player, row in players.items()}
        if rows != here[practice]:
            connection.execute("DELETE FROM attendance WHERE practice = ?", (practice,))
            connection.executemany(
                "INSERT INTO attendance (practice, player, here, at, place) VALUES (?, ?, ?, ?, ?)",
                [(practice, *row) for row in rows],
            )


def places_of(wanted: dict[bytes, int]) -> dict[bytes, int]:
    """Return a place on the board for each player: the one that they had, or behind all if it is taken."""
    places: dict[int, bytes] = {}
    late = []
    for player in sorted(wanted, key=lambda player: (wanted[player], player)):
        if wanted[player] in places:
            late.append(player)
        else:
            places[wanted[player]] = player
    end = 1 + max(places, default=-1)
    return {player: place for place, player in places.items()} | {p: end + n for n, p in enumerate(late)}
