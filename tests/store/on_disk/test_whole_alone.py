"""A season file alone is whole at every moment at which a coach would copy it, and its owner's only.

Cases: written back while others read; closed by a command, with and without an app that has the file in hand;
locks that other ways of opening would drop; another file written over the open one; its index deleted; a
second name; what a stopped program leaves; who may read it.
"""

import os
import shutil
import sqlite3
import stat
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from lanterns_season import DRILLS, PLAYERS, SKILLS, TEAM, tally
from season_v1 import make_v1

from evaltrack.device.season_claim import SeasonClaim
from evaltrack.errors import NotSavedError, SeasonFileError
from evaltrack.store.creating import create_season
from evaltrack.store.on_disk.drafts import draft_beside
from evaltrack.store.opening import open_season, reopen
from evaltrack.store.schema import SCHEMA_VERSION

posix = pytest.mark.skipif(os.name == "nt", reason="Windows keeps an open file in its place")


def kept(path: Path) -> list[int]:
    """Return the tallies of a file that anybody can read there, by number."""
    with open_season(path) as season:
        return sorted(t.id.int - 1000 for t in season.log.tallies())


def copied(path: Path, to: Path) -> Path:
    """Copy a file by another program: closing it in this process would drop the locks of SQLite on it."""
    copy = "import shutil, sys; shutil.copy(*sys.argv[1:])"
    subprocess.run([sys.executable, "-c", copy, path, to], check=True)
    return to


def alone(path: Path) -> list[int]:
    """Return the tallies of a copy of the file alone, as a coach would make it with a file manager."""
    folder = path.with_name("stick")
    folder.mkdir(exist_ok=True)
    return kept(copied(path, folder / path.name))


def in_another_process(path: Path, act: str) -> str:
    """Open the file in a process of its own, do something with ``season``, and return what it printed."""
    program = "import sys\nfrom evaltrack.store.opening import open_season\n"
    program += f"with open_season(sys.argv[1]) as season:\n {act}\n"
    done = subprocess.run([sys.executable, "-c", program, path], capture_output=True, text=True)
    return (done.stdout or done.stderr).strip()


def test_written_back_the_file_alone_is_whole(season, season_path):
    """Before, it lacks what was tallied; after, it has all, and the journal is empty."""
    season.log.add_many([], map(tally, range(100)))
    assert alone(season_path) == []
    assert season.waiting
    assert season.write_back()
    assert not season.waiting
    assert alone(season_path) == list(range(100))
    in_another_process(season_path, "season.people.add_observer('Wren')")
    assert season.waiting
    assert season.write_back(empty=True)
    assert not season_path.with_name(f"{season_path.name}-wal").stat().st_size


def test_a_reader_in_between_is_waited_for_and_told_of(season, season_path, impatient):
    """While somebody reads an older state the file cannot be made whole: it says so, and later it can."""
    season.log.add(tally(0))
    with closing(sqlite3.connect(season_path, isolation_level=None)) as reader:
        reader.execute("BEGIN")
        assert reader.execute("SELECT count(*) FROM tally").fetchone() == (1,)
        season.log.add(tally(1))
        assert not season.write_back()
        season.log.add(tally(2))
    assert season.write_back()
    assert alone(season_path) == [0, 1, 2]


def test_a_command_that_is_alone_leaves_the_file_whole(season_path):
    """Nothing lies beside it when it is done."""
    in_another_process(season_path, "season.people.add_observer('Wren')")
    assert list(season_path.parent.iterdir()) == [season_path]
    with open_season(season_path) as season:
        assert "Wren" in season.people.observers()


def test_a_command_beside_the_app_leaves_writing_back_to_the_app(season, season_path, tmp_path):
    """Whoever has the claim writes back, and nobody else: two at once can damage a file."""
    claim = SeasonClaim()
    assert claim.take(season_path)
    season.log.add(tally(0))
    before = season_path.read_bytes()
    in_another_process(season_path, "season.people.add_observer('Wren')")
    assert season_path.read_bytes() == before
    assert season.write_back()
    claim.leave()
    assert alone(season_path) == [0]


def test_a_second_opening_beside_the_app_leaves_writing_back_to_the_app(season, season_path):
    """In the app's process too: while it has the claim, another connection that closes leaves it alone."""
    claim = SeasonClaim()
    assert claim.take(season_path)
    season.log.add(tally(0))
    before = copied(season_path, season_path.with_name("before.db")).read_bytes()
    with open_season(season_path) as other:
        other.log.add(tally(1))
    assert copied(season_path, season_path.with_name("after.db")).read_bytes() == before
    assert season.write_back()
    claim.leave()
    assert alone(season_path) == [0, 1]


def test_an_older_file_is_whole_alone_as_soon_as_it_is_up_to_date(tmp_path):
    """What was changed is in the file itself before anything is written into it."""
    path = make_v1(tmp_path / "old.db")
    with open_season(path):
        copy = copied(path, tmp_path / "copy.db")
    with closing(sqlite3.connect(copy)) as file:
        assert file.execute("PRAGMA user_version").fetchone() == (SCHEMA_VERSION,)


@pytest.mark.skipif(not Path("/proc/locks").exists(), reason="only Linux tells the locks")
def test_a_second_opening_in_one_process_drops_no_lock(season, season_path):
    """A thread of the app that opens and closes the file beside the boards leaves SQLite's locks in force."""

    def locks() -> int:
        number = f":{season_path.stat().st_ino} "
        return Path("/proc/locks").read_text().count(number)

    season.log.add(tally(0))
    before = locks()
    assert before
    with open_season(season_path) as other:
        assert other.log.count() == 1
    assert locks() == before
    assert season.write_back()
    season.log.add(tally(1))
    assert locks() == before
    in_another_process(season_path, "season.people.add_observer('Wren')")
    season.log.add(tally(2))
    season.close()
    assert kept(season_path) == [0, 1, 2]


@posix
def test_a_file_that_was_written_over_takes_no_tally(season, season_path, refused):
    """An old backup copied over the open file: nothing is called saved, and nothing is played into it."""
    old = season_path.read_bytes()
    season.log.add_many([], map(tally, range(300)))
    assert season.write_back()
    season.log.add_many([], map(tally, range(300, 320)))
    with season_path.open("r+b") as file:
        file.write(old)
        file.truncate()
    for _ in range(2):
        with refused("not saved: ", "written over", "keep", kind=NotSavedError):
            season.log.add(tally(999))
    with refused(f'"{season_path.name}-wal"', "Keep both"):
        reopen(season)
    season.close()
    assert season_path.read_bytes() == old
    journal = season_path.with_name(f"{season_path.name}-wal")
    assert journal.stat().st_size
    journal.unlink()
    assert kept(season_path) == []


@posix
def test_a_copy_of_this_very_moment_written_over_the_file_goes_on(season, season_path, tmp_path):
    """What SQLite copied from the open file belongs to the journal beside it too: no tap is refused."""
    season.log.add_many([], map(tally, range(50)))
    with closing(sqlite3.connect(season_path)) as source, closing(sqlite3.connect(tmp_path / "b.db")) as copy:
        source.backup(copy)
    season.log.add_many([], map(tally, range(50, 80)))
    season_path.write_bytes((tmp_path / "b.db").read_bytes())
    season.log.add(tally(80))
    season.close()
    assert kept(season_path) == list(range(81))


@posix
def test_an_older_copy_over_the_open_file_is_not_taken_for_it(season, season_path):
    """Its journal was written back since, so that copy lacks what was tallied: no tally goes to it unseen."""
    season.log.add_many([], map(tally, range(30)))
    season.write_back()
    older = season_path.read_bytes()
    season.log.add_many([], map(tally, range(30, 300)))
    season.write_back()
    season_path.write_bytes(older)
    with pytest.raises(NotSavedError):
        season.log.add(tally(999))
    assert season.may_return
    reopen(season)
    season.log.add(tally(1000))
    season.close()
    found = kept(season_path)
    assert found[-1] == 1000
    assert found[:-1] in (list(range(30)), list(range(300)))


@posix
@pytest.mark.parametrize("gone", [("-shm",), ("-wal",), ("-wal", "-shm")])
@pytest.mark.parametrize("other", [False, True])
def test_what_lies_beside_an_open_file_is_deleted(season_path, gone, other):
    """No tally is called saved that is not there in the end, with another program or without."""
    saved = []

    def taps(season, first: int) -> None:
        for n in range(first, first + 20):
            try:
                if season.may_return:
                    reopen(season)
                season.log.add(tally(n))
            except SeasonFileError:  # of which NotSavedError is one
                continue
            saved.append(n)

    with open_season(season_path) as season:
        taps(season, 0)
        for side in gone:
            season_path.with_name(f"{season_path.name}{side}").unlink()
        if other:
            in_another_process(season_path, "print(season.log.count())")
        taps(season, 100)
        if other:
            in_another_process(season_path, "season.people.add_observer('Wren')")
        taps(season, 200)
    assert kept(season_path) == saved
    assert len(saved) >= 40
    with closing(sqlite3.connect(season_path)) as file:
        assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


@posix
def test_a_second_name_of_the_file_is_refused(season_path, refused):
    """Two windows under two names would not see each other's journal."""
    os.link(season_path, season_path.with_name("again.db"))
    for name in ("again.db", season_path.name):
        with refused(name, "second name", "copy"):
            open_season(season_path.with_name(name))


@posix
def test_what_a_stopped_program_left_of_a_new_season_is_cleared_away(tmp_path, season_template):
    """A draft with children's names, of a process that is no more; that of a living one stays."""
    path = tmp_path / "lanterns.db"
    program = (
        "import sys; from pathlib import Path; from evaltrack.store.on_disk.drafts import draft_beside;"
        "draft = draft_beside(Path(sys.argv[1])); draft.write_text('Juno Reed');"
        "draft.with_name(draft.name + '-journal').write_text('Juno Reed')"
    )
    subprocess.run([sys.executable, "-c", program, path], check=True)
    living = draft_beside(path)
    living.touch()
    assert len(list(tmp_path.iterdir())) == 3
    create_season(path, **TEAM, players=PLAYERS, skills=SKILLS, drills=DRILLS).close()
    assert sorted(tmp_path.iterdir()) == sorted([path, living])


@posix
def test_a_draft_of_whom_nothing_can_be_known_stays(tmp_path):
    """No process has such a number here: the file may come from a machine that counts farther."""
    path = tmp_path / "lanterns.db"
    strange = tmp_path / f"{path.name}.{10**30}-{'0' * 32}.new"
    strange.touch()
    create_season(path, **TEAM, players=PLAYERS, skills=SKILLS, drills=DRILLS).close()
    assert strange.exists()


@posix
def test_a_program_stopped_between_two_names_is_no_second_name(tmp_path, season_template):
    """It was stopped when the season had its name, and the draft still had its own."""
    path = Path(shutil.copy(season_template, tmp_path / "lanterns.db"))
    program = (
        "import os, sys; from pathlib import Path; from evaltrack.store.on_disk.drafts import draft_beside;"
        "os.link(sys.argv[1], draft_beside(Path(sys.argv[1])))"
    )
    subprocess.run([sys.executable, "-c", program, path], check=True)
    assert kept(path) == []
    assert list(tmp_path.iterdir()) == [path]


@posix
def test_only_its_owner_reads_a_season_file(tmp_path, season_template):
    """A new one from the first byte on, with what lies beside it; one from elsewhere when it is opened."""
    before = os.umask(0o000)
    try:
        new, old = tmp_path / "new.db", Path(shutil.copy(season_template, tmp_path / "old.db"))
        old.chmod(0o666)
        made = create_season(new, **TEAM, players=PLAYERS, skills=SKILLS, drills=DRILLS)
        with made, open_season(old) as season:
            season.log.add(tally(0))
            modes = {one.name: stat.S_IMODE(one.stat().st_mode) for one in tmp_path.iterdir()}
        assert len(modes) == 6
        assert set(modes.values()) == {0o600}
    finally:
        os.umask(before)


@pytest.mark.parametrize("long", ["a" * 230 + ".db", "/".join(["b" * 60] * 9) + "/s.db"])
def test_a_name_as_long_as_the_disk_takes_is_made_and_a_longer_way_told(tmp_path, refused, long):
    """A draft's own longer name is no hindrance; what SQLite cannot open is said before it is made."""
    path = tmp_path / long
    path.parent.mkdir(parents=True, exist_ok=True)
    if len(os.fsencode(path)) <= 500:
        create_season(path, **TEAM, players=PLAYERS, skills=SKILLS, drills=DRILLS).close()
        assert kept(path) == []
        return
    for act in (
        lambda: open_season(path),
        lambda: create_season(path, **TEAM, players=[], skills=[], drills=[]),
    ):
        with refused("too long", "shorter"):
            act()
