"""Practices here that get another key, and definitions another number, since more of them are known."""

import sqlite3
from collections.abc import Mapping

from evaltrack.rink.begun_practice import NewKeys
from evaltrack.rink.tally_correction import Change
from evaltrack.store.packs.merge_rules import FACTS
from evaltrack.store.packs.rows import Shape
from evaltrack.store.packs.same_clock import heaviest
from evaltrack.store.packs.translating import Translation

_MEANWHILE = "\x1f"  # before a key or number that is not yet to be taken for one that it replaces


def rename_here(connection: sqlite3.Connection, keys: NewKeys) -> None:
    """Let everything that was noted in the practices of this file name them by their new keys.

    The practices themselves are made anew from the values of their fields.
    """
    if keys.same:
        return
    changed = [(old, new) for old, new in keys.first.items() if old != new]
    for table, column in _columns(connection):
        for (old, tablet), new in keys.apart.items():
            if "tablet" in Shape(connection, table).columns:
                where = f"{column} = ? AND tablet = ?"
                connection.execute(
                    f"UPDATE {table} SET {column} = ? WHERE {where}", (_MEANWHILE + new, old, tablet)
                )
        connection.executemany(
            f"UPDATE {table} SET {column} = ? WHERE {column} = ?",
            [(_MEANWHILE + new, old) for old, new in changed],
        )
        connection.execute(
            f"UPDATE {table} SET {column} = substr({column}, 2) WHERE substr({column}, 1, 1) = ?",
            (_MEANWHILE,),
        )
    _rename_corrected(connection, keys)
    for table in ("edit", "lost_edit"):
        _rename_edits(connection, table, keys)
    gone = {old for old, _ in changed} | {old for old, _ in keys.apart}
    connection.executemany("DELETE FROM attendance WHERE practice = ?", [(key,) for key in gone])
    connection.executemany("DELETE FROM practice WHERE key = ?", [(key,) for key in gone])


def _columns(connection: sqlite3.Connection) -> list[tuple[str, str]]:
    """Return the tables of facts and of their parts that name a practice, and the column that does."""
    tables = [name for table, rule in FACTS.items() for name in (table, *rule.parts)]
    return [
        (name, "practice")
        for name in tables
        if "practice" in Shape(connection, name).columns and name != "begun"
    ]


def _rename_corrected(connection: sqlite3.Connection, keys: NewKeys) -> None:
    of_practices = "SELECT nth, tablet, becomes FROM tally_correction WHERE change = ?"
    for nth, tablet, becomes in connection.execute(of_practices, (Change.PRACTICE,)).fetchall():
        which = (nth, tablet)
        connection.execute(
            "UPDATE tally_correction SET becomes = ? WHERE nth = ? AND tablet = ?",
            (keys.of(becomes, tablet), *which),
        )
        found = connection.execute(
            "SELECT tally, was FROM corrected_tally WHERE nth = ? AND tablet = ?", which
        )
        rows = [(keys.of(was, tablet), tally, *which) for tally, was in found.fetchall()]
        connection.executemany(
            "UPDATE corrected_tally SET was = ? WHERE tally = ? AND nth = ? AND tablet = ?", rows
        )


def _rename_edits(connection: sqlite3.Connection, table: str, keys: NewKeys) -> None:
    translation = Translation(keys, {})
    rows = connection.execute(f"SELECT * FROM {table} WHERE kind IN ('practice', 'attendance')").fetchall()
    connection.execute(f"DELETE FROM {table} WHERE kind IN ('practice', 'attendance')")
    connection.executemany(
        f"INSERT INTO {table} VALUES (?, ?, ?, ?, ?, ?)",
        heaviest(map(translation.edit, rows)),
    )


def renumber_here(connection: sqlite3.Connection, versions: Mapping[tuple[str, int], int]) -> None:
    """Let definitions have these numbers, by skill and present number, and all that names them."""
    changed = {pair: new for pair, new in versions.items() if pair[1] != new}
    if not changed:
        return
    for table, column in (("definition", "version"), ("tally", "skill_version")):
        connection.executemany(  # not yet to be taken for one that it replaces
            f"UPDATE {table} SET {column} = ? WHERE skill = ? AND {column} = ?",
            [(-new, *pair) for pair, new in changed.items()],
        )
        connection.execute(f"UPDATE {table} SET {column} = -{column} WHERE {column} < 0")
    words = {f"{skill} {old}": f"{skill} {new}" for (skill, old), new in changed.items()}
    of_skills = "SELECT nth, tablet FROM tally_correction WHERE change = ?"
    for which in connection.execute(of_skills, (Change.SKILL,)).fetchall():
        for table, column in (("tally_correction", "becomes"), ("corrected_tally", "was")):
            select = f"SELECT DISTINCT {column} FROM {table} WHERE nth = ? AND tablet = ?"
            here = [text for (text,) in connection.execute(select, which) if text in words]
            connection.executemany(
                f"UPDATE {table} SET {column} = ? WHERE {column} = ? AND nth = ? AND tablet = ?",
                [(_MEANWHILE + words[text], text, *which) for text in here],
            )
            connection.execute(
                f"UPDATE {table} SET {column} = substr({column}, 2)"
                f" WHERE substr({column}, 1, 1) = ? AND nth = ? AND tablet = ?",
                (_MEANWHILE, *which),
            )
