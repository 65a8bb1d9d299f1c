"""Season files made by somebody who means harm, with the application's id and the right version."""

import re
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, suppress
from pathlib import Path
from random import Random

from evaltrack.store.schema import SCHEMA_VERSION

PAGE = 4096
Craft = Callable[[Path], None]
_ENDLESS = "WITH RECURSIVE r(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM r)"
_ESCAPES = "\x1b]0;owned\x07\x1b[2JNobody\u202e\x9b"
_VALUES = (
    None, b"", b"\x00" * 15, b"\xff" * 17, b"\xff" * 16, "", "ten", _ESCAPES, "9" * 5000, "x" * 900_000,
    "D" * 900, "soon", "99999-01-01", "2026-02-30", "20260113", "0001-01-01", "9999-12-31", "-5", "a b c",
    "\ufffe", 0, -1, 2**62, -(2**63), 10**15, 1e308, float("inf"), 0.5,
)  # fmt: skip


def _up_to(count: int) -> str:
    return f"WITH RECURSIVE r(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM r WHERE i < {count})"


_SQL = {
    "as it is": [],
    "a trigger that ignores tallies": [
        "CREATE TRIGGER t BEFORE INSERT ON tally BEGIN SELECT raise(IGNORE); END"
    ],
    "a trigger that empties the log": [
        "CREATE TRIGGER t AFTER INSERT ON tally BEGIN DELETE FROM tally WHERE id <> new.id; END"
    ],
    "a trigger with the name of its table": [
        "CREATE TRIGGER tally BEFORE INSERT ON tally BEGIN SELECT raise(IGNORE); END"
    ],
    "a trigger with a name of SQLite's own": [
        "CREATE TRIGGER hidden BEFORE INSERT ON tally BEGIN SELECT raise(IGNORE); END",
        "UPDATE sqlite_schema SET name = 'sqlite_autoindex_hidden',"
        " sql = replace(sql, 'hidden', 'sqlite_autoindex_hidden') WHERE name = 'hidden'",
    ],
    "a table of statistics that works something out": [
        "CREATE TABLE hidden (tbl, idx, stat AS (hex(zeroblob(450000000))))",
        "UPDATE sqlite_schema SET name = 'sqlite_stat1', tbl_name = 'sqlite_stat1',"
        " sql = replace(sql, 'hidden', 'sqlite_stat1') WHERE name = 'hidden'",
    ],
    "a table and a trigger of one name": [
        "CREATE TABLE more (a)",
        "CREATE TRIGGER more AFTER INSERT ON tally BEGIN INSERT INTO more VALUES (1); END",
    ],
    "an index of the ledger with a condition": [
        "CREATE UNIQUE INDEX idx__sqlite_migrations_more ON _sqlite_migrations (name) WHERE length(name) > 0",
    ],
    "an endless view for player": [
        "ALTER TABLE player RENAME TO pp",
        f"CREATE VIEW player AS {_ENDLESS} SELECT pp.* FROM pp, r WHERE i < 0 OR i > 1e15",
    ],
    "an endless view besides": [f"CREATE VIEW more AS {_ENDLESS} SELECT * FROM r"],
    "a view of 900 MB": [
        "ALTER TABLE season RENAME TO ss",
        "CREATE VIEW season AS SELECT one, id, hex(zeroblob(450000000)) team, age_class, created_at FROM ss",
    ],
    "a table too many": ["CREATE TABLE more (a)"],
    "many tables too many": [f"CREATE TABLE more_{n} (a)" for n in range(1000)],
    "a table with a name that garbles": [f'CREATE TABLE "{_ESCAPES}" (a)'],
    "an index on an expression": ["CREATE INDEX more ON tally (hex(zeroblob(100000)))"],
    "a generated column": ["ALTER TABLE player ADD COLUMN more TEXT AS (hex(zeroblob(450000000))) VIRTUAL"],
    "an endless default": ["ALTER TABLE player ADD COLUMN more TEXT DEFAULT 'x'"],
    "a virtual table": ["CREATE VIRTUAL TABLE more USING fts5(a)"],
    "no index of cells": ["DROP INDEX tally_cell"],
    "an index of cells in another order": [
        "DROP INDEX tally_cell",
        "CREATE INDEX tally_cell ON tally (player, skill)",
    ],
    "no station table": ["DROP TABLE station"],
    "no row of the season": ["DELETE FROM season"],
    "no players": ["DELETE FROM player"],
    "no skills": ["DELETE FROM skill"],
    "no definitions": ["DELETE FROM definition"],
    "no drills": ["DELETE FROM drill"],
    "no steps": ["DELETE FROM step"],
    "no slots": ["DELETE FROM slot"],
    "no practices": ["DELETE FROM practice"],
    "nobody was here": ["DELETE FROM attendance"],
    "no reps": ["DELETE FROM rep"],
    "nobody lined up": ["DELETE FROM line_start"],
    "no epoch": ["DELETE FROM epoch"],
    "tallies of nobody": ["DELETE FROM player WHERE number IN (SELECT number FROM player LIMIT 3)"],
    "tallies of no skill": ["DELETE FROM skill WHERE key IN (SELECT skill FROM tally LIMIT 1)"],
    "slots in a circle": ["UPDATE slot SET next = key"],
    "slots in a longer circle": [
        "UPDATE slot SET next = (SELECT max(o.key) FROM slot o WHERE o.step = slot.step)"
    ],
    "slots that lead nowhere": ["UPDATE slot SET next = 'nowhere'"],
    "slots of no skill": ["UPDATE slot SET skills = 'none'"],
    "version 1 of version 3": ["PRAGMA user_version = 1"],
    "version 2 of version 3": ["PRAGMA user_version = 2"],
    "version 0": ["PRAGMA user_version = 0"],
    "version -1": ["PRAGMA user_version = -1"],
    "a newer version": [f"PRAGMA user_version = {SCHEMA_VERSION + 1}"],
    "another application": ["PRAGMA application_id = 1"],
    "version 1 and a view of the ledger": [
        "PRAGMA user_version = 1",
        "CREATE TABLE IF NOT EXISTS _sqlite_migrations (migration_set TEXT, name TEXT, applied_at TEXT)",
        "ALTER TABLE _sqlite_migrations RENAME TO mm",
        "CREATE VIEW _sqlite_migrations AS SELECT * FROM mm WHERE 0",
    ],
    "a ledger of other columns": [
        "DROP TABLE IF EXISTS _sqlite_migrations",
        "CREATE TABLE _sqlite_migrations (a TEXT, b TEXT)",
    ],
    "a thousand players more": [
        f"{_up_to(1000)} INSERT INTO player"
        " SELECT randomblob(16), 1000 + i, 'N', 'D', NULL, 'full', NULL, NULL FROM r"
    ],
    "twenty thousand players more": [
        f"{_up_to(20000)} INSERT INTO player"
        " SELECT randomblob(16), 1000 + i, 'N', 'D', NULL, 'full', NULL, NULL FROM r"
    ],
    "long names of many observers": [
        f"{_up_to(500)} INSERT INTO observer SELECT i || hex(zeroblob(20000)) FROM r"
    ],
    "many practices": [
        f"{_up_to(6000)} INSERT INTO practice"
        " SELECT '2026-01-13.' || (i + 99), '2026-01-13', 'full', i, NULL, 0"
        " FROM r"
    ],
    "many slots in a step": [
        f"{_up_to(900)} INSERT INTO slot (drill, step, key, place, name, position, skills)"
        " SELECT s.drill, s.key, 'more' || i, i, 'More', 'F', ''"
        " FROM r, step s"
    ],
    "many changes of the line": [
        f"{_up_to(19000)} INSERT INTO line_fact"
        " SELECT practice, tablet, 1000 + i, 'next', drill, step, rep, NULL,"
        " NULL, NULL, at FROM r, (SELECT * FROM line_fact LIMIT 1)"
    ],
    "too many changes of the line": [
        f"{_up_to(90000)} INSERT INTO line_fact"
        " SELECT practice, tablet, 1000 + i, 'next', drill, step, rep, NULL,"
        " NULL, NULL, at FROM r, (SELECT * FROM line_fact LIMIT 1)"
    ],
    "a hundred thousand tallies in a practice": [
        f"{_up_to(110000)} INSERT INTO tally"
        " SELECT randomblob(16), practice, player, skill, skill_version, outcome,"
        " pressure, drill, step, observer, rep, tablet, at, slot FROM r, (SELECT * FROM tally LIMIT 1)"
    ],
    "a hundred thousand corrections": [
        f"{_up_to(100_000)} INSERT INTO tally_correction"
        " SELECT 1000 + i, tablet, practice, change, becomes, at FROM r,"
        " (SELECT * FROM tally_correction LIMIT 1)"
    ],
    "a tally corrected three hundred thousand times": [
        f"{_up_to(4000)} INSERT INTO tally_correction"
        " SELECT 1000 + i, tablet, practice, change, becomes, at FROM r,"
        " (SELECT * FROM tally_correction LIMIT 1)",
        f"{_up_to(310_000)} INSERT INTO corrected_tally SELECT CAST(i AS BLOB), nth, tablet, was"
        " FROM r, (SELECT * FROM corrected_tally LIMIT 1)",
    ],
    "a correction taken back a hundred thousand times": [
        f"{_up_to(100_000)} INSERT INTO correction_force"
        " SELECT 1000 + i, tablet, correction, made_on, i % 2, at FROM r,"
        " (SELECT * FROM correction_force LIMIT 1)"
    ],
    "corrections of nobody's tallies": ["UPDATE OR REPLACE corrected_tally SET tally = randomblob(16)"],
    "corrections of one tally in many ways": [
        "UPDATE OR REPLACE corrected_tally SET tally = (SELECT max(id) FROM tally)"
    ],
    "a correction of no correction": ["DELETE FROM tally_correction"],
    "a tally moved to the practice where it was corrected, and away": [
        "UPDATE tally_correction SET change = 'practice', becomes = practice",
        "UPDATE corrected_tally SET was = '2026-01-13'",
    ],
    "a tally of a practice that is gone": [
        "UPDATE tally_correction SET change = 'practice', becomes = 'gone'"
    ],
    "a comment of no practice": ["UPDATE practice_comment SET practice = 'gone'"],
    "a hundred thousand comments": [
        f"{_up_to(110_000)} INSERT INTO practice_comment SELECT 1000 + i, tablet, practice, words, at"
        " FROM r, (SELECT * FROM practice_comment LIMIT 1)"
    ],
    "a long history of the roster": [
        f"{_up_to(6000)} INSERT INTO roster_change"
        " SELECT tablet, 1000 + i, player, field, was, becomes, day, at FROM r,"
        " (SELECT * FROM roster_change LIMIT 1)"
    ],
    "a long history of the catalogue": [
        f"{_up_to(6000)} INSERT INTO catalogue_change"
        " SELECT tablet, 1000 + i, kind, key, field, was, becomes, at FROM r,"
        " (SELECT * FROM catalogue_change LIMIT 1)"
    ],
    "numbers that were never any": ["UPDATE roster_change SET field = 'number', was = 'x', becomes = ''"],
    "targets that were never any": [
        "UPDATE catalogue_change SET field = 'target', was = 'inf', becomes = 'x'"
    ],
    "changes of a skill that is not there": ["UPDATE catalogue_change SET key = 'gone'"],
    "away until long ago": ["UPDATE player SET status = 'away', away_until = '1900-01-01'"],
    "full until some day": ["UPDATE player SET away_until = '2999-12-31'"],
    "everybody has left": ["UPDATE player SET status = 'left'"],
    "nothing is in use": ["UPDATE skill SET retired = 1", "UPDATE drill SET retired = 1"],
    "no step is in use": ["UPDATE step SET retired = 1"],
    "slots that meet themselves": ["UPDATE slot SET against = key"],
    "slots off the ice": ["UPDATE slot SET along = 101, across = -1"],
    "slots on one spot": ["UPDATE slot SET along = 0, across = 0"],
    "names of one sign, and that hides": [
        "UPDATE skill SET name = char(8238)",
        "UPDATE player SET name = ''",
    ],
    "tallies and withdrawals in one page": [
        "UPDATE sqlite_schema SET rootpage = (SELECT rootpage FROM sqlite_schema WHERE name = 'tally')"
        " WHERE name = 'withdrawal'"
    ],
    "ids of a far future": ["UPDATE tally SET id = CAST(x'ffffffffffff7fff8fff' || substr(id, 11) AS BLOB)"],
}


def crafts() -> dict[str, Craft]:
    """Return what is made by hand, by name."""
    made: dict[str, Craft] = {name: _by_sql(statements) for name, statements in _SQL.items()}
    made["two players of one number"] = _twice
    for table in (
        "player",
        "tally",
        "tally_practice",
        "tally_cell",
        "station",
        "attendance",
        "skill",
        "slot",
    ):
        made[f"pages of {table} without end"] = endless(table)
    made["pages of the schema without end"] = endless(None)
    return made


def values(path: Path, chance: Random) -> Iterator[tuple[str, Craft]]:
    """Yield, in an order drawn by chance, each column of each table with each value it must not have."""
    with closing(sqlite3.connect(path)) as file:
        tables = [name for (name,) in file.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        ours = [name for name in tables if not name.startswith(("sqlite_", "_sqlite"))]
        columns = [(t, row[1]) for t in ours for row in file.execute(f"PRAGMA table_info({t})")]
    every = [(*column, value) for column in columns for value in _VALUES]
    chance.shuffle(every)
    for table, column, value in every:
        yield (
            f"{table}.{column} = {ascii(value)[:30]}",
            with_value(table, column, value, chance.random() < 0.5),
        )


def _by_sql(statements: list[str]) -> Craft:
    def craft(path: Path) -> None:
        with _Opened(path) as file:
            for statement in statements:
                file.execute(statement)

    return craft


def with_value(table: str, column: str, value: object, everywhere: bool) -> Craft:
    """Write a value that the table forbids: its rules are taken off, and put back afterwards."""

    def craft(path: Path) -> None:
        entry = "sqlite_schema WHERE type = 'table' AND name = ?"
        with _Opened(path) as file:
            (rules,) = file.execute(f"SELECT sql FROM {entry}", (table,)).fetchone()
            free = re.sub(
                r" CHECK \((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\)| NOT NULL|STRICT, | STRICT", "", rules
            )
            free = re.sub(r"\b(TEXT|REAL)\b|(?<!one         )\bINTEGER\b", "BLOB", free)
            _set_rules(file, table, free)
        with _Opened(path) as file:
            where = "" if everywhere else f" WHERE {column} = (SELECT max({column}) FROM {table})"
            with suppress(sqlite3.IntegrityError):  # a key that stands there once
                file.execute(f"UPDATE OR REPLACE {table} SET {column} = ?{where}", (value,))
            _set_rules(file, table, rules)

    return craft


def _set_rules(file: sqlite3.Connection, table: str, rules: str) -> None:
    file.execute("UPDATE sqlite_schema SET sql = ? WHERE sql IS NOT NULL AND name = ?", (rules, table))


def _twice(path: Path) -> None:
    """Let two players have one number, behind the back of the index."""
    with _Opened(path) as file:
        index = file.execute("SELECT sql FROM sqlite_schema WHERE name = 'player_number'").fetchone()[0]
        file.execute("DROP INDEX player_number")
        file.execute(index.replace(" UNIQUE", ""))
        file.execute("UPDATE player SET number = '7'")
        _set_rules(file, "player_number", index)


def endless(table: str | None) -> Craft:
    """Let the pages of a table or index lead to one another: a thousand ways at each of six levels."""

    def craft(path: Path) -> None:
        with closing(sqlite3.connect(path)) as file:
            row = file.execute("SELECT rootpage FROM sqlite_schema WHERE name = ?", (table,)).fetchone()
        content = bytearray(path.read_bytes())
        root = row[0] if row else 1
        start, above = (root - 1) * PAGE, 100 if root == 1 else 0
        leaf = bytes(content[start : start + PAGE])
        if leaf[above] in (2, 5):  # go on from its first leaf
            while leaf[above] in (2, 5):
                pointer = int.from_bytes(leaf[above + 12 : above + 14], "big")
                child = int.from_bytes(leaf[pointer : pointer + 4], "big")
                leaf, above = bytes(content[(child - 1) * PAGE : child * PAGE]), 0
        cell = _first_cell(leaf, above)
        count = len(content) // PAGE
        pages = [leaf if not above else bytes(100) + leaf[100:]]
        for level in range(6):
            pages.append(_page_above(leaf[above], cell, count + level + 1))
        content += b"".join(pages)
        top = pages[-1]
        if root == 1:
            content[100:112] = top[:12]
        else:
            content[start : start + PAGE] = top
        content[28:32] = (len(content) // PAGE).to_bytes(4, "big")
        path.write_bytes(content)

    return craft


def _first_cell(leaf: bytes, above: int) -> bytes:
    at = int.from_bytes(leaf[above + 8 : above + 10], "big")
    size = leaf[at] if leaf[at] < 128 else (leaf[at] & 127) << 7 | leaf[at + 1]
    return leaf[at : at + size + 3]


def _page_above(kind: int, cell: bytes, child: int) -> bytes:
    """Return a page of a thousand cells, or as many as there is room for, that all lead to one page."""
    body = child.to_bytes(4, "big") + (cell if kind in (2, 10) else b"\x01")
    count = (PAGE - 12 - len(body)) // 2
    at = PAGE - len(body)
    head = (
        bytes((2 if kind in (2, 10) else 5, 0, 0))
        + count.to_bytes(2, "big")
        + at.to_bytes(2, "big")
        + b"\x00"
    )
    return (head + child.to_bytes(4, "big") + at.to_bytes(2, "big") * count).ljust(at, b"\x00") + body


class _Opened:
    """A connection that may do everything, and leaves the file alone behind it."""

    def __init__(self, path: Path):
        self._file = sqlite3.connect(path, isolation_level=None)

    def __enter__(self) -> sqlite3.Connection:
        self._file.execute("PRAGMA writable_schema = ON")
        self._file.execute("PRAGMA foreign_keys = OFF")
        self._file.execute("PRAGMA ignore_check_constraints = ON")
        self._file.execute("PRAGMA journal_mode = DELETE")
        return self._file

    def __exit__(self, *_) -> None:
        self._file.close()
