"""Erasing from the command line: what would go, what went, and which files still have the name.

Cases: the rehearsal; the receipt; the app's own pages and settings; other people's files, with dates; a
window that is open; two players of one number; the name in no byte of the folder and of the tablet's.
"""

import re
import shutil
import subprocess
import sys
import zipfile
from datetime import date, datetime
from errno import ENOSPC
from unittest.mock import Mock

import pytest
from name_search import where_named

from evaltrack.device.season_places import pictures_folder
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey
from evaltrack.store.erasing import erasing
from evaltrack.store.opening import open_season

_WINDOW = (  # claims a season file, as a window does
    "import sys; from evaltrack.device.season_claim import SeasonClaim; claim = SeasonClaim();"
    "print(claim.take(sys.argv[1]), flush=True); sys.stdin.read()"
)
NAMES = ("Tuva Ashlund", "Tuva", "Ashlund")


@pytest.fixture
def alone(season, tmp_path_factory):
    """Return the season in a folder of its own."""
    return shutil.copy(season, tmp_path_factory.mktemp("alone") / "pond.db")


def test_without_yes_nothing_changes(command, alone):
    """It is said what would go, and how to let it go."""
    before = alone.read_bytes()
    told = command("erase", alone, "--player", "2")
    assert (told.exit_code, told.stderr) == (1, "Nothing was erased. Say --yes to erase.\n")
    assert "2 Tuva Ashlund would be erased:\n  32 tallies of theirs, for good\n" in told.stdout
    assert "2  Tuva Ashlund" in command("roster", alone).stdout
    assert len(alone.read_bytes()) == len(before)


def test_nothing_is_left_of_the_player(command, alone, tablet_home):
    """Neither in the file nor in what the app made and kept; no table has a row of them."""
    with open_season(alone) as season:
        player = season.people.everyone()[0]
    keep_tablet(load_tablet(), player=player.id.hex)
    pictures = pictures_folder(alone)
    pictures.mkdir(parents=True)
    (pictures / "2-tuva-ashlund-outlet-pass.svg").write_text("Tuva Ashlund")
    (pictures / "7-bram-okonjo-reyes.svg").write_text("Bram Okonjo-Reyes")
    told = command("erase", alone, "--player", "2", "--yes")
    assert told.exit_code == 0, told.stderr
    assert "2 Tuva Ashlund is erased:\n  32 tallies of theirs, for good\n" in told.stdout
    assert "2-tuva-ashlund-outlet-pass.svg" in told.stdout
    assert "bram" not in told.stdout
    assert "cannot be undone" in told.stdout
    assert where_named(alone.parent, *NAMES) == where_named(tablet_home, *NAMES) == []
    assert load_tablet().player == ""
    assert "Tuva" not in command("roster", alone).stdout
    assert "\n2 " not in command("standings", alone).stdout
    again = command("erase", alone, "--player", "2", "--yes")
    assert again.exit_code == 1
    assert "there is no player" in again.stderr


def test_tries_that_are_kept_count(command, alone):
    """The practices have as many tallies as before, and nobody is named for them."""
    before = command("practices", alone).stdout
    told = command("erase", alone, "--player", "2", "--keep-counts", "--yes")
    assert "the number of 32 tallies, which stay in the figures of the team as nobody's" in told.stdout
    after = command("practices", alone).stdout
    assert [line.split()[-1] for line in before.splitlines() if line[:3] == "202"] == ["32"] * 4
    assert [line.split()[-1] for line in after.splitlines() if line[:3] == "202"] == ["32"] * 4
    for words in (["standings"], ["coverage"], ["season"], ["practices", "--practice", "2025-10-06"]):
        told = command(words[0], alone, *words[1:])
        assert told.exit_code == 0, told.stderr
        assert not any(name in told.stdout for name in NAMES)
    joined = command("pack", alone, "--out", alone.with_suffix(".pack"))
    assert joined.exit_code == 0, joined.stderr


def test_files_given_away_are_listed_with_their_dates(command, alone):
    """They are somebody's: the command says which and when, and touches none of them."""
    roster, pack = alone.with_name("roster.csv"), alone.with_name("old.pack")
    roster.write_text("number,name\n2,Tuva Ashlund\n", encoding="utf-8")
    other = alone.with_name("other.csv")
    other.write_text("7,Bram Okonjo-Reyes\n", encoding="utf-8")
    assert command("pack", alone, "--out", pack).exit_code == 0
    shutil.copy(alone, alone.with_name("x.db"))
    alone.with_name("notes").mkdir()
    (alone.with_name("notes") / "2-tuva-ashlund-2025-10-27.pdf").write_bytes(b"%PDF")
    told = command("erase", alone, "--player", "2", "--yes").stdout
    listed = [line for line in told.splitlines() if "has the name in it" in line]
    assert [line.split(",")[0].rsplit("/")[-1] for line in listed] == [
        "2-tuva-ashlund-2025-10-27.pdf",
        "old.pack",
        "roster.csv",
        "x.db",
    ]
    assert all(re.search(r", of [A-Z][a-z]+day \d+ [A-Z][a-z]+ 20", line) for line in listed)
    assert roster.exists()
    assert "Tuva Ashlund" in roster.read_text(encoding="utf-8")


def test_what_is_packed_is_looked_into_or_may_hold_the_name(command, alone):
    """A ZIP file is unpacked; pages, Parquet and sealed files are listed, if called after nobody else."""
    folder = alone.parent
    for name, text in (("named.zip", "Ashlund"), ("letter.docx", "Tuva"), ("other.zip", "Bram")):
        with zipfile.ZipFile(folder / name, "w", zipfile.ZIP_DEFLATED) as packed:
            packed.writestr("a.csv", f"{text} " * 99)
    page = b"%PDF <xmp:CreatorTool>Typst 1</xmp:CreatorTool>"
    for name in ("cue-cards.pdf", "note-07-bram-okonjo-reyes.pdf"):
        (folder / name).write_bytes(page)
    for name in ("bill.pdf", "players.parquet", "bench.age"):
        (folder / name).write_bytes(b"\0\1")
    (folder / "old.csv").write_bytes("2;Tuva Ashlund;é".encode("cp1252"))
    told = command("erase", alone, "--player", "2").stdout
    has, may = ("has the name in it: delete", "may have the name in it")
    listed = {w: [_file(line) for line in told.splitlines() if w in line] for w in (has, may)}
    assert listed[has] == ["letter.docx", "named.zip", "old.csv"]
    assert listed[may] == ["bench.age", "cue-cards.pdf", "players.parquet"]


def _file(line: str) -> str:
    return line.split(",")[0].rsplit("/")[-1]


def test_printed_pages_are_asked_for(command, alone):
    """The days on which the family's own pages were printed stand in the receipt."""
    with open_season(alone) as season:
        keys = [NoteKey(one.id, date(2025, 11, 2)) for one in season.people.everyone()[:2]]
        for key, day in zip(keys, (3, 9), strict=True):
            at = int(datetime(2025, 11, day, 12).timestamp()) * 1000
            season.notes.add([NoteFact(key, NoteField.PRINTED, "pdf letter")], "bench", at=at)
    told = command("erase", alone, "--player", "2", "--yes").stdout
    assert "A page of the family was printed on Monday 3 November 2025: ask for it." in told
    assert "9 November" not in told


def test_whoever_is_stopped_has_not_lost_sight_of_the_pages(command, alone, monkeypatch):
    """The app's own pages go before the player does: afterwards nobody knows whose they were."""
    pictures = pictures_folder(alone)
    pictures.mkdir(parents=True)
    (pictures / "2-tuva-ashlund-outlet-pass.svg").write_text("Tuva Ashlund")
    monkeypatch.setattr(erasing, "_put", Mock(side_effect=OSError(ENOSPC, "full")))
    assert command("erase", alone, "--player", "2", "--yes").exit_code == 1
    assert list(pictures.iterdir()) == []
    assert "Tuva" in command("roster", alone).stdout
    monkeypatch.undo()
    assert command("erase", alone, "--player", "2", "--yes").exit_code == 0


def test_an_open_window_is_closed_first(command, alone):
    """It would go on showing the player; the rehearsal, for which the file is held alone, waits too."""
    with subprocess.Popen(
        [sys.executable, "-c", _WINDOW, str(alone)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as window:
        assert window.stdout.readline() == "True\n"
        for words in ([], ["--yes"]):
            told = command("erase", alone, "--player", "2", *words)
            assert (told.exit_code, told.stdout) == (1, "")
            assert told.stderr == "the season is open in a window of the app; close that window first\n"
        window.communicate()
    assert command("erase", alone, "--player", "2", "--yes").exit_code == 0


def test_of_two_who_wore_a_number_one_is_named(command, alone, tmp_path):
    """Nobody is erased by a slip."""
    roster = tmp_path / "next.csv"
    roster.write_text("number,name,position\n2,Nils Farrow,D\n7,Bram Okonjo-Reyes,D\n", encoding="utf-8")
    assert command("roster", alone, "--set", roster, "--new", "2").exit_code == 0
    told = command("erase", alone, "--player", "2", "--yes")
    assert told.exit_code == 1
    assert "say which with --name" in told.stderr
    assert command("erase", alone, "--player", "2", "--name", "Tuva Ashlund", "--yes").exit_code == 0
    assert where_named(alone.parent, *NAMES) == []
    assert "Nils Farrow" in command("roster", alone).stdout
    assert command("erase", alone, "--player", "2", "--name", "Nobody", "--yes").exit_code == 1


def test_pages_and_tables_that_were_given_away_are_listed(command, alone, tablet_home, tmp_path_factory):
    """With their day, wherever they are; a place that is called after the child is told, then forgotten."""
    stick = tmp_path_factory.mktemp("stick")
    assert command("export", alone, "--out", stick / "for-tuva", "--player", "2").exit_code == 0
    assert command("export", alone, "--out", stick / "tables").exit_code == 0
    told = command("erase", alone, "--player", "2", "--yes")
    for folder in ("for-tuva", "tables"):
        assert f"Pages or tables were written into {stick / folder} on" in told.stdout
    kept = [file.read_bytes() for file in tablet_home.rglob("elsewhere.json")]
    assert [b"tables" in content and b"tuva" not in content for content in kept] == [True]
    assert "tables" not in command("backup", alone, "--list").stdout
