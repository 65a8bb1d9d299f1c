"""A file of ours is readable by its owner only from its first byte, and is there whole or not at all."""

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from evaltrack.private_file import write_private

posix = pytest.mark.skipif(os.name == "nt", reason="Windows has no mode bits; a home folder is private there")


def mode(path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


def names(folder) -> list[str]:
    return sorted(entry.name for entry in folder.iterdir())


@posix
@pytest.mark.parametrize("umask", [0o000, 0o022, 0o077])
def test_only_the_owner_may_read_it_whatever_the_umask(tmp_path, umask):
    before = os.umask(umask)
    try:
        write_private(tmp_path / "notes.txt", b"Zoe Lukasik")
    finally:
        os.umask(before)
    assert mode(tmp_path / "notes.txt") == 0o600
    assert names(tmp_path) == ["notes.txt"]


@posix
def test_a_file_that_was_open_to_all_is_the_owners_afterwards(tmp_path):
    target = tmp_path / "notes.txt"
    target.write_bytes(b"old")
    target.chmod(0o666)
    write_private(target, b"new")
    assert (target.read_bytes(), mode(target)) == (b"new", 0o600)


@posix
def test_the_draft_is_never_open_to_others(tmp_path, monkeypatch):
    """At the moment of the rename the draft already has the owner's mode: it is not given afterwards."""
    seen, replace = [], Path.replace

    def look(draft, target):
        seen.append(mode(draft))
        return replace(draft, target)

    monkeypatch.setattr(Path, "replace", look)
    monkeypatch.setattr(os, "chmod", lambda *_, **__: pytest.fail("the mode was changed afterwards"))
    write_private(tmp_path / "notes.txt", b"x")
    assert seen == [0o600]


@pytest.mark.parametrize("name", ["note.pdf.new", "note.new", ".note.pdf.new"])
def test_a_folder_or_file_with_a_name_like_a_draft_is_left_alone(tmp_path, name):
    (tmp_path / name).mkdir()
    write_private(tmp_path / "note.pdf", b"page")
    assert names(tmp_path) == sorted(["note.pdf", name])


def test_a_folder_in_its_place_is_refused_and_no_draft_stays(tmp_path):
    (tmp_path / "note.pdf").mkdir()
    with pytest.raises(OSError, match=r"\w"):
        write_private(tmp_path / "note.pdf", b"page")
    assert names(tmp_path) == ["note.pdf"]
    assert names(tmp_path / "note.pdf") == []


@pytest.mark.parametrize("name", ["a\0b.csv", "\ud800.csv", "x" * 256])
def test_what_cannot_be_a_name_is_an_oserror_and_no_draft_stays(tmp_path, name):
    with pytest.raises(OSError, match=r"\w"):
        write_private(tmp_path / name, b"page")
    assert names(tmp_path) == []


@posix
def test_a_name_as_long_as_the_file_system_takes_is_written(tmp_path):
    write_private(tmp_path / ("b" * 255), b"page")
    assert names(tmp_path) == ["b" * 255]


def test_a_folder_that_is_not_there_is_an_oserror(tmp_path):
    with pytest.raises(FileNotFoundError):
        write_private(tmp_path / "nowhere" / "note.pdf", b"page")
    with pytest.raises(OSError, match="cannot be the name"):
        write_private(tmp_path / "no\0where" / "note.pdf", b"page")


CUT_SHORT = """
import resource, signal, sys
from pathlib import Path
from evaltrack.private_file import write_private
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
try:
    write_private(Path(sys.argv[1]), b"x" * 5000)
except OSError as error:
    print("refused", error.strerror)
"""


@posix
def test_a_write_that_fails_half_way_leaves_the_old_file_and_no_draft(tmp_path):
    """A disk that takes only the first bytes, here by a limit of the process, changes nothing."""
    target = tmp_path / "notes.txt"
    target.write_bytes(b"old")
    done = subprocess.run([sys.executable, "-c", CUT_SHORT, target], capture_output=True, text=True)
    assert done.stdout.startswith("refused"), done.stderr
    assert (names(tmp_path), target.read_bytes()) == (["notes.txt"], b"old")


@posix
def test_it_is_on_disk_before_it_takes_its_place(tmp_path, monkeypatch):
    order, fsync, replace = [], os.fsync, Path.replace
    monkeypatch.setattr(os, "fsync", lambda fd: (order.append("disk"), fsync(fd))[1])
    monkeypatch.setattr(Path, "replace", lambda a, b: (order.append("place"), replace(a, b))[1])
    write_private(tmp_path / "x", b"x")
    assert order == ["disk", "place"]
