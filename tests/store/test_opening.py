"""What is refused when a season file is opened, and how an open one is set up.

Cases: missing, folder, text, empty, truncated, not ours, newer, read-only, in use, in a read-only folder;
WAL, full durability, foreign keys, strict tables; nothing heavy is imported.
"""

import os
import sqlite3
import subprocess
import sys
from contextlib import closing

import pytest
from lanterns_season import PRACTICES, tally

from evaltrack.errors import NotSavedError
from evaltrack.store import connection
from evaltrack.store.opening import open_season
from evaltrack.store.schema import SCHEMA_VERSION

OPEN_AND_TALLY = """
import sys
from evaltrack.store.opening import open_season
with open_season(sys.argv[1]) as season:
    season.log.tallies(), season.people.players(), season.catalogue.drills(), season.log.cells()
print(*sorted({name.split(".")[0] for name in sys.modules} | {n for n in sys.modules if "rotation" in n}))
"""


def test_a_file_that_is_missing(tmp_path, refused):
    """A name with no file says so and makes none."""
    with refused("there is no file", "nowhere.db"):
        open_season(tmp_path / "nowhere.db")
    assert list(tmp_path.iterdir()) == []


def test_a_folder(tmp_path, refused):
    """A folder is called a folder."""
    with refused("is a folder"):
        open_season(tmp_path)


def test_a_file_that_goes_away_while_it_is_opened(tallied_path, refused, monkeypatch):
    """A stick that is pulled out between two looks at the file is a sentence too."""
    sized = connection._end_endless_reads

    def pull_out_and_size(opened, path):
        path.rename(path.with_name("moved.db"))
        sized(opened, path)

    monkeypatch.setattr(connection, "_end_endless_reads", pull_out_and_size)
    with refused("cannot be read: No such file"):
        open_season(tallied_path)


@pytest.mark.parametrize(
    "content", [b"", b"number,name\n7,Juno\n", b"SQLite format 2\x00" * 99, b"\x00\xff" * 999]
)
def test_a_file_of_another_kind(tmp_path, refused, content):
    """An empty file, a text file and other bytes are no season file, and stay as they are."""
    path = tmp_path / "other.db"
    path.write_bytes(content)
    with refused("is not a season file"):
        open_season(path)
    assert path.read_bytes() == content


@pytest.mark.parametrize("kept", [0.001, 0.02, 0.3, 0.7, 0.99, 0.99999])
def test_a_truncated_file(tallied_path, refused, kept):
    """A file that lost its end, wherever it was cut, is called damaged."""
    content = tallied_path.read_bytes()
    tallied_path.write_bytes(content[: int(len(content) * kept)])
    with refused("damaged"):
        open_season(tallied_path)


def test_bytes_after_the_header_that_mean_nothing(tmp_path, refused):
    """A file that only begins like a database is refused."""
    path = tmp_path / "begins.db"
    path.write_bytes(b"SQLite format 3\x00" + b"\xaa" * 4096)
    with refused("damaged"):
        open_season(path)


def test_a_database_that_is_not_ours(tmp_path, refused):
    """Another program's database is refused and not changed."""
    path = tmp_path / "stamps.db"
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE stamp (country TEXT)")
    before = path.read_bytes()
    with refused("not a season file of evaltrack"):
        open_season(path)
    assert path.read_bytes() == before


def test_a_file_from_a_newer_version(tallied_path, refused, contents):
    """A file that a newer evaltrack wrote is refused before anything is changed in it."""
    with closing(sqlite3.connect(tallied_path)) as other:
        other.execute(f"PRAGMA user_version = {SCHEMA_VERSION + 1}")
    before = contents(tallied_path)
    with refused("newer evaltrack", "update"):
        open_season(tallied_path)
    assert contents(tallied_path) == before
    assert [path.name for path in tallied_path.parent.iterdir()] == [tallied_path.name]


def test_a_file_marked_read_only(tallied_path, refused):
    """A read-only file is refused at opening and not at the first tally."""
    tallied_path.chmod(0o444)
    with refused("is read-only"):
        open_season(tallied_path)


def test_a_file_in_a_read_only_folder(tallied_path, read_only_folder, refused):
    """A folder that takes no journal is refused at opening and not at the first tally."""
    with read_only_folder(tallied_path) as folder, refused("read-only"):
        open_season(folder / tallied_path.name)


def test_a_file_that_another_program_holds(impatient, tallied_path, refused):
    """A file that another program has locked for itself is refused with that reason, and opens later."""
    with closing(sqlite3.connect(tallied_path, isolation_level=None)) as other:
        other.execute("PRAGMA locking_mode = EXCLUSIVE")
        other.execute("BEGIN EXCLUSIVE")
        other.execute("PRAGMA user_version")
        with refused("another program is using"):
            open_season(tallied_path)
        other.execute("COMMIT")
    with open_season(tallied_path) as season:
        assert season.log.count() == 3


def test_two_tablet_windows_share_a_file(tallied_path):
    """A file may be open twice; each sees what the other has committed."""
    with open_season(tallied_path) as one, open_season(tallied_path) as two:
        one.log.add(tally(7))
        two.log.add(tally(8))
        assert one.log.tallies() == two.log.tallies()
        assert one.log.count() == 5


def test_a_path_with_signs_that_mean_something_in_addresses(tallied_path):
    """A file may be named with spaces, question marks, hashes and percent signs."""
    name = "12U #1 100%41.db" if os.name == "nt" else "12U & co? #1 100%41.db"
    odd = tallied_path.rename(tallied_path.with_name(name))
    with open_season(str(odd)) as season:
        assert season.path == odd
        assert season.log.count() == 3


def test_every_commit_is_on_disk_and_survives_a_dead_battery(season_path):
    """Journal and durability are what the promise needs: WAL, every commit synced (2 is FULL)."""
    with open_season(season_path) as season:
        journal = season._connection.execute("PRAGMA journal_mode").fetchone()[0]
        synchronous = season._connection.execute("PRAGMA synchronous").fetchone()[0]
        season.log.add(tally(0))
        assert season_path.with_name(f"{season_path.name}-wal").stat().st_size > 0
    assert (journal, synchronous) == ("wal", 2)
    assert season_path.read_bytes()[18:20] == b"\x02\x02"


def test_foreign_keys_are_on_for_every_connection(season):
    """A tally of an unknown practice is refused by the file itself."""
    with pytest.raises(NotSavedError):
        season.log.add(tally(0, practice="2001-01-01"))


def test_every_table_is_strict(season_path):
    """No table of ours takes a text where a number belongs."""
    with closing(sqlite3.connect(season_path)) as other:
        select = "SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND type = 'table'"
        tables = other.execute(select).fetchall()
    ours = {name: strict for name, strict in tables if not name.startswith(("sqlite_", "_sqlite_"))}
    assert {"tally", "withdrawal", "player", "practice"} <= ours.keys()
    assert [name for name, strict in ours.items() if not strict] == []


def test_a_closed_file_leaves_nothing_beside_it(tallied_path):
    """After closing, the season is one file again, fit to be copied."""
    assert [path.name for path in tallied_path.parent.iterdir()] == [tallied_path.name]


def test_opening_a_current_file_loads_nothing_heavy(tallied_path):
    """The way to the first board imports neither sqlite-utils nor what it brings along."""
    done = subprocess.run(
        [sys.executable, "-c", OPEN_AND_TALLY, tallied_path], capture_output=True, text=True, check=True
    )
    loaded = set(done.stdout.split())
    assert "sqlite3" in loaded
    assert not loaded & {"sqlite_utils", "pandas", "numpy", "scipy", "matplotlib", "typst", "kivy", "click"}
    assert not [name for name in loaded if "rotation" in name], "the first board has no slots"


def test_asking_for_a_practice_does_not_read_the_whole_log(season):
    """The board's question goes by an index, so a long season does not slow it down."""
    season.log.add(tally(0))
    asked = []
    season._connection.set_trace_callback(asked.append)
    season.log.tallies(practice=PRACTICES[0].key)
    season._connection.set_trace_callback(None)
    plan = season._connection.execute(f"EXPLAIN QUERY PLAN {asked[-1]}").fetchall()
    assert any("tally_practice" in row[-1] for row in plan), plan
