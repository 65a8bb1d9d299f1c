"""Season files of version 1, made from the frozen tables of that version and not by the program."""

import hashlib
import sqlite3
from contextlib import closing
from pathlib import Path

V1_SQL = Path(__file__).with_name("season_v1.sql")
PRACTICE = "2025-10-04"
AT = 1_759_600_000_000
_PLAYERS = [
    ("0", "Wim Tallow", "G"),
    ("2", "Petra O'Fern", "D"),
    ("10", "Oda Marsh", "D"),
    ("7", "Åse L", "F"),
]
_ROWS = {
    "season": [(1, bytes(16), "Kettle Bay Lanterns", "12U", AT)],
    "player": [
        (n.to_bytes(16), number, name, group, 2013 + n % 2, "full")
        for n, (number, name, group) in enumerate(_PLAYERS)
    ],
    "observer": [("Ines",), ("Tuomo",)],
    "skill": [("outlet_pass", 0, "Outlet pass", "D", "on the tape", "head up", "Wall passes.", 0.6, 2)],
    "definition": [("outlet_pass", v, "He has it.", f"Done {v}.", "Missed.", "Bumped.", AT) for v in (1, 2)],
    "drill": [("breakout_attack", 0, "Breakout and attack")],
    "step": [("breakout_attack", "two_on_one", 0, "2 against 1")],
    "slot": [
        ("breakout_attack", "two_on_one", "breakout_d", 0, "Breakout D", "D", "line_d", "outlet_pass"),
        ("breakout_attack", "two_on_one", "line_d", 1, "Line D", "D", None, ""),
    ],
    "practice": [(PRACTICE, PRACTICE, "half", AT, None)],
    "attendance": [(PRACTICE, n.to_bytes(16), n % 3 > 0, n, AT) for n in range(len(_PLAYERS))],
    "station": [(PRACTICE, "bench", AT, "breakout_attack", "two_on_one", "outlet_pass", "Ines", 1)],
}


def make_v1(path: Path, reps: int = 5, tallies: int = 40) -> Path:
    """Make a season file of version 1 with as many facts, in every table, and close it."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.executescript(V1_SQL.read_text("utf-8"))
        connection.execute("PRAGMA foreign_keys = ON")
        with connection:
            for table, rows in _ROWS.items():
                _insert(connection, table, rows)
            _insert(connection, "rep", (_rep(n) for n in range(reps)))
            _insert(connection, "rep_slot", (_rep_slot(n) for n in range(reps)))
            _insert(connection, "tally", (_tally(n, reps) for n in range(tallies)))
            _insert(connection, "withdrawal", ((_id(n), "bench", AT + n) for n in range(0, tallies, 9)))
    return path


def facts_of(path: Path) -> dict[str, str]:
    """Return a digest of each table of version 1 as it is in a file, by the columns that it had then."""
    with closing(sqlite3.connect(":memory:")) as blank, closing(sqlite3.connect(path)) as file:
        blank.executescript(V1_SQL.read_text("utf-8"))
        return {table: _digest(file, table, _columns(blank, table)) for table in tables_of(blank)}


def tables_of(connection: sqlite3.Connection) -> list[str]:
    """Return the names of the tables, without those for SQLite's and the migrations' own use."""
    rows = connection.execute(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE '%sqlite%'"
    )
    return sorted(name for (name,) in rows)


def _digest(file: sqlite3.Connection, table: str, columns: str) -> str:
    digest = hashlib.sha256()
    for row in file.execute(f"SELECT {columns} FROM {table} ORDER BY {columns}"):
        digest.update(repr(row).encode())
    return digest.hexdigest()


def _columns(connection: sqlite3.Connection, table: str) -> str:
    return ", ".join(row[1] for row in connection.execute(f"PRAGMA table_info({table})"))


def _insert(connection: sqlite3.Connection, table: str, rows) -> None:
    width = len(connection.execute(f"PRAGMA table_info({table})").fetchall())
    connection.executemany(f"INSERT INTO {table} VALUES ({', '.join('?' * width)})", rows)


def _id(n: int) -> bytes:
    return (1000 + n).to_bytes(16)


def _rep(n: int) -> tuple:
    return _id(n), PRACTICE, "breakout_attack", "two_on_one", AT + 1000 * n


def _rep_slot(n: int) -> tuple:
    return _id(n), "breakout_d", (1 + n % 2).to_bytes(16)


def _tally(n: int, reps: int) -> tuple:
    outcome = ("done", "missed", "unseen")[n % 3]
    return (
        _id(n), PRACTICE, (1 + n % 2).to_bytes(16), "outlet_pass", 1 + n % 2, outcome, (0, 1, None)[n % 3],
        "breakout_attack", "two_on_one", "Ines", _id(n % reps) if n % 2 else None, "bench", AT + n,
    )  # fmt: skip
