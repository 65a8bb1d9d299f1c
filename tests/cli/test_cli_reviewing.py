"""What standings and notes print, and for whom."""

import csv
import io
import json
import os
import re

import pytest
from pond_team import NAMES, tally_lines
from pypdf import PdfReader

from evaltrack.analysis.standings.standing import COLUMNS

# the columns that other programs rely on, written out here so that a change is noticed
PUBLISHED = (
    "player,name,position,skill,tries,done,practices,share,low,high,low50,high50,start_share,change,"
    "change_low,change_high,p_up,target,p_below,call,trend"
)


def _rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_csv_has_exactly_the_published_columns(command, season):
    """The header of the CSV is the published one, in its order."""
    text = command("standings", season, "--format", "csv").stdout
    assert text.splitlines()[0] == PUBLISHED == ",".join(COLUMNS)


def test_csv_counts_are_those_of_the_file(command, season):
    """Tries, dones and practices of every row are what the loaded file says."""
    lines = [line.split(",") for line in tally_lines()]
    for row in _rows(command("standings", season, "--format", "csv").stdout):
        own = [line for line in lines if line[3] == row["skill"] and line[4] == row["player"]]
        assert int(row["tries"]) == len(own) == 32
        assert int(row["done"]) == sum(line[5] == "done" for line in own)
        assert int(row["practices"]) == 4


def test_csv_numbers_hold_together(command, season):
    """Each share lies in its intervals, and the change is now minus the start."""
    rows = _rows(command("standings", season, "--format", "csv").stdout)
    assert [row["player"] for row in rows] == ["2", "7", "11", "14"]
    for row in rows:
        value = {name: float(row[name]) for name in PUBLISHED.split(",")[7:19]}
        assert 0 <= value["low"] <= value["low50"] <= value["share"] <= value["high50"] <= value["high"] <= 1
        assert value["change"] == pytest.approx(value["share"] - value["start_share"], abs=2e-6)


def test_json_says_the_same_as_csv(command, season):
    """JSON carries the same names and values as CSV."""
    rows = json.loads(command("standings", season, "--format", "json").stdout)
    texts = [{name: str(value) for name, value in row.items()} for row in rows]
    assert texts == _rows(command("standings", season, "--format", "csv").stdout)


def test_one_skill_or_player_is_a_part_of_the_whole(command, season):
    """Asking for one skill or one player gives the very rows that the whole list has."""
    whole = _rows(command("standings", season, "--format", "csv").stdout)
    skill = _rows(command("standings", season, "--format", "csv", "--skill", "lane_fill").stdout)
    player = _rows(command("standings", season, "--format", "csv", "--player", "07").stdout)
    assert skill == [row for row in whole if row["skill"] == "lane_fill"] != []
    assert player == [row for row in whole if row["player"] == "7"] != []


def test_the_table_tells_counts_and_words(command, season):
    """The table goes by number and tells each count as "n of m" with the call and the trend in words."""
    text = command("standings", season).stdout
    assert [text.index(name) for name in NAMES.values()] == sorted(text.index(n) for n in NAMES.values())
    for row in _rows(command("standings", season, "--format", "csv").stdout):
        line = next(x for x in text[text.index(row["name"]) :].splitlines()[1:] if row["skill"] in x)
        assert f"{row['done']} of {row['tries']}" in line
        assert row["call"] in line
        assert row["trend"] in line


def test_nothing_after_the_day_is_counted(command, season):
    """With --as-of the counts stop at that day, which counts itself."""
    rows = _rows(command("standings", season, "--as-of", "2025-10-13", "--format", "csv").stdout)
    assert {row["tries"] for row in rows} == {"16"}


@pytest.mark.parametrize(("form", "printed"), [("table", ""), ("csv", f"{PUBLISHED}\n"), ("json", "[]\n")])
def test_before_the_first_practice_there_is_nothing(command, season, form, printed):
    """A day before the first practice gives an empty list in each format, said on stderr, exit 0."""
    result = command("standings", season, "--as-of", "2025-10-05", "--format", form)
    assert result.exit_code == 0
    assert result.stdout == printed
    assert "is a try that counts up to 2025-10-05, so there are no standings" in result.stderr


def test_whoever_has_no_try_is_told_so_and_not_that_nobody_has(command, tmp_path):
    """The tallies of the others, and what is only `unseen`, are not denied."""
    path = tmp_path / "season.db"
    roster = tmp_path / "roster.csv"
    roster.write_text("number,name,position\n0,Ada Berg,D\n00,Bo Dahl,D\n")
    tallies = tmp_path / "tallies.csv"
    tallies.write_text(
        "date,drill,step,skill,player,outcome,times\n2025-10-06,stops_starts,on_lines,stop,0,done,64\n"
    )
    command("new", path, "--team", "Lanterns", "--age-class", "12U", "--roster", roster)
    assert command("load", path, tallies).exit_code == 0
    told = command("standings", path, "--player", "00")
    assert "no try of player 00 was tallied, so there are no standings" in told.stderr
    told = command("standings", path, "--player", "0", "--skill", "start")
    assert "no try of player 0 in start was tallied" in told.stderr
    assert "64" in command("standings", path, "--player", "0").stdout


def test_a_season_without_tallies_has_no_standings(command, empty_season):
    """A season without a tally gives no standings and no traceback."""
    result = command("standings", empty_season)
    assert (result.exit_code, result.stdout) == (0, "")
    assert "nothing has been tallied yet" in result.stderr


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--player", "99"), "there is no player `99` in this season"),
        (("--player", "xx"), "`xx` is not a jersey number"),
        (("--skill", "lane_fil"), "there is no skill `lane_fil` in this season; did you mean `lane_fill`?"),
    ],
)
def test_who_or_what_is_unknown_is_refused(command, season, words, said):
    """An unknown player or skill is refused in a sentence, exit 1."""
    result = command("standings", season, *words)
    assert (result.exit_code, result.stdout) == (1, "")
    assert said in result.stderr


@pytest.mark.parametrize("words", [("--as-of", "yesterday"), ("--as-of", "2026-02-30"), ("--format", "xml")])
def test_wrong_usage_exits_with_two(command, season, words):
    """A day that is none or a format that is none is wrong usage."""
    assert command("standings", season, *words).exit_code == 2


def test_each_note_names_only_its_own_child(command, season, tmp_path):
    """Every PDF has the words of one child's name and of no other's."""
    result = command("notes", season, "--out", tmp_path / "notes")
    assert result.exit_code == 0
    assert re.search(r"\b31\b.*: no page yet", result.stderr)
    pages = {p.name: _text(p) for p in (tmp_path / "notes").iterdir()}
    assert len(pages) == 4
    named = [[name for name in NAMES.values() if name in text] for text in pages.values()]
    assert sorted(named) == sorted([name] for name in NAMES.values())
    for text, (own,) in zip(pages.values(), named, strict=True):
        others = {part for name in NAMES.values() if name != own for part in name.split()}
        assert [part for part in others if part in text] == []


def test_one_player_gives_one_note(command, season, tmp_path):
    """With --player only that child's page is written."""
    assert command("notes", season, "--out", tmp_path / "notes", "--player", "14").exit_code == 0
    (page,) = (tmp_path / "notes").iterdir()
    assert "Jory Pellwick" in _text(page)


@pytest.mark.parametrize(
    ("form", "ending", "begins"),
    [
        ("pdf", "-a4-large.pdf", b"%PDF-"),
        ("html", "-a4-large.html", b"<!DOCTYPE"),
        ("text", ".txt", b"Draft"),
        ("docx", "-a4-large.docx", b"PK"),
    ],
)
def test_a_note_comes_in_the_form_that_was_asked_for(command, season, tmp_path, form, ending, begins):
    """By its number only if that was wished, and for its owner's eyes only."""
    words = ("--form", form, "--large-print", "--paper", "a4", "--names-by", "number", "--player", "14")
    assert command("notes", season, "--out", tmp_path / "notes", *words).exit_code == 0
    (page,) = (tmp_path / "notes").iterdir()
    assert re.fullmatch(rf"note-14-\d{{4}}-\d\d-\d\d{re.escape(ending)}", page.name)
    assert page.read_bytes().startswith(begins)
    assert os.name == "nt" or page.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("words", [("--as-of", "2025-10-05"), ("--player", "31")])
def test_no_page_is_said_to_be_none(command, season, tmp_path, words):
    """When no page can be written the command says so, why, and exits with 1."""
    result = command("notes", season, "--out", tmp_path / "notes", *words)
    assert result.exit_code == 1
    assert result.stderr.startswith("no page was written\n")
    assert re.search(r"\b31\b.*: no page yet", result.stderr)
    assert list(tmp_path.glob("notes/*.pdf")) == []


def test_notes_into_a_file_are_refused(command, season):
    """A file in the place of the folder is refused in a sentence."""
    result = command("notes", season, "--out", season)
    assert result.exit_code == 1
    assert "cannot be made" in result.stderr


def _text(path) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(path).pages).split())


def test_notes_on_either_paper(command, season, tmp_path):
    """A page is US Letter unless A4 is asked for, the same as the sheets for a clipboard; both are kept."""
    for words, named, size in (((), "[0-9].pdf", (612, 792)), (("--paper", "a4"), "-a4.pdf", (595, 842))):
        command("notes", season, "--out", tmp_path / "notes", "--player", "2", *words)
        (page,) = (tmp_path / "notes").glob(f"*{named}")
        box = PdfReader(page).pages[0].mediabox
        assert (round(box.width), round(box.height)) == size
