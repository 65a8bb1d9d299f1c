"""All that a season file has of a player is taken out, and their name struck out of what others wrote."""

import re
import sqlite3
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from uuid import UUID

from evaltrack.rink.ident import new_id
from evaltrack.rink.name_pattern import STRUCK, NamePattern
from evaltrack.store.erased import note_erased
from evaltrack.store.erasing.settling import Settled, settle

NO_NUMBER = "0"  # the file wants digits; whoever is erased is never listed, so nobody reads them
_WORD_OF_FILE = re.compile(r"\b[a-z_]+\b")
_TABLES = "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
KEEP_NAMELESS = (
    "INSERT INTO player (id, number, name, position, birth_year, status, away_until, also)"
    " SELECT ?, ?, '', position, NULL, 'left', NULL, also FROM player WHERE id = ?"
)


@dataclass
class TakenOut:
    """What went out of a file.

    Parameters
    ----------
    rows : how many rows named the player, by their table; tallies are in ``settled``.
    struck : how many texts had the name, by table and column.
    """

    settled: Settled
    rows: Counter = field(default_factory=Counter)
    struck: Counter = field(default_factory=Counter)


def take_out(
    connection: sqlite3.Connection, player: UUID, names: NamePattern, keep_counts: bool, at: int
) -> TakenOut:
    """Take a player out, within the caller's transaction, in which foreign keys are looked at in the end.

    With ``keep_counts`` the tries stay, of somebody without name and number whom no list has.
    """
    nameless = new_id() if keep_counts else None
    if nameless:
        connection.execute(KEEP_NAMELESS, (nameless.bytes, NO_NUMBER, player.bytes))
    out = TakenOut(settle(connection, player, nameless, at))
    _forget_rotations(connection, player, out.rows)
    _forget_rows(connection, player, out.rows)
    _forget_orphans(connection, out.rows)
    connection.execute("DELETE FROM player WHERE id = ?", (player.bytes,))
    connection.execute("DELETE FROM foreign_fact WHERE instr(lower(line), ?)", (player.hex,))
    note_erased(connection, [player, nameless] if nameless else [player])
    strike_out(connection, names, out.struck)
    connection.execute("UPDATE epoch SET before = epoch, epoch = randomblob(16)")  # no older WAL fits it
    return out


def _forget_rotations(connection: sqlite3.Connection, player: UUID, rows: Counter) -> None:
    # a rotation without one of its players cannot be played again
    named = (
        "SELECT practice, tablet FROM line_fact WHERE player = ?1"
        " UNION SELECT practice, tablet FROM line_start WHERE player = ?1"
    )
    for practice, tablet in connection.execute(named, (player.bytes,)).fetchall():
        for table in ("moved", "line_start", "line_fact"):
            done = connection.execute(
                f"DELETE FROM {table} WHERE practice = ? AND tablet = ?", (practice, tablet)
            )
            rows[table] += done.rowcount


def _forget_rows(connection: sqlite3.Connection, player: UUID, rows: Counter) -> None:
    """Delete every row that refers to the player, in whichever table."""
    for table in tables_of(connection):
        for column in _references(connection, table):
            done = connection.execute(f"DELETE FROM {table} WHERE {column} = ?", (player.bytes,))
            rows[table] += done.rowcount


def _references(connection: sqlite3.Connection, table: str) -> list[str]:
    return [row[3] for row in connection.execute(f"PRAGMA foreign_key_list({table})") if row[2] == "player"]


def _forget_orphans(connection: sqlite3.Connection, rows: Counter) -> None:
    """Delete rows that belong to deleted ones, and those that belong to these."""
    found = True
    while found:
        found = False
        for table in tables_of(connection):
            for parent, pairs in _keys_to(connection, table, {name for name in rows if rows[name]}):
                same = " AND ".join(f"p.{there} = {table}.{here}" for here, there in pairs)
                known = " AND ".join(f"{here} IS NOT NULL" for here, _ in pairs)
                orphans = f"{known} AND NOT EXISTS (SELECT 1 FROM {parent} p WHERE {same})"
                done = connection.execute(f"DELETE FROM {table} WHERE {orphans}")
                rows[table] += done.rowcount
                found |= done.rowcount > 0


def _keys_to(
    connection: sqlite3.Connection, table: str, parents: set[str]
) -> list[tuple[str, list[tuple[str, str]]]]:
    """Return the foreign keys by which a table belongs to one of these: its columns, and those they name."""
    found: dict[tuple[int, str], list[tuple[str, str]]] = {}
    for key, _, parent, here, there, *_ in connection.execute(f"PRAGMA foreign_key_list({table})"):
        if parent in parents:
            found.setdefault((key, parent), []).append((here, there))
    return [(parent, pairs) for (_, parent), pairs in found.items()]


def strike_out(
    connection: sqlite3.Connection, names: NamePattern, struck: Counter, sign: str = STRUCK
) -> None:
    """Strike the names out of every text of the file, and count the texts by table and column.

    Words by which the file itself is read stay, such as what kind of thing an edit is of.
    """
    own = words_of_file(connection)
    for table in tables_of(connection):
        # two spellings of one observer become one row
        update = "UPDATE OR REPLACE" if table == "observer" else "UPDATE"
        for column in _text_columns(connection, table):
            select = f"SELECT DISTINCT {column} FROM {table} WHERE typeof({column}) = 'text'"
            for (text,) in connection.execute(select).fetchall():
                if not is_of_file(text, own) and (rest := names.struck(text, sign)) != text:
                    done = connection.execute(
                        f"{update} {table} SET {column} = ? WHERE {column} = ?", (rest, text)
                    )
                    struck[f"{table}.{column}"] += done.rowcount


def tables_of(connection: sqlite3.Connection) -> list[str]:
    """Return the tables of a file but for SQLite's own."""
    return [name for (name,) in connection.execute(_TABLES)]


def _text_columns(connection: sqlite3.Connection, table: str) -> list[str]:
    return [row[1] for row in connection.execute(f"PRAGMA table_info({table})") if row[2] in ("TEXT", "")]


def texts_of(connection: sqlite3.Connection) -> list[str]:
    """Return each different text in the rows of the file, but for words by which the file itself is read.

    Its statements are not among them: they are ours by the letter, whoever is called as a table is.
    """
    own, found = words_of_file(connection), set()
    for table in tables_of(connection):
        for column in _text_columns(connection, table):
            select = f"SELECT DISTINCT {column} FROM {table} WHERE typeof({column}) = 'text'"
            found.update(text for (text,) in connection.execute(select) if not is_of_file(text, own))
    return sorted(found)


def statements_of(connection: sqlite3.Connection) -> list[str]:
    """Return what makes the tables, indexes and views of a file, and with what every SQLite file begins."""
    made = connection.execute("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL")
    return ["SQLite format 3", *(sql for (sql,) in made)]


def words_of_file(connection: sqlite3.Connection) -> frozenset[str]:
    """Return the names of tables, columns and states, by which rows are read: a child may be called Field."""
    code = re.sub(r"--.*", "", "\n".join(statements_of(connection)))
    return frozenset(_WORD_OF_FILE.findall(code))


def is_of_file(text: str, own: frozenset[str]) -> bool:
    """Say whether a text is such a word alone, also as the value of a field."""
    return text.strip('[]"') in own


def has_ids(connection: sqlite3.Connection, players: Sequence[UUID]) -> list[str]:
    """Return the columns in which the id of a player still stands, outside the list of the erased."""
    found = []
    for table in set(tables_of(connection)) - {"erased"}:
        for _, column, *_ in connection.execute(f"PRAGMA table_info({table})").fetchall():
            where = f"instr({column}, ?1) OR instr(lower({column}), ?2)"
            seen = f"SELECT EXISTS (SELECT 1 FROM {table} WHERE {where})"
            if any(connection.execute(seen, (one.bytes, one.hex)).fetchone()[0] for one in players):
                found.append(f"{table}.{column}")
    return sorted(found)
