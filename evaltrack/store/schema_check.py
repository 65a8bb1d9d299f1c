"""Whether tables and views of a file are those of a season file, and nothing else: no trigger, no other view.

A file may have been made by somebody who means harm. What SQLite would run by itself (triggers, views,
generated columns, checks, indexes on expressions) is what the schema says, so the schema must be ours.
"""

import re
import sqlite3
from collections import Counter
from functools import lru_cache
from typing import NamedTuple

from evaltrack.rink.plain_text import one_line
from evaltrack.store.schema import scripts

_ALTER = re.compile(r"ALTER TABLE (\w+) ADD COLUMN (.*)")
_ENTRY = re.compile(r"CREATE (?:UNIQUE )?(TABLE|INDEX|VIEW) (\w+)")
_DROP = re.compile(r"DROP TABLE (\w+)")
_LEDGER = "_sqlite_migrations"  # of sqlite-utils: which were applied
_LEDGER_TABLE = re.compile(r"CREATE TABLE [\w ,]*\([\w ,]*\)(?: STRICT)?")
_LEDGER_INDEX = re.compile(rf"CREATE UNIQUE INDEX \w+ ON {_LEDGER} ?\([\w ,]*\)")
# name and statement. The names alone are not SQLite's own: any program may give them to its own entries
_OWN_OF_SQLITE = {
    "index": re.compile(r"sqlite_autoindex_\w+ "),
    "table": re.compile(r"(sqlite_stat[14]) CREATE TABLE \1\([\w,]*\)"),
}
_MOST_ENTRIES, _LONGEST_NAME, _LONGEST_STATEMENT = 200, 60, 10_000  # we make a few dozens, none as long
# a column goes after the last one, before what holds for the table as a whole
_CONSTRAINTS = re.compile(r",(?:PRIMARY KEY|FOREIGN KEY|UNIQUE) ?\(")


class _Entry(NamedTuple):
    """The statement that makes a table, index or view of ours, and the columns that it was given later."""

    made: str
    added: tuple[str, ...] = ()

    def is_made_by(self, sql: str) -> bool:
        """Say whether a statement in a file is this one, whatever its comments, quotes and blanks."""
        if not self.added and sql == self.made:
            return True  # as nearly all of a file of ours are: an opening need not take them apart
        plain = _plain(self.made)
        for column in self.added:
            plain = _with_column(plain, _plain(column))
        return _plain(sql) == plain


def strange_parts(connection: sqlite3.Connection, version: int) -> list[str]:
    """Return what a file has and a season file of this version has not, or the other way round, by name."""
    rows = connection.execute("SELECT type, name, sql FROM sqlite_schema").fetchmany(_MOST_ENTRIES)
    # a name may be of any kind, and goes into a sentence
    entries = [(str(kind), one_line(str(name))[:_LONGEST_NAME], _text(sql)) for kind, name, sql in rows]
    found = [(name, sql) for kind, name, sql in entries if not _is_harmless(kind, name, sql)]
    known = expected(version)
    # a trigger may have the name of a table, and nothing of ours is there twice
    twice = {name for name, count in Counter(name for name, _ in found).items() if count > 1}
    once = {name: sql for name, sql in found if name not in twice}
    strange = [name for name, sql in once.items() if name not in known or not known[name].is_made_by(sql)]
    return [*twice, *strange, *(name for name in known if name not in once)]


def _text(statement: object) -> str:
    return "" if statement is None else str(statement)[:_LONGEST_STATEMENT]


@lru_cache
def expected(version: int) -> dict[str, _Entry]:
    """Return what makes the tables, indexes and views of a version, by name."""
    known: dict[str, _Entry] = {}
    for statement in map(str.strip, scripts(version)):
        if altered := _ALTER.fullmatch(statement):
            entry = known[altered[1]]
            known[altered[1]] = entry._replace(added=(*entry.added, altered[2]))
        elif dropped := _DROP.fullmatch(statement):
            known = {name: one for name, one in known.items() if not _belongs(one.made, name, dropped[1])}
        elif made := _ENTRY.match(statement):
            known[made[2]] = _Entry(statement)
    return known


def _belongs(statement: str, name: str, table: str) -> bool:
    return name == table or statement.partition(" ON ")[2].partition("(")[0].strip() == table


def _with_column(table: str, column: str) -> str:
    inside = _CONSTRAINTS.search(table)
    end = inside.start() if inside else table.rindex(")")
    return f"{table[:end]},{column}{table[end:]}"


def _is_harmless(kind: str, name: str, sql: str) -> bool:
    """Say whether an entry is SQLite's own, or of the ledger of migrations."""
    own = name.startswith("sqlite_") and kind in _OWN_OF_SQLITE
    if own and _OWN_OF_SQLITE[kind].fullmatch(f"{name} {_plain(sql)}"):
        return True
    form = {"table": _LEDGER_TABLE, "index": _LEDGER_INDEX}.get(kind)
    ours = name == _LEDGER or name.startswith(f"idx_{_LEDGER}_")
    return bool(ours and form and form.fullmatch(_plain(sql).replace(";", "")))


def _plain(sql: str) -> str:
    """Return a statement without comments, quotation marks round names and superfluous blanks."""
    text = re.sub(r'--.*|["\[\]]', "", sql)
    text = re.sub(r"\s+", " ", text).strip()
    return re.sub(r" ?([(),]) ?", r"\1", text)
