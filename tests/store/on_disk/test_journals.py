"""What lies beside a season file is played into it only when it is the file's own.

Cases: a journal that a stopped program left, with its own file, with a backup, with a copy of both, with
another season; a file and a journal of any two moments; a journal that another program began; a rollback
journal; what is no file at all; a log that is seen while it is written; a live file that another process
opens.
"""

import os
import shutil
import sqlite3
import struct
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lanterns_season import tally

from evaltrack.device.season_claim import SeasonClaim
from evaltrack.errors import NotSavedError, SeasonFileError
from evaltrack.rink.tally import Withdrawal
from evaltrack.store.on_disk import journals
from evaltrack.store.opening import open_season

SIDES = ("-wal", "-journal")


def beside(path: Path, side: str = "-wal") -> Path:
    return path.with_name(f"{path.name}{side}")


def kept(path: Path) -> list[int]:
    """Return the tallies of a file by number; SeasonFileError when it is refused."""
    with open_season(path) as season:
        return sorted(t.id.int - 1000 for t in season.log.tallies())


def left(path: Path, to: Path) -> Path:
    """Copy a file and its journal as they lie there, as after a kill, to a folder of their own."""
    to.mkdir()
    for one in (path, beside(path)):
        if one.exists():
            shutil.copy(one, to / one.name)
    return to / path.name


def tapped(path: Path, first: int, many: int, to: Path) -> Path:
    """Tally in a season file and return it as it would lie there after a kill."""
    with open_season(path) as season:
        for n in range(first, first + many):
            season.log.add(tally(n))
        return left(path, to)


def everything(path: Path) -> dict[str, bytes]:
    """Return the content of all files of a folder."""
    return {one.name: one.read_bytes() for one in path.parent.iterdir() if not one.name.endswith("-shm")}


@pytest.mark.parametrize(("before", "between", "last"), [(30, 20, 50), (200, 5, 2), (100, 300, 70)])
def test_a_backup_beside_a_journal_that_was_left_is_refused_by_name(
    season_path, tmp_path, refused, before, between, last
):
    """Nothing is touched; moved away, the backup opens whole, and so does the pair, brought together."""
    with open_season(season_path) as season:
        season.log.add_many([], map(tally, range(before)))
    backup = Path(shutil.copy(season_path, tmp_path / "sunday.db"))
    with open_season(season_path) as season:
        season.log.add_many([], map(tally, range(before, before + between)))
    died = tapped(season_path, before + between, last, tmp_path / "died")
    original = died.rename(died.with_name("original.db"))
    shutil.copy(backup, died)
    as_it_lay = everything(died)
    with refused(f'"{died.name}-wal"', f'"{died.name}"', "Keep both", "move"):
        open_season(died)
    assert everything(died) == as_it_lay
    journal = beside(died).rename(beside(died.with_name("original.db")))
    assert kept(died) == list(range(before))
    assert journal.exists()
    assert kept(original) == list(range(before + between + last))


def test_a_journal_with_several_marks_belongs_to_the_file_that_it_was_begun_for(season_path, tmp_path):
    """Each transaction marks it again: after a kill the file still holds the epoch before the first."""
    with open_season(season_path) as season:
        for first in (0, 20, 40):
            season.log.add_many([], map(tally, range(first, first + 20)))
        died = left(season_path, tmp_path / "died")
    assert kept(died) == list(range(60))


def test_a_backup_of_just_that_moment_and_the_journal_are_whole(season_path, tmp_path):
    """Nothing was written back since the backup: it is the very file to which the journal belongs."""
    with open_season(season_path) as season:
        season.log.add_many([], map(tally, range(50)))
    backup = season_path.read_bytes()
    died = tapped(season_path, 50, 10, tmp_path / "died")
    died.write_bytes(backup)
    assert kept(died) == list(range(60))


def test_a_journal_of_another_season_is_refused(season_path, another_season_path, tmp_path, refused):
    """Two teams, two files; the journal of one beside the other."""
    died = tapped(season_path, 0, 5, tmp_path / "died")
    other = shutil.copy(another_season_path, tmp_path / "other.db")
    shutil.copy(beside(died), beside(Path(other)))
    with refused('"other.db-wal"', "Keep both"):
        open_season(other)


@pytest.mark.parametrize("tap_by_tap", [False, True])
def test_an_older_journal_beside_the_newer_file_is_refused(season_path, tmp_path, refused, tap_by_tap):
    """A copy of both in mid-practice, over which the file alone was copied at the end."""

    def write(season, numbers: range) -> None:
        if not tap_by_tap:
            season.log.add_many([], map(tally, numbers))
        for n in numbers if tap_by_tap else ():
            season.log.add(tally(n))

    with open_season(season_path) as season:
        write(season, range(10))
        early = left(season_path, tmp_path / "stick")
        write(season, range(10, 300))
        assert season.write_back()
        shutil.copy(season_path, early)
    with refused(f'"{early.name}-wal"'):
        open_season(early)
    beside(early).unlink()
    assert kept(early) == list(range(300))


ACTS = st.lists(st.sampled_from(["tap", "taps", "rest", "reopen"]), min_size=2, max_size=9)


@settings(max_examples=25, deadline=None)
@given(data=st.data(), acts=ACTS)
def test_a_file_and_a_journal_of_any_two_moments(make_season, data, acts):
    """Together they are refused, or hold all that was in either: never less."""
    path, count, alone, moments = make_season(), 0, 0, []
    season = open_season(path)
    for act in acts:
        if act == "reopen":
            season.close()
            season = open_season(path)
        elif act == "rest":
            assert season.write_back()
        else:
            for _ in range(1 if act == "tap" else 40):
                season.log.add(tally(count))
                count += 1
        alone = count if act in ("rest", "reopen") else alone
        journal = beside(path).read_bytes() if beside(path).exists() else b""
        moments.append((alone, count if journal else 0, path.read_bytes(), journal))
    season.close()
    first, second = (data.draw(st.sampled_from(range(len(moments)))) for _ in range(2))
    pair = path.with_name("pair.db")
    pair.write_bytes(moments[first][2])
    beside(pair).write_bytes(moments[second][3])
    try:
        found = kept(pair)
    except SeasonFileError:
        assert first != second
        assert pair.read_bytes() == moments[first][2]
        return
    assert found == list(range(max(moments[first][0], moments[second][1])))


def test_what_another_program_tallied_and_left_is_not_lost(season_path, tmp_path):
    """A journal without our mark is taken when every part fits and nothing is gone."""
    with open_season(season_path) as season:
        season.log.add_many([], map(tally, range(5)))
    with closing(sqlite3.connect(season_path, isolation_level=None)) as other:
        other.execute("INSERT INTO observer VALUES ('Wren')")
        died = left(season_path, tmp_path / "died")
    with open_season(died) as season:
        assert "Wren" in season.people.observers()
        assert season.log.count() == 5


@pytest.mark.parametrize(
    "deletes",
    [
        "DELETE FROM tally WHERE at > 1759600000002",
        "DELETE FROM withdrawal",
        "DELETE FROM rep",
        "DELETE FROM player WHERE id IN (SELECT player FROM tally)",
    ],
)
def test_a_journal_without_a_mark_that_takes_facts_away_is_refused(season_path, tmp_path, refused, deletes):
    """Another program deleted what only grows, or whom it names."""
    with open_season(season_path) as season:
        season.log.add_many([], map(tally, range(5)))
        season.log.withdraw(Withdrawal(tally(0).id))
    with closing(sqlite3.connect(season_path, isolation_level=None)) as other:
        other.execute(
            "INSERT INTO rep (id, practice, drill, step, at) SELECT zeroblob(16), key, 'breakout_attack',"
            " 'two_on_one', 1 FROM practice LIMIT 1"
        )
    with closing(sqlite3.connect(season_path, isolation_level=None)) as other:
        other.execute(deletes)
        died = left(season_path, tmp_path / "died")
    with refused(f'"{died.name}-wal"'):
        open_season(died)


@pytest.mark.parametrize("marked", [False, True])
def test_a_journal_with_a_trigger_in_it_is_refused_and_not_played(season_path, tmp_path, refused, marked):
    """Another program made one: the file is as it was, whatever that program left beside it."""
    with open_season(season_path) as season:
        if marked:
            season.log.add(tally(0))
        with closing(sqlite3.connect(season_path, isolation_level=None)) as other:
            other.execute("CREATE TRIGGER t BEFORE INSERT ON tally BEGIN SELECT raise(IGNORE); END")
            died = left(season_path, tmp_path / "died")
    before = everything(died)
    with refused(died.name):
        open_season(died)
    assert everything(died) == before


def test_a_file_of_a_newer_version_with_a_journal_is_called_that(season_path, tmp_path, refused):
    """And not damaged: it is this program that has to be brought up to date."""
    died = tapped(season_path, 0, 5, tmp_path / "died")
    journal = beside(died).rename(tmp_path / "journal")
    with closing(sqlite3.connect(died, isolation_level=None)) as newer:
        newer.execute("PRAGMA user_version = 99")
    journal.replace(beside(died))
    with refused("newer evaltrack", "update"):
        open_season(died)


def test_a_write_back_that_was_stopped_within_a_page_is_made_good_from_the_journal(season_path, tmp_path):
    """The file ends within a page, and the journal beside it has that page whole."""
    with open_season(season_path) as season:
        season.log.add_many([], map(tally, range(300)))
        died = left(season_path, tmp_path / "died")
    with died.open("ab") as file:
        file.write(bytes(100))
    assert kept(died) == list(range(300))


def test_a_rollback_journal_of_another_state_is_refused(season_path, tmp_path, refused):
    """It would write old pages over the new ones."""
    with closing(sqlite3.connect(shutil.copy(season_path, tmp_path / "old.db"), isolation_level=None)) as old:
        old.execute("PRAGMA journal_mode = DELETE")
        old.execute("PRAGMA cache_size = 1")
        old.execute("BEGIN")
        old.execute("UPDATE player SET name = name || '.'")
        old.execute("DELETE FROM slot")
        hot = (tmp_path / "old.db-journal").read_bytes()
    hot = hot if hot[:8] != bytes(8) else bytes.fromhex("d9d505f920a163d7") + hot[8:]
    beside(season_path, "-journal").write_bytes(hot)
    before = season_path.read_bytes()
    with refused(f'"{season_path.name}-journal"', "Keep both"):
        open_season(season_path)
    assert season_path.read_bytes() == before


def rollback_journal(path: Path, *pages: tuple[int, bytes]) -> bytes:
    """Return a journal with these pages as they were before; their checksums are wrong: none is played."""
    pages_of_file = path.stat().st_size // 4096
    head = bytes.fromhex("d9d505f920a163d7") + struct.pack(">5I", 1, 0, pages_of_file, 512, 4096)
    return head.ljust(512, b"\0") + b"".join(
        number.to_bytes(4, "big") + page + bytes(4) for number, page in pages
    )


@pytest.mark.parametrize(
    ("byte", "number", "own"),
    [(None, 1, True), (18, 1, True), (24, 1, True), (95, 1, True), (60, 1, False), (None, 2, False)],
)
def test_a_rollback_journal_of_the_change_to_a_log_is_the_files_own(season_path, refused, byte, number, own):
    """It has the first page only, and that differs from the file's in how the file is written, if at all."""
    page = bytearray(season_path.read_bytes()[:4096])
    if byte:
        page[byte] ^= 3
    hot = rollback_journal(season_path, (number, bytes(page)), (0, bytes(4096)))
    beside(season_path, "-journal").write_bytes(hot)
    if own:
        assert kept(season_path) == []
        return
    with refused(f'"{season_path.name}-journal"', "Keep both"):
        open_season(season_path)


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps an open file in its place")
def test_a_rollback_journal_beside_a_file_in_hand_costs_no_tally(season_path, refused):
    """A season file in hand keeps a log and plays no other journal; the next opening refuses it by name."""
    with open_season(season_path) as season:
        season.log.add(tally(0))
        page = season_path.read_bytes()[:4096]
        beside(season_path, "-journal").write_bytes(rollback_journal(season_path, (1, page)))
        os.utime(season_path)
        season.log.add(tally(1))
    other = bytearray(page)
    other[60] ^= 3
    beside(season_path, "-journal").write_bytes(rollback_journal(season_path, (1, bytes(other))))
    with refused(f'"{season_path.name}-journal"', "Keep both"):
        open_season(season_path)
    beside(season_path, "-journal").unlink()
    assert kept(season_path) == [0, 1]


@pytest.mark.parametrize("side", SIDES)
def test_what_is_no_file_beside_the_season_is_refused(season_path, refused, side):
    """A folder of the journal's name."""
    beside(season_path, side).mkdir()
    with refused(f"{season_path.name}{side}", "not an ordinary file"):
        open_season(season_path)


@pytest.mark.skipif(os.name == "nt", reason="links are for administrators there")
@pytest.mark.parametrize("side", SIDES)
def test_a_link_that_leads_nowhere_beside_the_season_is_refused(season_path, tmp_path, refused, side):
    """SQLite would make its journal where the link leads, and a copy of the folder would lack it."""
    beside(season_path, side).symlink_to(tmp_path / "gone" / "journal")
    with refused(f"{season_path.name}{side}", "not an ordinary file"):
        open_season(season_path)


def test_a_log_of_another_season_without_a_commit_is_no_hindrance(season_path, another_season_path, tmp_path):
    """A program that was stopped before its first commit has left nothing that would be played."""
    with open_season(season_path) as season:
        season.log.add_many([], map(tally, range(300)))
        died = left(season_path, tmp_path / "died")
    other = Path(shutil.copy(another_season_path, tmp_path / "other.db"))
    beside(other).write_bytes(beside(died).read_bytes()[: -24 - 4096])  # the last frame makes the commit
    assert kept(other) == []


def test_a_log_that_is_seen_while_it_is_written_is_looked_at_again(season_path, tmp_path, monkeypatch):
    """What cannot be told at the first look may be in order a moment later: nobody is refused for it."""
    died = tapped(season_path, 0, 5, tmp_path / "died")
    whole, looks = died.read_bytes(), []
    died.write_bytes(whole[:4096])  # SQLite is writing the pages back

    def written_meanwhile(_):
        looks.append(1)
        died.write_bytes(whole)

    monkeypatch.setattr(journals, "sleep", written_meanwhile)
    assert kept(died) == list(range(5))
    assert looks == [1]


@pytest.mark.parametrize("content", [b"", b"x", bytes(32), bytes(5000), b"\x37\x7f\x06\x82" + bytes(5000)])
def test_what_sqlite_would_not_play_is_no_hindrance(season_path, content):
    """Nothing, zeros or the beginning of a log beside the file: there is nothing in it to be played."""
    beside(season_path).write_bytes(content)
    assert kept(season_path) == []


@pytest.mark.parametrize("in_hand", [True, False], ids=["we write back", "they write back"])
def test_other_processes_open_the_file_while_it_is_tallied_into(season_path, in_hand):
    """Readers come and go while taps and write-backs go on, of whoever has the claim: nobody is refused."""
    reader = (
        "import sys\nfrom evaltrack.store.opening import open_season\n"
        "for _ in range(20):\n with open_season(sys.argv[1]) as season: season.log.count()\n"
    )
    claim = SeasonClaim()
    assert not in_hand or claim.take(season_path)
    with open_season(season_path) as season:
        other = subprocess.Popen([sys.executable, "-c", reader, season_path], stderr=subprocess.PIPE)
        n = 0
        while other.poll() is None:
            season.log.add(tally(n))
            n += 1
            if in_hand and n % 25 == 0:
                season.write_back()
        assert other.stderr.read() == b""
    other.stderr.close()
    assert other.returncode == 0
    claim.leave()
    assert kept(season_path) == list(range(n))
    assert os.listdir(season_path.parent) == [season_path.name]


def test_a_file_that_others_write_back_stays_ours_at_every_page(season_path, tmp_path):
    """Seen half-written by another program's second write-back it is not strange; an older copy of it is."""
    with open_season(season_path) as season, open_season(season_path) as other:
        season.log.add(tally(0))
        assert other.write_back()
        first = season_path.read_bytes()
        season.log.add(tally(1))
        other._connection.mark_wal(again=True)  # as a write-back begins
        half = bytearray(first)
        half[:4096] = whole(left(season_path, tmp_path / "stopped"))[:4096]
        overwrite(season_path, half)
        season.log.add(tally(2))
        assert other.write_back()
        season.log.add(tally(3))
        second = season_path.read_bytes()
        overwrite(season_path, first)
        with pytest.raises(NotSavedError, match="written over"):
            season.log.add(tally(4))
        overwrite(season_path, second)
    assert kept(season_path) == list(range(4))


def whole(path: Path) -> bytes:
    """Return a season file with what its journal holds written back into it."""
    kept(path)
    return path.read_bytes()


def overwrite(path: Path, content: bytes) -> None:
    """Write over a season file that is open here. Another process does, or our locks on it would be gone."""
    program = "import sys; open(sys.argv[1], 'r+b').write(sys.stdin.buffer.read())"
    subprocess.run([sys.executable, "-c", program, path], input=bytes(content), check=True)


@pytest.mark.parametrize("taps", [20, 150])
def test_a_file_that_was_being_written_back_is_whole_with_its_journal(season_path, tmp_path, taps):
    """Stopped after any page of a write-back: the first pages new, the others old, the file too short."""
    with open_season(season_path) as season:
        season.log.add_many([], map(tally, range(5)))
        season.write_back()
        old = season_path.read_bytes()
        for n in range(5, 5 + taps):
            season.log.add(tally(n))
        season.write_back()  # the journal keeps its room, and what is in it, until the next tally
        new, journal = season_path.read_bytes(), beside(season_path).read_bytes()
    changed = [at for at in range(0, len(new), 4096) if new[at : at + 4096] != old[at : at + 4096]]
    for count in range(len(changed) + 1):
        torn = bytearray(old)
        for at in changed[:count]:
            torn[at : at + 4096] = new[at : at + 4096]
        stopped = tmp_path / f"{count}.db"
        stopped.write_bytes(torn)
        beside(stopped).write_bytes(journal)
        assert kept(stopped) == list(range(5 + taps)), count
