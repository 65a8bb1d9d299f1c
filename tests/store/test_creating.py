"""A new season file appears whole or not at all.

Cases: a name that is taken by anything; a missing folder; a read-only folder; a roster with a fault; a
race; journals left by another file.
"""

import os
from pathlib import Path

import pytest
from lanterns_season import DRILLS, PLAYERS, SKILLS, TEAM

from evaltrack.rink.player import Player, Position
from evaltrack.store import creating
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season

SEASON = {**TEAM, "players": PLAYERS, "skills": SKILLS, "drills": DRILLS}


def test_a_new_file_stands_alone(tmp_path):
    """Creating leaves the file and nothing else once it is closed."""
    create_season(tmp_path / "new.db", **SEASON).close()
    assert [path.name for path in tmp_path.iterdir()] == ["new.db"]


def test_an_existing_file_is_not_touched(tallied_path, refused):
    """A season is never made over another one: its bytes stay."""
    before = tallied_path.read_bytes()
    with refused("is there already"):
        create_season(tallied_path, **SEASON)
    assert tallied_path.read_bytes() == before
    assert list(tallied_path.parent.iterdir()) == [tallied_path]


@pytest.mark.skipif(os.name == "nt", reason="Windows lets only administrators make links")
def test_a_folder_or_a_dangling_link_is_not_replaced(tmp_path, refused):
    """Whatever has the name keeps it."""
    (tmp_path / "folder").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "nowhere")
    for name in ("folder", "link"):
        with refused("is there already"):
            create_season(tmp_path / name, **SEASON)
    assert (tmp_path / "link").is_symlink()


def test_a_file_that_comes_meanwhile_is_not_replaced(tmp_path, refused, monkeypatch):
    """Two programs make the same season at once: one wins, and the other says so."""
    path = tmp_path / "new.db"
    fill = creating._fill

    def slow_fill(*args):
        path.write_text("somebody else's")
        fill(*args)

    monkeypatch.setattr(creating, "_fill", slow_fill)
    with refused("new.db"):
        create_season(path, **SEASON)
    assert path.read_text() == "somebody else's"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("left", ["-wal", "-journal"])
def test_journals_of_a_removed_file_are_in_the_way(tmp_path, refused, left):
    """A journal that a removed season left would be played into the new one: it must go first."""
    journal = tmp_path / f"new.db{left}"
    journal.write_bytes(b"tallies of last year")
    with refused("is there already", journal.name):
        create_season(tmp_path / "new.db", **SEASON)
    assert list(tmp_path.iterdir()) == [journal]


def test_a_draft_of_that_name_is_somebody_elses(tmp_path):
    """A file that happens to be called like the new one with .new stays."""
    other = tmp_path / "new.db.new"
    other.write_text("mine")
    create_season(tmp_path / "new.db", **SEASON).close()
    assert other.read_text() == "mine"


def test_a_missing_folder(tmp_path, refused):
    """A folder that is not there is named, and not made."""
    with refused("there is no folder", "attic"):
        create_season(tmp_path / "attic" / "new.db", **SEASON)
    assert list(tmp_path.iterdir()) == []


def test_a_read_only_folder(read_only_folder, refused):
    """A folder that may not be written to is a sentence."""
    with read_only_folder() as folder:
        with refused("cannot be made", "ermission"):
            create_season(folder / "new.db", **SEASON)
        assert list(folder.iterdir()) == []


@pytest.mark.parametrize("players", [[*PLAYERS, Player("7", "Sol Ash", Position.DEFENCE)], [PLAYERS[0]] * 2])
def test_a_roster_with_a_fault_leaves_nothing_behind(tmp_path, refused, players):
    """A number given twice refuses the season, and neither it nor a draft is there."""
    with refused("not saved"):
        create_season(tmp_path / "new.db", **{**SEASON, "players": players})
    assert list(tmp_path.iterdir()) == []


def test_a_fault_of_the_program_leaves_nothing_behind(tmp_path):
    """Even an error nobody thought of leaves no half-made season."""

    def players():
        yield PLAYERS[0]
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        create_season(tmp_path / "new.db", **{**SEASON, "players": players()})
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="a folder cannot be opened there")
def test_the_name_of_a_new_file_is_on_disk_when_it_is_made(tmp_path, monkeypatch):
    """After a power cut the folder has it: the folder itself is written to disk, not only the file."""
    written, fsync = [], os.fsync

    def noted(descriptor: int) -> None:
        written.append(os.fstat(descriptor).st_ino)
        fsync(descriptor)

    monkeypatch.setattr(os, "fsync", noted)
    create_season(tmp_path / "lanterns.db", **TEAM, players=PLAYERS, skills=SKILLS, drills=DRILLS).close()
    assert tmp_path.stat().st_ino in written


def test_a_file_system_without_hard_links(tmp_path, monkeypatch):
    """Where files cannot be linked, the season is made all the same."""

    def no_links(*_):
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    create_season(tmp_path / "new.db", **SEASON).close()
    with open_season(tmp_path / "new.db") as season:
        assert season.people.players()
    assert list(Path(tmp_path).iterdir()) == [tmp_path / "new.db"]
