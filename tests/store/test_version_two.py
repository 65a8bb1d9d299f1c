"""A season file of version 1 becomes one of version 2 with every fact intact, or stays what it was.

Cases: the frozen tables are those of the first step; all facts, the copy, what is new; a journal that was not
written back; two programs at once; killed at every third statement of the migration, and within the copy.
"""

import os
import random
import sqlite3
import subprocess
import sys
from contextlib import closing

import pytest
from migration_killing import kill_at_random, kill_at_statements, statements_of
from season_v1 import PRACTICE, V1_SQL, facts_of, make_v1, tables_of

from evaltrack.rink.practice import Rep
from evaltrack.rink.rotation.rotation_fact import Change, RotationFact
from evaltrack.store import migrations, opening
from evaltrack.store.opening import open_season
from evaltrack.store.schema import SCHEMA_VERSION

LEAVES_A_JOURNAL = """
import os, sqlite3, sys
file = sqlite3.connect(sys.argv[1], isolation_level=None)
file.execute("INSERT INTO observer VALUES ('Wren')")
os._exit(0)
"""


@pytest.fixture
def old_path(tmp_path):
    """Return a season file of version 1 with facts in every table."""
    return make_v1(tmp_path / "older.db")


@pytest.fixture
def columns():
    """Return a reader of a file's tables, columns, keys and indexes, as SQLite understands them."""

    def read(connection: sqlite3.Connection) -> tuple:
        tables = {t: connection.execute(f"PRAGMA table_xinfo({t})").fetchall() for t in tables_of(connection)}
        keys = {t: connection.execute(f"PRAGMA foreign_key_list({t})").fetchall() for t in tables}
        indexes = {t: connection.execute(f"PRAGMA index_list({t})").fetchall() for t in tables}
        return tables, keys, indexes

    return read


def version(path) -> int:
    """Read the version of a file by a connection of its own."""
    with closing(sqlite3.connect(path)) as file:
        return file.execute("PRAGMA user_version").fetchone()[0]


def test_the_first_step_makes_the_frozen_tables(columns):
    """Old migrations never change: the first one still makes what version 1 had."""
    database = migrations.Database(memory=True)
    migrations.create_season_tables(database)
    with closing(sqlite3.connect(":memory:")) as frozen:
        frozen.executescript(V1_SQL.read_text("utf-8"))
        assert columns(database.conn) == columns(frozen)


def test_every_fact_of_an_old_file_is_kept(old_path):
    """Each table of version 1 holds what it held, in the file and in the copy beside it."""
    facts = facts_of(old_path)
    with closing(sqlite3.connect(old_path)) as file:
        assert all(file.execute(f"SELECT count(*) FROM {table}").fetchone()[0] for table in facts)
    with open_season(old_path) as season:
        tallies = season.log.count()
    assert (version(old_path), tallies) == (SCHEMA_VERSION, 35)
    copy = old_path.with_name(f"older.db.before-version-{SCHEMA_VERSION}")
    assert (version(copy), facts_of(copy)) == (1, facts)
    assert facts_of(old_path) == facts
    with closing(sqlite3.connect(old_path)) as file:
        assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert file.execute("PRAGMA foreign_key_check").fetchall() == []


def test_an_old_file_becomes_like_a_new_one(old_path, season_path, columns):
    """Afterwards it has the same tables, and takes reps with their lines."""
    with open_season(old_path) as season:
        before = season.reps.all(PRACTICE)
        rep = Rep(PRACTICE, "breakout_attack", "two_on_one", before[0].slots, "bench")
        season.reps.begin(rep, RotationFact(PRACTICE, "bench", rep.drill, rep.step, Change.NEXT, rep.id))
        assert season.reps.all(PRACTICE) == [*before, rep]
    assert [rep.tablet for rep in before] == [""] * 5
    with closing(sqlite3.connect(old_path)) as old, closing(sqlite3.connect(season_path)) as new:
        assert columns(old) == columns(new)


def test_what_is_only_in_the_journal_comes_along(old_path):
    """A program of version 1 that died left its last fact in the journal."""
    subprocess.run([sys.executable, "-c", LEAVES_A_JOURNAL, old_path], check=True)
    assert old_path.with_name("older.db-wal").stat().st_size > 0
    with open_season(old_path) as season:
        assert "Wren" in season.people.observers()
    with closing(sqlite3.connect(f"{old_path}.before-version-{SCHEMA_VERSION}")) as copy:
        assert copy.execute("SELECT count(*) FROM observer WHERE name = 'Wren'").fetchone() == (1,)


def test_two_programs_at_once_keep_the_older_copy(old_path, monkeypatch):
    """The one that comes second finds the file up to date, and leaves the first one's copy as it is."""
    keep = opening._keep_copy

    def come_second(connection, copy):
        monkeypatch.setattr(opening, "_keep_copy", keep)
        open_season(old_path).close()
        keep(connection, copy)

    monkeypatch.setattr(opening, "_keep_copy", come_second)
    open_season(old_path).close()
    assert version(old_path) == SCHEMA_VERSION
    assert version(f"{old_path}.before-version-{SCHEMA_VERSION}") == 1


@pytest.mark.skipif(os.name == "nt", reason="Windows has no SIGKILL")
def test_killed_at_every_third_statement(tmp_path):
    """Up to the commit it is the old file, from then on the new one, and it opens with every fact.

    And at each one about the commit. At all of them: ``bench_kills.py --statements``.
    """
    statements = statements_of(make_v1(tmp_path / "whole.db"))
    (commit,) = (n for n, told in enumerate(statements, 1) if told.startswith("statement COMMIT"))
    after = len(statements) + 1
    numbers = sorted({*range(1, after, 3), commit - 2, commit - 1, commit, min(commit + 1, after), after})
    left = kill_at_statements(tmp_path, numbers)
    assert [kill.wrong for kill in left] == [()] * len(left)
    stages = [kill.stage for kill in left]
    assert stages[-1] == "opened"  # and before it every statement was deadly that was asked for
    assert stages.count("changing") >= 10
    assert stages.count("committing") == 1
    assert {kill.version for kill in left if kill.stage in ("changing", "committing")} == {1}
    assert {kill.version for kill in left if kill.stage == "opened"} == {SCHEMA_VERSION}


@pytest.mark.skipif(os.name == "nt", reason="Windows has no SIGKILL")
def test_killed_at_some_moment(tmp_path):
    """Once from the beginning of the copy and once from that of the transaction on, wherever it strikes."""
    chance = random.Random(20251004)
    for stage in ("copying", "statement BEGIN"):
        path = make_v1(tmp_path / f"{stage}.db", reps=6_000)
        assert kill_at_random(path, stage, 0.03, chance).wrong == ()
