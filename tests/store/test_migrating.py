"""A file of an older version is brought up to date, after a copy of it was kept.

Cases: version and migrations agree; a copy beside; a second opening; a migration that fails, alone and after
another; a process killed in one; a copy that cannot be kept; a copy that is there already. The newer
versions are made up: the real ones and one or two more.
"""

import copy
import os
import sqlite3
import subprocess
import sys
from contextlib import closing

import pytest
from lanterns_season import tally

from evaltrack.store import migrations, opening, schema, schema_check
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season
from evaltrack.store.schema import APPLICATION_ID, SCHEMA_VERSION

NEXT = SCHEMA_VERSION + 1

KILLED_IN_A_STEP = f"""
import os, signal, sys
from evaltrack.store import migrations, opening
opening.SCHEMA_VERSION = {NEXT}

@migrations.season_migrations()
def add_weather(db):
    db.execute("CREATE TABLE weather (sky TEXT) STRICT")
    db.execute("DELETE FROM tally")
    os.kill(os.getpid(), signal.SIGKILL)

opening.open_season(sys.argv[1])
"""


@pytest.fixture
def newer_evaltrack(monkeypatch):
    """Return a way to make this program a newer one, with further migrations after the real ones."""

    real = migrations.season_migrations

    def become(*further):
        more = copy.deepcopy(real)
        for migration in further:
            more()(migration)
        monkeypatch.setattr(migrations, "season_migrations", more)
        monkeypatch.setattr(opening, "SCHEMA_VERSION", SCHEMA_VERSION + len(further))
        monkeypatch.setattr(schema, "_VERSIONS", (*schema._VERSIONS, *[(WEATHER,)] * len(further)))
        schema_check.expected.cache_clear()

    yield become
    schema_check.expected.cache_clear()


WEATHER = "CREATE TABLE weather (sky TEXT) STRICT"


def add_weather(db):
    """Add a table."""
    db.execute(WEATHER)


def break_halfway(db):
    """Change things, then fail in SQL."""
    db.execute("CREATE TABLE rink (name TEXT) STRICT")
    db.execute("DELETE FROM tally")
    db.execute("INSERT INTO rink VALUES (1, 2, 3)")


def crash_halfway(db):
    """Change things, then fail as a bug would."""
    db.execute("DELETE FROM tally")
    raise ZeroDivisionError


def version(path) -> int:
    """Read the version of a file by a connection of its own."""
    with closing(sqlite3.connect(path)) as other:
        return other.execute("PRAGMA user_version").fetchone()[0]


def tables(path) -> set[str]:
    """Read the names of a file's tables."""
    with closing(sqlite3.connect(path)) as other:
        return {name for (name,) in other.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}


def copy_beside(path):
    """Return where the copy of the older file is kept."""
    return path.with_name(f"{path.name}.before-version-{NEXT}")


def test_version_and_migrations_agree(season_path):
    """A new file has the version that the program knows, and each migration counts one."""
    pending = migrations.season_migrations.pending(migrations.Database(memory=True))
    assert version(season_path) == SCHEMA_VERSION == len(pending)
    with closing(sqlite3.connect(season_path)) as other:
        assert other.execute("PRAGMA application_id").fetchone()[0] == APPLICATION_ID


def test_an_older_file_is_brought_up_to_date_and_a_copy_kept(tallied_path, newer_evaltrack, contents):
    """The older file gets the new table and keeps its tallies; the copy is the older file, and opens."""
    before = contents(tallied_path)
    newer_evaltrack(add_weather)
    with open_season(tallied_path) as season:
        assert season.log.tallies() == [tally(n) for n in range(3)]
    assert version(tallied_path) == NEXT
    assert "weather" in tables(tallied_path)
    kept = copy_beside(tallied_path)
    assert contents(kept) == before
    assert version(kept) == SCHEMA_VERSION
    assert sorted(tallied_path.parent.iterdir()) == [tallied_path, kept]


def test_the_copy_holds_what_was_only_in_the_journal(tallied_path, newer_evaltrack):
    """Tallies that another window has committed to the journal only are in the copy too."""
    with open_season(tallied_path) as older:
        older.log.add(tally(9))
        newer_evaltrack(add_weather)
        open_season(tallied_path).close()
    with closing(sqlite3.connect(copy_beside(tallied_path))) as other:
        assert other.execute("SELECT count(*) FROM tally").fetchone()[0] == 4


def test_a_file_up_to_date_is_not_copied_again(tallied_path, newer_evaltrack):
    """The second opening has nothing to do."""
    newer_evaltrack(add_weather)
    open_season(tallied_path).close()
    copy_beside(tallied_path).unlink()
    open_season(tallied_path).close()
    assert list(tallied_path.parent.iterdir()) == [tallied_path]


@pytest.mark.parametrize("further", [(break_halfway,), (add_weather, break_halfway)])
def test_a_step_that_fails_leaves_the_old_file(tallied_path, newer_evaltrack, refused, contents, further):
    """When the first or the second step fails, nothing of either stays: the old program opens it."""
    before = contents(tallied_path)
    newer_evaltrack(*further)
    with refused(tallied_path.name, "cannot be opened"):
        open_season(tallied_path)
    assert contents(tallied_path) == before
    newer_evaltrack()
    with open_season(tallied_path) as season:
        assert season.log.count() == 3
    assert version(tallied_path) == SCHEMA_VERSION


def test_a_bug_in_a_step_leaves_the_old_file_too(tallied_path, newer_evaltrack, contents):
    """An error nobody thought of passes on as it is, and takes the step back."""
    before = contents(tallied_path)
    newer_evaltrack(crash_halfway)
    with pytest.raises(ZeroDivisionError):
        open_season(tallied_path)
    assert contents(tallied_path) == before


def test_a_step_that_failed_can_be_tried_again(tallied_path, newer_evaltrack, refused):
    """A later program with the step put right brings the same file up to date."""
    newer_evaltrack(break_halfway)
    with refused("cannot be opened"):
        open_season(tallied_path)
    newer_evaltrack(add_weather)
    with open_season(tallied_path) as season:
        assert season.log.count() == 3
    assert version(copy_beside(tallied_path)) == SCHEMA_VERSION


@pytest.mark.skipif(os.name == "nt", reason="Windows has no SIGKILL")
def test_a_process_killed_within_a_step(tallied_path, contents):
    """A battery that dies within a step leaves the old file, which the old program opens."""
    before = contents(tallied_path)
    killed = subprocess.run([sys.executable, "-c", KILLED_IN_A_STEP, tallied_path], capture_output=True)
    assert killed.returncode == -9, killed.stderr
    with open_season(tallied_path) as season:
        assert season.log.count() == 3
    assert contents(tallied_path) == before
    assert contents(copy_beside(tallied_path)) == before


def test_without_a_copy_nothing_is_changed(tallied_path, newer_evaltrack, refused, contents):
    """When the copy cannot be kept, because a folder has its name, the older file stays as it is."""
    before = contents(tallied_path)
    copy_beside(tallied_path).mkdir()
    newer_evaltrack(add_weather)
    with refused("after a copy was kept", copy_beside(tallied_path).name):
        open_season(tallied_path)
    assert contents(tallied_path) == before
    assert sorted(tallied_path.parent.iterdir()) == [tallied_path, copy_beside(tallied_path)]


@pytest.mark.parametrize("left", ["half a copy", "another season"])
def test_a_copy_that_is_there_already_is_replaced_whole(tallied_path, newer_evaltrack, contents, left):
    """An earlier copy, even a broken one, is neither mixed with the new one nor in its way."""
    before = contents(tallied_path)
    if left == "another season":
        create_season(
            copy_beside(tallied_path), team="A", age_class="", players=[], skills=[], drills=[]
        ).close()
    else:
        copy_beside(tallied_path).write_bytes(tallied_path.read_bytes()[:5000])
    newer_evaltrack(add_weather)
    open_season(tallied_path).close()
    assert contents(copy_beside(tallied_path)) == before
