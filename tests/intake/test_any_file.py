"""What is no text file at all is refused alike by every reader."""

import os
from datetime import date

import pytest
from lanterns_files import DRILLS, PLAYERS, SKILLS

from evaltrack.errors import IntakeError
from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.intake.icalendar_file import read_icalendar
from evaltrack.intake.roster import read_roster
from evaltrack.intake.tallies import read_tallies

READERS = {
    "roster.csv": (read_roster, ()),
    "tallies.csv": (read_tallies, (PLAYERS, SKILLS, DRILLS)),
    "skills.toml": (read_skills, ()),
    "drills.toml": (read_drills, (SKILLS,)),
}
ALL = READERS | {"team.ics": (read_icalendar, (date(2026, 1, 20),))}
NO_TEXT = {
    "empty": (b"", None, "empty"),
    "only a byte-order mark": (b"\xef\xbb\xbf", None, "empty"),
    "only empty lines": (b"\r\n\r\n \n", None, "empty"),
    "a picture": (b"\x89PNG\r\n\x1a\n\x00\x00", 3, "not a text file"),
    "a workbook": (b"PK\x03\x04\x14\x00\x06\x00", None, "workbook"),
    "UTF-16": ("number,name\n".encode("utf-16"), 1, "UTF-16"),
    "Latin-1": ("a\r\nb\r\nZoë\r\n".encode("latin-1"), 3, "byte 0xEB); open it"),
    "Latin-1 after a byte-order mark": (b"\xef\xbb\xbfa\nb\n\n\xe9", 4, "CSV UTF-8"),
    "old line ends": (b"a\rb\r\xe9", 3, "0xE9"),
}


@pytest.fixture(params=READERS)
def reader(request):
    """Return each reader in turn, with a file name that suits it and what else it wants."""
    return request.param, *READERS[request.param]


@pytest.fixture(params=ALL)
def any_reader(request):
    """Return each reader in turn, the calendar's too."""
    return request.param, *ALL[request.param]


@pytest.mark.parametrize("kind", NO_TEXT)
def test_no_text_is_refused(kind, reader, brought, complaints):
    """A file that is not UTF-8 text is refused in one sentence, at the first bad line."""
    name, read, more = reader
    content, line, words = NO_TEXT[kind]
    (found,) = complaints(read, brought(content, name), *more)
    assert words in found
    assert found.startswith(f"{name}, line {line}: " if line else f"{name}: ")


def test_missing_file(any_reader, tmp_path, complaints):
    """A wrong name is told apart from a wrong file."""
    name, read, more = any_reader
    assert "no such file" in complaints(read, tmp_path / name, *more)[0]
    assert "no such file" in complaints(read, tmp_path / "nowhere" / name, *more)[0]


def test_a_name_that_can_be_none(any_reader, tmp_path):
    """A name with a NUL in it is told as such."""
    _, read, more = any_reader
    with pytest.raises(IntakeError, match="cannot be the name of a file"):
        read(tmp_path / "a\0b", *more)


def test_folder(any_reader, tmp_path, complaints):
    """A folder is refused as a folder."""
    name, read, more = any_reader
    (tmp_path / name).mkdir()
    assert "folder" in complaints(read, tmp_path / name, *more)[0]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no named pipes here")
def test_pipe_does_not_hang(any_reader, tmp_path, complaints):
    """A named pipe is refused and not waited for."""
    name, read, more = any_reader
    os.mkfifo(tmp_path / name)
    assert "not an ordinary file" in complaints(read, tmp_path / name, *more)[0]


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="permission bits do not bind here")
def test_unreadable(any_reader, tmp_path, complaints, brought):
    """A file that may not be read says so, with the system's own reason."""
    name, read, more = any_reader
    path = brought("number,name,position\n1,A,D\n", name)
    path.chmod(0)
    root = os.geteuid() == 0
    if root:
        for folder in (tmp_path, *list(tmp_path.parents)[:2]):
            folder.chmod(0o755)
        os.seteuid(65534)
    try:
        found = complaints(read, path, *more)
    finally:
        if root:
            os.seteuid(0)
    assert "cannot be read (Permission denied)" in found[0]
