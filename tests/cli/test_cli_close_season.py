"""Closing a season from the command line: what would go, what went, whom to ask.

Cases: without --yes nothing changes; the receipt; pages and pictures of the app's own; others' files with
their dates; printed pages; the tablet's settings; twice; a window that is open; the names in no byte.
"""

import shutil
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from name_search import where_named
from pond_team import roster_file

from evaltrack.device.backup_places import Why, backups_of
from evaltrack.device.season_places import notes_folder
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.days import in_full
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey
from evaltrack.store.backups.keeping import keep_backup
from evaltrack.store.opening import open_season

_WINDOW = (  # claims a season file, as a window does
    "import sys; from evaltrack.device.season_claim import SeasonClaim; claim = SeasonClaim();"
    "print(claim.take(sys.argv[1]), flush=True); sys.stdin.read()"
)
PRINTED = date(2025, 11, 3)


@pytest.fixture
def alone(season, tmp_path_factory):
    """Return the season in a folder of its own."""
    return Path(shutil.copy(season, tmp_path_factory.mktemp("alone") / "pond.db"))


@pytest.fixture
def names(alone):
    """Return the whole names of all players."""
    with open_season(alone) as season:
        return [player.name for player in season.people.everyone()]


def print_pages(path) -> None:
    """Note that pages of two families were printed, one of them twice."""
    at = int(PRINTED.strftime("%s")) * 1000
    with open_season(path) as season:
        first, second = season.people.everyone()[:2]
        keys = [NoteKey(one.id, PRINTED) for one in (first, second, second)]
        season.notes.add([NoteFact(key, NoteField.PRINTED, "pdf letter") for key in keys], "bench", at=at)


def test_without_yes_nothing_changes(command, alone, names):
    """It is said what would go and what would stay, and what is to be done before."""
    with open_season(alone) as season:
        count = season.log.count()
    told = command("close-season", alone)
    assert (told.exit_code, told.stderr) == (1, "Nothing was changed. Say --yes to close the season.\n")
    assert "begin the next season" in told.stdout
    assert f"birth years of {len(names)} players" in told.stdout
    assert f"These stay: {count:,} tallies of 4 practices" in told.stdout
    with open_season(alone) as season:
        assert [player.name for player in season.people.everyone()] == names
    assert not any(name in told.stdout for name in names)


def test_nobody_is_left_anywhere(command, alone, names, tablet_home):
    """In the file, in the app's backups, pages and settings; figures of the team can still be read."""
    with open_season(alone) as season:
        keep_backup(season, Why.ASKED)
        player, ident = season.people.everyone()[0], season.ident
        observer = season.people.observers()[0]
    keep_tablet(load_tablet(), player=player.id.hex, observer=observer)
    page = notes_folder(alone) / "2-tuva-ashlund-2025-10-27.pdf"
    page.parent.mkdir(parents=True)
    page.write_bytes(b"%PDF Tuva Ashlund")
    before = command("standings", alone, "--team").stdout
    told = command("close-season", alone, "--yes")
    assert told.exit_code == 0, told.stderr
    assert f"It has forgotten {len(names)} players" in told.stdout
    assert f"{page}, of {in_full(date.today())}, was deleted" in told.stdout
    assert where_named(alone.parent, *names) == where_named(tablet_home, *names) == []
    assert (load_tablet().player, load_tablet().observer) == ("", "")
    assert "tablet.json" not in told.stdout
    assert [one.why for one in backups_of(ident)] == [Why.ERASURE]
    assert command("standings", alone, "--team").stdout == before
    assert command("check", alone).exit_code == 0
    for word in ("season", "practices", "keep"):
        told = command(word, alone)
        assert told.exit_code == 0, told.stderr


def test_people_can_be_asked(command, alone):
    """Files with names are listed with their dates, and the days of printing; nothing of it is touched."""
    roster = roster_file(alone.parent)
    pack = alone.with_name("old.pack")
    assert command("pack", alone, "--out", pack).exit_code == 0
    print_pages(alone)
    receipt = alone.with_name("whom-to-ask.txt")
    told = command("close-season", alone, "--yes", "--out", receipt).stdout
    assert receipt.read_text(encoding="utf-8") == told
    today = in_full(date.today())
    assert [f"{path}, of {today}, has the name in it" in told for path in (roster, pack)] == [True, True]
    assert "Pages of 2 families were printed on Monday 3 November 2025: ask for them." in told
    assert roster.exists()
    assert pack.exists()


def test_whom_to_ask_is_told_also_where_it_cannot_be_saved(command, alone):
    """It cannot be asked for again once the season is closed."""
    told = command("close-season", alone, "--yes", "--out", alone.with_name("no-folder") / "x" / "ask.txt")
    assert "The season is closed." in told.stdout
    assert told.exit_code == 1


def test_a_closed_season_is_not_closed_again(command, alone):
    """A sentence says so."""
    assert command("close-season", alone, "--yes").exit_code == 0
    again = command("close-season", alone, "--yes")
    assert (again.exit_code, again.stdout) == (1, "")
    assert "was closed already" in again.stderr
    assert command("keep", alone).stdout.startswith("This season was closed on ")


def test_an_open_window_is_closed_first(command, alone):
    """It would go on showing the children."""
    with subprocess.Popen(
        [sys.executable, "-c", _WINDOW, str(alone)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as window:
        assert window.stdout.readline() == "True\n"
        told = command("close-season", alone, "--yes")
        assert (told.exit_code, told.stdout) == (1, "")
        assert "Close that window first" in told.stderr
        window.communicate()


OF_CHILDREN = [  # with what makes a whole command of it
    ("roster",), ("sheet", "--out", "form.pdf"), ("load", "tallies.csv"), ("standings",), ("coverage",),
    ("standings", "--format", "json"), ("standings", "--player", "7"),
    ("charts", "--player", "7", "--out", "c"),
    ("plan",), ("notes", "--out", "n"), ("meetings", "--start", "2026-01-20 18:00", "--minutes", "9"),
    ("agreement",), ("export", "--out", "e", "--player", "7"), ("export", "--out", "e", "--each"),
    ("erase", "--player", "7"), ("keep", "--until", "2026-06-30"), ("lend", "--out", "loan.db"),
    ("handover", "127.0.0.1", "--code", "123456"),
]  # fmt: skip


def test_what_is_of_children_says_that_they_were_forgotten_and_where_the_figures_are(
    command, alone, tmp_path, monkeypatch
):
    """One sentence, nothing on stdout, nothing written; what is of the team goes on."""
    monkeypatch.chdir(tmp_path)
    assert command("close-season", alone, "--yes").exit_code == 0
    for name, *words in OF_CHILDREN:
        told = command(name, alone, *words)
        assert (told.exit_code, told.stdout, told.stderr.count("\n")) == (1, "", 1), (name, words)
        assert "was closed on" in told.stderr, (name, words)
        assert f"evaltrack season {alone}" in told.stderr, (name, words)
    assert not [path for path in tmp_path.iterdir() if path.name[:1] in "fcenl"]
    kept = command("keep", alone)
    assert (kept.exit_code, kept.stderr) == (0, "")
    assert "knows no child any more" in kept.stdout
    assert "was closed on" in command("practices", alone).stderr
    began = command("next-season", alone, tmp_path / "next.db")
    assert began.exit_code == 0
    assert "so nobody comes along" in began.stderr
    for name, *words in (("season",), ("standings", "--team"), ("charts", "--out", "team"), ("check",)):
        assert command(name, alone, *words).exit_code == 0, name
