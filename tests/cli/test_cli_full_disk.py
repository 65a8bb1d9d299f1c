"""What each command that writes a file says when the disk is full: of the user's file, and that it is full.

Cases: files and folders at a place of somebody's choice, a season file that takes nothing more, the folder in
which the app keeps its backups. Nothing is left behind, no draft and no empty folder.
"""

import os
import shutil
from pathlib import Path

import pytest

DAY = "2025-10-04"


@pytest.fixture
def full_disk(small_disk):
    """Return a folder on a disk of its own without a free page, where this process may mount one."""
    fill(small_disk)
    return small_disk


def fill(place: Path) -> None:
    """Write a film that takes all the room there is."""
    with (place / "film").open("wb", buffering=0) as film:
        try:
            while film.write(bytes(4096)):
                pass
        except OSError:
            pass


def outputs(season: Path, disk: Path) -> dict[Path, tuple]:
    """Return commands that write, by what they would make on the disk."""
    return {
        disk / "new.db": ("new", disk / "new.db", "--team", "A", "--age-class", "12U", "--roster", "ROSTER"),
        disk / "demo" / "kettle-bay-lanterns-12u.db": ("demo", disk / "demo"),
        disk / "roster.csv": ("roster", season, "--out", disk / "roster.csv"),
        disk / "mine" / "skills.toml": ("catalogue", season, "--out", disk / "mine"),
        disk / "form.csv": ("sheet", season, "--date", DAY, "--out", disk / "form.csv"),
        disk / "notes" / "note-": ("notes", season, "--form", "html", "--out", disk / "notes"),
        disk / "given": ("export", season, "--out", disk / "given"),
        disk / "child": ("export", season, "--player", "7", "--out", disk / "child"),
        disk / "a.pack": ("pack", season, "--out", disk / "a.pack"),
        disk / "loan.db": ("lend", season, "--out", disk / "loan.db"),
        disk / "b.db": ("backup", season, disk / "b.db"),
        disk / "back.db": ("restore", season, disk / "back.db"),
        disk / "saved.db": ("restore", "--salvage", season, disk / "saved.db"),
        disk / "next.db": ("next-season", season, disk / "next.db"),
        disk / "ask.txt": ("close-season", season, "--out", disk / "ask.txt"),
    }


def test_a_file_of_somebodys_choice_is_named_and_nothing_is_left(command, season, full_disk):
    """One sentence at the end, whoever writes: the system, or SQLite."""
    roster = season.parent / "roster.csv"
    for target, words in outputs(season, full_disk).items():
        made = command(*(roster if word == "ROSTER" else word for word in words))
        last = made.stderr.strip().split("\n")[-1]
        assert made.exit_code == 1, words
        assert f'"{target}' in last, words
        assert "the disk is full" in last, words
        assert [path.name for path in full_disk.iterdir()] == ["film"], words


def test_a_season_that_takes_nothing_more_is_named(command, season, full_disk):
    """A command that only reads it goes on; one that writes it says which file took nothing."""
    (full_disk / "film").unlink()
    path = Path(shutil.copy(season, full_disk / "pond.db"))
    fill(full_disk)
    os.truncate(full_disk / "film", (full_disk / "film").stat().st_size - 40_960)  # for SQLite's index
    plenty = season.parent / "more.csv"
    lines = [f"{DAY},breakout_attack,two_on_one,outlet_pass,7,done,Ines,18:{n:02},99" for n in range(60)]
    plenty.write_text("date,drill,step,skill,player,outcome,observer,time,times\n" + "\n".join(lines))
    loaded = command("load", path, plenty)
    assert (loaded.exit_code, loaded.stdout) == (1, "")
    assert loaded.stderr == f"{path}: not saved: the disk is full; make room on it\n"
    erased = command("erase", path, "--player", "7", "--yes")
    assert f'"{path}": the disk is full' in erased.stderr


def test_a_season_behind_a_full_disk_is_not_called_damaged(command, season, full_disk):
    """Nothing is told of what would be gone, as if nobody could read it."""
    backup = Path(shutil.copy(season, season.parent / "back.db"))
    (full_disk / "film").unlink()
    path = Path(shutil.copy(season, full_disk / "pond.db"))
    fill(full_disk)
    told = command("restore", backup, path, "--yes")
    assert (told.exit_code, told.stderr.count("\n")) == (1, 1)
    assert "the disk is full" in told.stderr


def test_the_folder_of_the_apps_own_backups_is_named(command, season, full_disk, monkeypatch):
    """A join is not begun without its backup; an erasure that is done is told, and that no copy was kept."""
    backup, given = season.parent / "back.db", season.parent / "all.pack"
    assert command("pack", season, "--out", given).exit_code == 0
    shutil.copy(season, backup)
    monkeypatch.setenv("EVALTRACK_HOME", str(full_disk / "home"))
    (full_disk / "film").unlink()
    (full_disk / "home" / "backups").mkdir(parents=True)
    fill(full_disk)
    for words in (("join", season, given), ("restore", backup, season, "--yes")):
        told = command(*words)
        assert told.exit_code == 1
        assert str(full_disk / "home" / "backups") in told.stderr
        assert "the disk is full" in told.stderr
    erased = command("erase", season, "--player", "7", "--yes")
    assert erased.exit_code == 0, erased.stderr
    assert "No backup of the season as it is now could be kept" in erased.stdout
