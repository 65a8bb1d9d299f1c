"""Backups of an open season: whole, for the owner alone, in turn, and remembered."""

import os
import shutil
import sqlite3
import stat
from contextlib import closing
from pathlib import Path

import pytest
from lanterns_season import tally

from evaltrack.device.backup_places import Why, backups_folder, backups_of, copies_elsewhere
from evaltrack.device.handover.parts import Parts, parts_of
from evaltrack.device.sealing import opened
from evaltrack.store.backups import keeping
from evaltrack.store.backups.keeping import keep_backup, keep_backup_if_due, write_backup
from evaltrack.store.erasing.copies_kept import forget_copies
from evaltrack.store.opening import open_season

WORDS = "kettle lantern slush"


def count_in(copy: Path) -> int:
    with open_season(copy) as season:
        assert season.checks.findings() == []
        return season.log.count()


def test_a_backup_is_whole_while_the_season_is_written_to(season, contents):
    """What waits in the journal is in it; the season goes on, and its own journal does not fit the backup."""
    season.log.add_many([], [tally(n) for n in range(5)])
    kept = keep_backup(season, Why.JOIN)
    season.log.add(tally(5))
    assert season.log.count() == 6
    before = contents(kept)
    shutil.copy(f"{season.path}-wal", f"{kept}-wal")  # as somebody might, who copies by hand
    with pytest.raises(Exception, match="another state"):
        open_season(kept)
    os.remove(f"{kept}-wal")
    assert contents(kept) == before
    assert count_in(kept) == 5


def test_a_backup_is_for_its_owner_alone(season):
    """Neither the backup nor its folder may be read by others, from the first byte on."""
    kept = keep_backup(season, Why.ASKED)
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert stat.S_IMODE(kept.parent.stat().st_mode) == 0o700
    assert [path.name for path in kept.parent.iterdir() if path.name.endswith(".new")] == []


def test_what_was_deleted_is_in_no_backup(season_path):
    """A name that was changed, and is still in a free page of the file, is not copied."""
    with closing(sqlite3.connect(season_path)) as file:
        file.execute("PRAGMA secure_delete = OFF")
        file.execute("CREATE TABLE other (name TEXT)")
        file.executemany("INSERT INTO other VALUES (?)", [("Quillon Marchbanks",)] * 500)
        file.execute("DROP TABLE other")
        file.commit()
    assert b"Quillon Marchbanks" in season_path.read_bytes()
    with open_season(season_path) as season:
        kept = keep_backup(season, Why.ASKED)
    assert b"Quillon" not in kept.read_bytes()


def test_one_is_due_only_for_something_new(season_path):
    """A tally, an undo, a practice that has ended: each makes one due, and nothing new makes none."""
    assert keep_backup_if_due(season_path)
    assert keep_backup_if_due(season_path) is None
    with open_season(season_path) as season:
        season.log.add(tally(1))
    assert keep_backup_if_due(season_path)
    with open_season(season_path) as season:
        season.practices.end(tally(1).practice, 1_760_000_000_000)
    assert keep_backup_if_due(season_path)
    assert keep_backup_if_due(season_path) is None
    with open_season(season_path) as season:
        assert [one.why for one in backups_of(season.ident)] == [Why.PRACTICE] * 3


def test_older_ones_go(season):
    """Twelve of one day leave the last five."""
    kept = [keep_backup(season, Why.ASKED) for _ in range(12)]
    assert [one.path for one in backups_of(season.ident)] == kept[:-6:-1]


def test_a_copy_goes_where_it_is_asked_for(season, tmp_path):
    """Plain or sealed it holds every tally, is remembered, and replaces nothing."""
    season.log.add(tally(1))
    plain, hidden = tmp_path / "plain.db", tmp_path / "hidden.age"
    write_backup(season, plain)
    write_backup(season, hidden, WORDS)
    assert count_in(plain) == 1
    assert b"SQLite" not in hidden.read_bytes()
    assert b"Oda Marsh" not in hidden.read_bytes()
    copy = tmp_path / "copy.db"
    copy.write_bytes(opened(hidden.read_bytes(), WORDS))
    assert count_in(copy) == 1
    assert [(one.path, one.sealed) for one in copies_elsewhere(season.ident)] == [
        (plain, False),
        (hidden, True),
    ]
    left = {path.name for path in backups_folder(season.ident).iterdir()}
    assert left == {"elsewhere.json", "tablet.lock"}


def test_nothing_is_replaced(season, tmp_path, refused):
    there = tmp_path / "there.db"
    there.write_text("mine")
    with refused("is there already"):
        write_backup(season, there)
    with refused("no folder"):
        write_backup(season, tmp_path / "none" / "b.db")
    with refused("at least 8", kind=Exception):
        write_backup(season, tmp_path / "b.age", "short")
    assert there.read_text() == "mine"
    assert not (tmp_path / "b.age").exists()


def test_a_season_too_large_for_a_seal_is_told_and_leaves_nothing_plain(
    season, tmp_path, refused, monkeypatch
):
    """What was made to be sealed has names in it."""
    monkeypatch.setattr(keeping, "MOST_BYTES", 1)
    with refused("too large to be sealed"):
        write_backup(season, tmp_path / "b.age", WORDS)
    assert not (tmp_path / "b.age").exists()
    assert {path.name for path in backups_folder(season.ident).iterdir()} <= {"elsewhere.json", "tablet.lock"}
    assert copies_elsewhere(season.ident) == []


def test_a_full_or_closed_folder_is_told(season, read_only_folder, refused):
    with read_only_folder() as folder, refused("cannot be made"):
        write_backup(season, folder / "b.db")


def test_all_that_is_known_can_be_forgotten(season_path):
    """After an erasure no backup in the app's folder, and nothing beside the file, has a name in it."""
    with open_season(season_path) as season:
        keep_backup(season, Why.PRACTICE)
        beside = season_path.with_name(f"{season_path.name}.before-version-5")
        beside.write_bytes(b"Oda Marsh")
        backup = backups_of(season.ident)[0].path
        parts = Parts(season.ident.hex)
        parts.ready()
        parts.keep(b"Oda Marsh")
        parts.add("0" * 64, b"Oda M")
        on_their_way = parts_of(season.ident.hex)
        assert len(on_their_way) == 2
        assert forget_copies(season_path, season.ident) == ([beside, backup, *on_their_way], [])
        assert parts_of(season.ident.hex) == []
        assert backups_of(season.ident) == []
    assert [path.exists() for path in (beside, backup)] == [False, False]
