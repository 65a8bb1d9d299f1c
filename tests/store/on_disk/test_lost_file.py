"""A season file that goes away while it is open: no write goes where nobody finds it.

Cases: deleted, moved, moved and back, its journal deleted, another file in its place, the disk put in
again with another copy; a failing disk; how long a lock is waited for.
"""

import os
import shutil
import sqlite3
from contextlib import closing, contextmanager
from pathlib import Path
from time import perf_counter

import pytest
from lanterns_season import tally

from evaltrack.errors import NotSavedError, SeasonFileError
from evaltrack.store.opening import open_season, reopen

pytestmark = pytest.mark.skipif(os.name == "nt", reason="Windows keeps an open file in its place")


def journal(path: Path) -> Path:
    return path.with_name(f"{path.name}-wal")


def kept(path: Path) -> list[int]:
    """Return the tallies of a file that anybody can read there, by number."""
    with open_season(path) as season:
        return sorted(t.id.int - 1000 for t in season.log.tallies())


def test_a_deleted_file_takes_no_tally(season, season_path, refused):
    """A tally after the file was deleted is not saved, and says so every time."""
    season.log.add(tally(0))
    season_path.unlink()
    for write in (lambda: season.log.add(tally(1)), lambda: season.log.add_many([], [tally(1)])):
        with refused("not saved: ", "is gone", kind=NotSavedError):
            write()
    assert not season.may_return


def test_a_file_that_was_moved_and_brought_back_has_lost_nothing(season, season_path, refused):
    """While it is away nothing is saved; back in its place it goes on, without being opened again."""
    season.log.add(tally(0))
    away = season_path.rename(season_path.with_name("elsewhere.db"))
    with refused("is gone", kind=NotSavedError):
        season.log.add(tally(1))
    away.rename(season_path)
    season.log.add(tally(2))
    season.close()
    assert kept(season_path) == [0, 2]


def test_a_deleted_journal_is_made_good_by_opening_anew(season, season_path, refused):
    """What was only in the journal is still in hand: opening again writes it into the file."""
    season.log.add(tally(0))
    journal(season_path).unlink()
    with refused("not saved: ", "journal", "was deleted", kind=NotSavedError):
        season.log.add(tally(1))
    assert season.may_return
    reopen(season)
    season.log.add(tally(2))
    assert kept(season_path) == [0, 2]


def test_a_deleted_journal_that_two_programs_share_waits_for_the_other_one(season, season_path, refused):
    """A new journal beside the shared one would damage the file: only the last connection opens it again."""
    with open_season(season_path) as other:
        season.log.add(tally(0))
        assert other.log.count() == 1
        journal(season_path).unlink()
        with refused("another program is using", kind=SeasonFileError):
            reopen(season)
        with refused("not saved: ", kind=NotSavedError):
            season.log.add(tally(1))
        assert kept(Path(shutil.copy(season_path, season_path.with_name("copy.db")))) == [0]
    assert season.may_return
    reopen(season)
    season.log.add(tally(2))
    season.close()
    assert kept(season_path) == [0, 2]
    with closing(sqlite3.connect(season_path)) as other:
        assert other.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


@pytest.mark.parametrize("failed", [False, True])
def test_another_file_beside_our_journal_is_left_alone(season, season_path, refused, failed):
    """Our journal would be played into the other file and damage it: it is neither written nor opened."""
    other = shutil.copy(season_path, season_path.with_name("copy.db"))
    before = Path(other).read_bytes()
    season.log.add(tally(7))
    Path(other).replace(season_path)
    with refused("another file lies", "bring the season file back", kind=NotSavedError):
        season.log.add(tally(8))
    season._connection.unsound = failed
    assert not season.may_return
    season.close()
    assert season_path.read_bytes() == before


def test_a_copy_of_the_file_in_its_place_goes_on(season, season_path, tmp_path):
    """File and journal come back together on another disk, as other files: opened again, all is there."""
    season.log.add(tally(0))
    names = (season_path, journal(season_path))
    copies = [Path(shutil.copy(name, tmp_path / f"{name.name}.copy")) for name in names]
    for name, copy in zip(names, copies, strict=True):
        copy.replace(name)
    assert season.may_return
    reopen(season)
    season.log.add(tally(1))
    season.close()
    assert kept(season_path) == [0, 1]


def test_what_cannot_be_opened_anew_is_tried_again(season, season_path, refused):
    """A file of another kind in its place is refused; when the right one is back, the season goes on."""
    season.log.add(tally(0))
    aside = [
        name.rename(name.with_name(f"aside-{name.name}")) for name in (season_path, journal(season_path))
    ]
    season_path.write_text("milk, bread")
    assert season.may_return
    with refused("not a season file", kind=SeasonFileError):
        reopen(season)
    with refused("not saved: ", kind=NotSavedError):
        season.log.add(tally(1))
    for name in aside:
        name.rename(name.with_name(name.name.removeprefix("aside-")))
    assert season.may_return
    reopen(season)
    season.log.add(tally(2))
    assert kept(season_path) == [0, 2]


def test_a_disk_that_failed_asks_for_a_new_connection(season, season_path):
    """After a disk error the connection is not trusted; opened again, the season has all and takes more."""
    import resource

    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    season.log.add(tally(0))
    assert not season.may_return
    resource.setrlimit(resource.RLIMIT_FSIZE, (journal(season_path).stat().st_size + 1000, hard))
    try:
        with pytest.raises(NotSavedError):
            season.log.add(tally(1))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert season.may_return
    reopen(season)
    assert not season.may_return
    season.log.add(tally(2))
    assert kept(season_path) == [0, 2]


@contextmanager
def held(path):
    """Hold the lock of a file, as another program does that writes."""
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield
        other.execute("ROLLBACK")


def test_only_the_first_of_many_writes_waits_for_a_lock(season_path, refused):
    """The first write waits the time it was given; while the lock stays, those after it wait a fifth."""
    took = []
    with open_season(season_path, wait=0.1) as season:
        with held(season_path):
            for number in range(3):
                start = perf_counter()
                with refused("another program is using", kind=NotSavedError):
                    season.log.add(tally(number))
                took.append(perf_counter() - start)
        season.log.add(tally(7))  # the lock is free: from now on it is waited for as before
        with held(season_path):
            start = perf_counter()
            with pytest.raises(NotSavedError):
                season.log.add(tally(8))
            again = perf_counter() - start
    assert min(took[0], again) >= 0.09
    assert max(took[1:]) < 0.09
    assert kept(season_path) == [7]


@pytest.mark.parametrize(
    ("setting", "value"),
    [
        ("synchronous", 2),  # FULL: each commit is on disk before it is shown
        ("foreign_keys", 1),
        ("wal_autocheckpoint", 0),  # only whoever has the claim writes back
        ("trusted_schema", 0),
        ("cell_size_check", 1),
    ],
)
def test_a_connection_keeps_to_what_a_power_cut_and_a_strange_file_ask_for(season, setting, value):
    """No test can cut the power, but SQLite can be asked whether it waits for the disk."""
    for _ in range(2):
        assert season._connection.execute(f"PRAGMA {setting}").fetchone() == (value,)
        reopen(season)


def test_writing_back_in_passing_waits_for_nobody_and_the_next_tap_does_as_before(season_path, refused):
    """While somebody reads it gives up at once; a tap that meets a lock has its patience again."""
    with open_season(season_path, wait=1.5) as season:
        season.log.add(tally(0))
        with closing(sqlite3.connect(season_path, isolation_level=None)) as reader:
            reader.execute("BEGIN")
            reader.execute("SELECT count(*) FROM tally").fetchone()
            season.log.add(tally(1))
            start = perf_counter()
            assert not season.write_back(wait=False)
            assert perf_counter() - start < 1.2
    with open_season(season_path, wait=0.1) as season:
        season.log.add(tally(2))
        assert season.write_back(wait=False)
        with held(season_path):
            start = perf_counter()
            with refused("another program is using", kind=NotSavedError):
                season.log.add(tally(3))
            assert perf_counter() - start >= 0.09


def test_a_file_of_the_same_size_and_time_in_its_place_is_another_one(season, season_path, refused):
    """A copy that keeps the time, as file managers make them, in the place of the open file."""
    season.log.add(tally(0))
    assert season.write_back(empty=True)
    other, state = shutil.copy(season_path, season_path.with_name("copy.db")), season_path.stat()
    os.utime(other, ns=(state.st_atime_ns, state.st_mtime_ns))
    Path(other).replace(season_path)
    with refused("not saved: ", kind=NotSavedError):
        season.log.add(tally(1))


def test_a_file_of_the_same_size_that_was_written_over_is_noticed(season, season_path, refused):
    """Its time alone tells that another program was at it."""
    season.log.add(tally(0))
    old = season_path.read_bytes()
    assert season.write_back()
    season.log.add(tally(1))
    assert season_path.stat().st_size == len(old)
    with season_path.open("r+b") as file:
        file.write(old)
    with refused("not saved: ", "written over", kind=NotSavedError):
        season.log.add(tally(2))
