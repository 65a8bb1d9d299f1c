"""Backups on the command line: written, listed, brought back, checked, salvaged."""

import os
import select
import shutil
import sys
from pathlib import Path

import pyrage
import pytest

from evaltrack.device import sealing
from evaltrack.device.sealing import is_sealed
from evaltrack.device.tablet import load_tablet
from evaltrack.store.opening import open_season

WORDS = "kettle lantern slush"


@pytest.fixture(autouse=True)
def little_work(monkeypatch):
    """Stretch a passphrase less than for real: how much is another test's."""
    monkeypatch.setattr(sealing, "_WORK", 4)


@pytest.fixture
def stick(tmp_path) -> Path:
    folder = tmp_path / "stick"
    folder.mkdir()
    return folder


def count_in(path: Path) -> int:
    with open_season(path) as season:
        return season.log.count()


def test_a_backup_is_written_listed_and_brought_back(command, season, stick):
    """It says what would be gone, changes nothing without --yes, and keeps what was there."""
    copy, before = stick / "pond.db", count_in(season)
    done = command("backup", season, copy)
    assert (done.exit_code, "not sealed" in done.stdout) == (0, True)
    assert str(copy) in command("backup", season, "--list").stdout
    with open_season(season) as file:
        file.comments.write(file.practices.all()[0].key, "Soft ice.")
    asked = command("restore", copy, season)
    assert asked.exit_code == 1
    assert asked.stdout == "1 comment is newer and would be gone.\n"
    assert asked.stderr == (
        "Nothing was changed. Say --yes to bring the backup back; the file there now is kept.\n"
    )
    tablet = load_tablet().id
    done = command("restore", copy, season, "--yes")
    assert done.exit_code == 0, done.stderr
    assert f"{before:,} tallies" in done.stdout
    kept = Path(done.stdout.split("kept: ")[1].strip())
    assert kept.exists()
    assert load_tablet().id != tablet
    with open_season(season) as file:
        assert file.comments.all() == {}
    assert command("restore", kept, stick / "again.db").exit_code == 0
    with open_season(stick / "again.db") as file:
        assert file.comments.all()


def test_a_passphrase_comes_from_a_variable_or_a_file(command, season, stick, monkeypatch):
    """And from nowhere else: as a word of the command it would stand in the shell's history."""
    hidden, key = stick / "pond.age", stick / "key.txt"
    key.write_bytes(f"{WORDS}\r\nand more\n".encode())
    monkeypatch.setenv("EVALTRACK_PASSPHRASE", WORDS)
    done = command("backup", season, hidden, "--passphrase")
    assert (done.exit_code, "sealed under the passphrase" in done.stdout) == (0, True)
    assert is_sealed(hidden.read_bytes())
    monkeypatch.delenv("EVALTRACK_PASSPHRASE")
    assert command("restore", hidden, stick / "a.db", "--passphrase-file", key).exit_code == 0
    assert count_in(stick / "a.db") == count_in(season)
    told = command("restore", hidden, stick / "b.db")
    assert (told.exit_code, "say --passphrase" in told.stderr) == (1, True)
    asked = command("restore", hidden, stick / "b.db", "--passphrase")
    assert (asked.exit_code, "nobody can be asked" in asked.stderr) == (1, True)
    monkeypatch.setenv("EVALTRACK_PASSPHRASE", WORDS + "y")
    wrong = command("restore", hidden, stick / "b.db", "--passphrase")
    assert (wrong.exit_code, "not the right one" in wrong.stderr) == (1, True)
    assert not (stick / "b.db").exists()
    assert command("backup", season, "--passphrase", WORDS, stick / "c.age").exit_code == 2


@pytest.mark.skipif(os.name == "nt", reason="there are no such terminals")
def test_a_passphrase_is_typed_unseen_and_twice(season, stick):
    """At a terminal nothing of it is shown; two that differ are asked for again."""
    import pty

    hidden = stick / "pond.age"
    words = ["-m", "evaltrack", "backup", str(season), str(hidden), "--passphrase"]
    process, terminal = pty.fork()
    if process == 0:
        os.execv(sys.executable, [sys.executable, *words])
    shown = b""
    for typed in ((WORDS, WORDS + "x"), (WORDS, WORDS)):
        for line, prompt in zip(typed, (b"Passphrase: ", b"confirmation: "), strict=True):
            shown += _until(terminal, prompt)
            os.write(terminal, f"{line}\n".encode())
    shown += _until(terminal, b"sealed under")
    os.waitpid(process, 0)
    os.close(terminal)
    assert WORDS.encode() not in shown
    assert pyrage.passphrase.decrypt(hidden.read_bytes(), WORDS).startswith(b"SQLite")


def _until(terminal: int, words: bytes) -> bytes:
    shown = b""
    while words not in shown:
        assert select.select([terminal], [], [], 30)[0], shown
        shown += os.read(terminal, 1024)
    return shown


def test_a_check_ends_with_0_only_for_a_whole_file(command, season, tmp_path):
    done = command("check", season)
    assert (done.exit_code, "is whole" in done.stdout) == (0, True)
    content = bytearray(season.read_bytes())
    content[-2048:] = os.urandom(2048)
    damaged = tmp_path / "damaged.db"
    damaged.write_bytes(content)
    done = command("check", damaged)
    assert done.exit_code == 1
    assert str(damaged) in done.stderr
    assert command("check", tmp_path / "none.db").exit_code == 1


def test_a_damaged_file_is_salvaged_into_a_new_one(command, season, tmp_path):
    """What is lost is listed, also what nobody can see; the damaged file stays; nothing is replaced."""
    damaged, saved = tmp_path / "damaged.db", tmp_path / "saved.db"
    content = season.read_bytes()
    damaged.write_bytes(content[: len(content) // 4096 * 4096 - 4096])
    told = command("restore", damaged, season, "--yes")
    assert told.exit_code == 1
    done = command("restore", damaged, saved, "--salvage")
    assert done.exit_code == 0, done.stderr
    assert "saved" in done.stdout
    assert "nobody can see that" in done.stderr
    assert command("check", saved).exit_code == 0
    assert command("restore", damaged, saved, "--salvage").exit_code == 1


def test_what_is_no_backup_is_told(command, season, stick):
    letter = stick / "letter.db"
    letter.write_text("Dear families")
    for words in (
        ("restore", letter, season),
        ("restore", stick, season),
        ("restore", stick / "no.db", season),
    ):
        told = command(*words)
        assert told.exit_code == 1
        assert len(told.stderr.splitlines()) == 1
    assert command("backup", season).exit_code == 2
    there = Path(shutil.copy(season, stick / "there.db"))
    assert command("backup", season, there).exit_code == 1
    assert command("backup", season, "--list").exit_code == 1


@pytest.mark.parametrize(
    "words",
    [
        ("backup", "{season}", "copy.db", "--list"),
        ("backup", "{season}", "--list", "--passphrase"),
        ("restore", "{season}", "saved.db", "--salvage", "--yes"),
        ("join", "{season}", "--lost", "--passphrase"),
    ],
    ids=" ".join,
)
def test_words_that_would_do_nothing_are_not_passed_over(command, season, tmp_path, monkeypatch, words):
    """Whoever writes them expects something of them."""
    monkeypatch.chdir(tmp_path)
    told = command(*(word.format(season=season) for word in words))
    assert (told.exit_code, told.stdout) == (2, "")
    assert not (tmp_path / "copy.db").exists()


def test_a_season_is_not_its_own_backup(command, season):
    """Names in the wrong order are told, and the tablet keeps its id."""
    before = load_tablet().id
    told = command("restore", season, season, "--yes")
    assert (told.exit_code, told.stdout) == (1, "")
    assert told.stderr == f'"{season}" is both the backup and the season; name the backup first\n'
    assert load_tablet().id == before
