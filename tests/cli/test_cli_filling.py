"""Making and filling a season file from the command line; what is wrong changes nothing."""

import hashlib
from pathlib import Path

import pytest
from pond_team import HEADER, ROSTER, roster_file, tallies_file, tally_lines

GOOD = "2025-10-06,breakout_attack,two_on_one,outlet_pass,2,done,,"


def _state(folder: Path) -> dict[str, str]:
    """Return every file of a folder with the hash of its bytes."""
    return {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in folder.iterdir()}


def test_new_tells_what_the_season_holds(command, tmp_path):
    """A new season names its team and counts its players, skills and drills."""
    words = ("--team", " Pond  Team ", "--age-class", "12U", "--roster", roster_file(tmp_path))
    made = command("new", tmp_path / "pond.db", *words)
    assert made.exit_code == 0
    assert "Pond Team 12U, 5 players, 16 skills, 4 drills" in made.stdout


def test_new_never_replaces_a_file(command, empty_season):
    """A season file that is there stays as it is, to the byte."""
    before = _state(empty_season.parent)
    words = ("--team", "X", "--age-class", "12U", "--roster", empty_season.with_name("roster.csv"))
    again = command("new", empty_season, *words)
    assert again.exit_code == 1
    assert "is there already" in again.stderr
    assert _state(empty_season.parent) == before


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b"", "roster.csv: the file is empty"),
        (ROSTER.replace("D,2014", "Q,2014").encode(), "roster.csv, line 2: `Q` is not a position"),
        (ROSTER.replace("11,", "2,").encode(), "roster.csv, line 4: number 2 stands in line 2 too"),
        (ROSTER.replace("name", "nam").encode(), "roster.csv, line 1: the column `name` is missing"),
        (ROSTER.replace("Falk", "Fälk").encode("latin-1"), "roster.csv, line 4: this is not UTF-8 text"),
    ],
)
def test_a_bad_roster_makes_no_season(command, tmp_path, text, said):
    """Every kind of bad roster is refused at its line, and no season file is left behind."""
    roster = tmp_path / "roster.csv"
    roster.write_bytes(text)
    made = command("new", tmp_path / "pond.db", "--team", "X", "--age-class", "12U", "--roster", roster)
    assert made.exit_code == 1
    assert said in made.stderr
    assert [p.name for p in tmp_path.iterdir()] == ["roster.csv"]


@pytest.mark.parametrize("option", ["--skills", "--drills"])
def test_a_bad_catalogue_makes_no_season(command, tmp_path, option):
    """A catalogue that is no TOML is refused with its file's name, and nothing is left behind."""
    broken = tmp_path / "mine.toml"
    broken.write_text('[[skill]]\nkey = "stop\n', encoding="utf-8")
    roster = roster_file(tmp_path)
    words = ("--team", "X", "--age-class", "12U", "--roster", roster, option, broken)
    made = command("new", tmp_path / "pond.db", *words)
    assert made.exit_code == 1
    assert "mine.toml, line 2" in made.stderr
    assert not (tmp_path / "pond.db").exists()


@pytest.mark.parametrize("option", ["--team", "--age-class"])
def test_a_blank_name_is_wrong_usage(command, tmp_path, option):
    """A team or age class of blanks is refused as usage, exit 2."""
    words = {"--team": "Pond", "--age-class": "12U", option: "  "}
    given = [word for pair in words.items() for word in pair]
    made = command("new", tmp_path / "pond.db", *given, "--roster", roster_file(tmp_path))
    assert made.exit_code == 2
    assert "at least one word" in made.stderr


def test_loading_twice_adds_nothing(command, season):
    """The same file a second time adds no tally and changes no standing."""
    before = command("standings", season, "--format", "csv").stdout
    again = command("load", season, season.with_name("tallies.csv"))
    assert again.exit_code == 0
    assert "128 tallies of 4 practices read, 0 of them new" in again.stdout
    assert command("standings", season, "--format", "csv").stdout == before


def test_a_grown_file_adds_what_is_new(command, season):
    """A file that has grown since it was loaded adds its new lines only."""
    grown = tallies_file(season.parent, [*tally_lines(), GOOD.replace("06", "28")])
    assert ", 1 of them new" in command("load", season, grown).stdout


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b"", "tallies.csv: the file is empty"),
        (HEADER.encode(), "tallies.csv: there is no tally in it"),
        (GOOD.encode(), "tallies.csv, line 1: the first line must name the columns"),
        (
            f"{HEADER}\n{GOOD}\n{GOOD}".replace("2,done", "99,done").encode(),
            "line 3: there is no player `99`",
        ),
        (f"{HEADER}\n{GOOD}".replace("outlet_pass", "outlet").encode(), "line 2: there is no skill `outlet`"),
        (f"{HEADER}\n{GOOD}".replace("two_on_one", "2on1").encode(), "line 2: there is no step `2on1`"),
        (f"{HEADER}\n{GOOD}".replace("done", "maybe").encode(), "line 2: `maybe` is not an outcome"),
        (
            f"{HEADER}\n{GOOD}".replace("2025-10-06", "6.10.2026").encode(),
            "line 2: `6.10.2026` is not a date",
        ),
        (f"{HEADER}\n{GOOD}".encode("utf-16"), "line 1: this is UTF-16 text"),
        (b"PK\x03\x04 a workbook", "this is a workbook and not text"),
    ],
)
def test_a_bad_tallies_file_changes_nothing(command, season, text, said):
    """Every kind of bad tallies file is refused in a sentence; the season file keeps every byte."""
    bad = season.with_name("tallies.csv")
    bad.write_bytes(text)
    before = _state(season.parent)
    loaded = command("load", season, bad)
    assert loaded.exit_code == 1
    assert said in loaded.stderr
    assert loaded.stdout == ""
    assert _state(season.parent) == before


def test_one_bad_line_among_good_ones_stops_them_all(command, empty_season):
    """A file with good lines and a bad one adds none of the good ones."""
    lines = [*tally_lines(), GOOD.replace("done", "so-so")]
    loaded = command("load", empty_season, tallies_file(empty_season.parent, lines))
    assert loaded.exit_code == 1
    assert "line 130" in loaded.stderr
    loaded = command("load", empty_season, tallies_file(empty_season.parent))
    assert "128 tallies of 4 practices read, 128 of them new" in loaded.stdout


def test_a_long_list_of_complaints_is_cut_with_a_count(command, empty_season):
    """Forty complaints are printed, one a line, and the rest is counted."""
    bad = tallies_file(empty_season.parent, [GOOD.replace("done", "x")] * 63)
    said = command("load", empty_season, bad).stderr.splitlines()
    assert len(said) == 41
    assert said[0].startswith("tallies.csv, line 2:")
    assert said[-1] == "... and 23 more"


@pytest.mark.parametrize("words", [("load", "no.db", "t.csv"), ("standings", "no.db"), ("open", "no.db")])
def test_a_missing_season_file_is_named(command, tmp_path, monkeypatch, words):
    """A season file that is not there is named, with what to do, and none is made."""
    monkeypatch.chdir(tmp_path)
    result = command(*words)
    assert result.exit_code == 1
    assert 'there is no file "no.db"' in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_another_file_is_no_season(command, tmp_path):
    """A text file in the place of the season file is refused and left alone."""
    roster = roster_file(tmp_path)
    result = command("load", roster, roster)
    assert result.exit_code == 1
    assert "is not a season file" in result.stderr
    assert roster.read_text(encoding="utf-8") == ROSTER


@pytest.mark.parametrize(
    ("day", "words"), [("2099-01-13", "has not come yet"), ("2024-01-13", "more than one season")]
)
def test_a_mistyped_year_is_refused(command, day, words, tmp_path, season):
    """One line in a wrong year would bend every player's trend; it changes nothing."""
    before = season.read_bytes()
    text = f"date,drill,step,skill,player,outcome\n{day},stops_starts,on_lines,stop,7,done\n"
    (tmp_path / "late.csv").write_text(text)
    result = command("load", season, tmp_path / "late.csv")
    assert result.exit_code == 1
    assert words in result.stderr
    assert season.read_bytes() == before
