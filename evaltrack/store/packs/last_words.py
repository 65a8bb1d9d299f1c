"""The tables that have what is in force, put as the last value of each field says.

All of it follows from the values alone, so tablets with the same values have the same tables.
"""

import sqlite3
from collections import defaultdict
from itertools import count

from evaltrack.store.edits import KINDS, SLOTS, Kind
from evaltrack.store.packs.in_force import InForce


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
