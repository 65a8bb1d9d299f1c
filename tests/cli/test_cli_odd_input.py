"""Odd arguments, odd paths and outputs that fail: always a sentence."""

import os
import stat
import subprocess
import sys

import pytest
from own_process import ENVIRONMENT, process
from pond_team import roster_file, tallies_file

from evaltrack.rink.plain_text import first_hidden

DAY = "2025-10-27"
GOOD = "2025-10-06,breakout_attack,two_on_one,outlet_pass,2,done"
NAMES = {
    "a stray byte": (os.fsdecode(b"Lant\xffns"), "U+DCFF"),
    "an escape": ("\x1b]0;owned\x07Red", "U+001B"),
    "a turn of direction": ("\u202eabc", "U+202E"),
    "far too long": ("x" * 100_000, "100,000 characters; at most"),
}


@pytest.fixture
def told(command):
    """Run a command here, or as a process where its words are no text; give its code and what it says."""

    def run(*words) -> tuple[int, str, str]:
        if any("\udcff" in str(word) for word in words):
            return process(*words)
        done = command(*words)
        for text in (done.stdout, done.stderr):
            assert first_hidden(text.replace("\n", "").replace("\t", "")) is None
        return done.exit_code, done.stdout, done.stderr

    return run


@pytest.mark.parametrize(
    "words", [("notes", "--player", "2", "--player", "7"), ("meetings", "--came", "2", "--came=7")]
)
def test_an_option_that_is_said_twice_is_refused(command, season, words):
    """Only the last one would count, and nobody would be told; --new and its like may stand several times."""
    name, *rest = words
    done = command(name, season, "--out", season.with_name("out"), *rest)
    assert done.exit_code == 2
    assert f"Error: {rest[0]} stands here twice; say it once." in done.stderr
    assert not season.with_name("out").exists()


@pytest.mark.parametrize("option", ["--team", "--age-class"])
@pytest.mark.parametrize("kind", NAMES)
def test_a_team_is_checked_as_a_name_is(told, tmp_path, option, kind):
    """Team and age class are refused in one sentence for what no name may hold."""
    name, words = NAMES[kind]
    given = {"--team": "Pond", "--age-class": "12U"} | {option: name}
    code, out, err = told(
        "new", tmp_path / "pond.db", *(word for pair in given.items() for word in pair),
        "--roster", roster_file(tmp_path),
    )  # fmt: skip
    assert (code, out, err.count("\n")) == (1, "", 1)
    assert words in err
    assert not (tmp_path / "pond.db").exists()


@pytest.mark.parametrize("kind", NAMES)
def test_an_observer_is_checked_as_a_name_is(told, season, kind):
    """The observer of a sheet is refused in one sentence for what no name may hold."""
    name, words = NAMES[kind]
    code, out, err = told("sheet", season, "--out", season.with_name("f.csv"), "--observer", name)
    assert (code, out, err.count("\n")) == (1, "", 1)
    assert words in err


def test_a_team_is_kept_composed_and_without_surplus_blanks(command, tmp_path):
    """A team typed with loose accents and wide gaps is the team that everybody types."""
    words = (
        "--team",
        "  Zoe\u0308s \u00a0 Lanterns ",
        "--age-class",
        "12U",
        "--roster",
        roster_file(tmp_path),
    )
    assert "Zoës Lanterns 12U" in command("new", tmp_path / "pond.db", *words).stdout


ODD_PATHS = {
    "a stray byte": os.fsdecode(b"s\xff.csv"),
    "an escape": "\x1b[31ms.csv",
    "a turn of direction": "\u202es.csv",
    "a line end": "a\nb.csv",
    "over 512 bytes": "/".join(["a" * 50] * 12) + "/s.csv",
    "a name of 300 letters": "b" * 300 + ".csv",
    "a folder": ".",
    "below a file": "roster.csv/s.csv",
    "a device": "/dev/full",
}


@pytest.mark.parametrize("kind", ODD_PATHS)
@pytest.mark.parametrize("words", [
    ("load", "SEASON", "PATH"),
    ("new", "NEW", "--team", "T", "--age-class", "U", "--roster", "PATH"),
    ("new", "NEW", "--team", "T", "--age-class", "U", "--roster", "ROSTER", "--skills", "PATH"),
], ids=["load", "roster", "skills"])  # fmt: skip
def test_an_odd_path_to_a_file_is_told_in_a_sentence(told, empty_season, kind, words):
    """A path that leads to no file ends in one sentence that a terminal can show."""
    folder = empty_season.parent
    known = {"SEASON": empty_season, "NEW": folder / "n.db", "ROSTER": folder / "roster.csv"}
    known["PATH"] = folder / ODD_PATHS[kind]
    code, out, err = told(*(known.get(word, word) for word in words))
    assert (code, out, err.count("\n")) == (1, "", 1)


@pytest.mark.parametrize("kind", ["an escape", "over 512 bytes", "a name of 300 letters", "below a file"])
@pytest.mark.parametrize("words", [
    ("sheet", "SEASON", "--out", "PATH"),
    ("sheet", "SEASON", "--out", "PATH.pdf"),
    ("notes", "SEASON", "--out", "PATH", "--player", "2"),
    ("demo", "PATH"),
], ids=["form", "sheet", "notes", "demo"])  # fmt: skip
def test_an_odd_path_for_what_is_made_ends_well(told, season, kind, words):
    """What a command makes is made under an odd name too, or refused in a sentence."""
    path = season.parent / ODD_PATHS[kind]
    known = {"SEASON": season, "PATH": path, "PATH.pdf": path.with_suffix(".pdf")}
    code, _, err = told(*(known.get(word, word) for word in words))
    assert code == 0 or (code == 1 and err)  # a page may have what is asked


def test_a_form_of_the_longest_name_is_written(command, season):
    """A draft with a longer name of its own does not keep a file from being written."""
    target = season.with_name("f" * 251 + ".csv")
    made = command("sheet", season, "--out", target, "--date", DAY)
    assert made.exit_code == 0, made.stderr
    assert target.exists()


def test_a_folder_where_a_file_should_be_is_left_alone(command, season):
    """A folder in the place of a sheet is refused; one that is named like a draft is not in the way."""
    (season.with_name("sheet.pdf")).mkdir()
    made = command("sheet", season, "--out", season.with_name("sheet.pdf"))
    assert made.exit_code == 1
    assert "cannot be written" in made.stderr
    season.with_name("other.pdf.new").mkdir()
    assert command("sheet", season, "--out", season.with_name("other.pdf")).exit_code == 0
    assert [path.name for path in season.parent.glob(".*")] == []


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
def test_the_ends_of_the_calendar(command, season, day):
    """The first and the last day there is are days as others are, or refused in a sentence."""
    folder = season.parent
    for words in (
        ("standings", season, "--as-of", day),
        ("standings", season, "--as-of", day, "--why", "--format", "json"),
        ("coverage", season, "--as-of", day),
        ("notes", season, "--as-of", day, "--out", folder / "notes"),
        ("sheet", season, "--date", day, "--out", folder / "s.pdf"),
        ("sheet", season, "--date", day, "--out", folder / "s.csv"),
    ):
        assert command(*words).exit_code in (0, 1), words


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
def test_no_form_is_made_that_could_not_be_loaded(command, empty_season, day):
    """A day that no file may hold is refused for a form, in a season without a practice too."""
    made = command("sheet", empty_season, "--out", empty_season.with_name("f.csv"), "--date", day)
    assert (made.exit_code, made.stdout) == (1, "")
    assert "is in no season" in made.stderr


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="there is no full device here")
@pytest.mark.parametrize(
    "words", [("coverage",), ("sheet", "--date", DAY, "--out", "f.csv"), ("--help",)], ids=lambda w: w[0]
)
def test_an_output_that_cannot_be_written_is_told(season, words):
    """A full disk behind stdout is one sentence on stderr and exit 1, and nothing more at the end."""
    given = [words[0]] if words[0].startswith("-") else [words[0], season, *words[1:]]
    given = [season.with_name(word) if word == "f.csv" else word for word in given]
    with open("/dev/full", "wb") as full:
        code, _, err = process(*given, stdout=full)
    assert (code, err) == (1, "the output cannot be written: the disk is full; make room on it\n")


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="there is no full device here")
def test_a_stderr_that_cannot_be_written_changes_no_exit_code(season):
    """Where nobody can be told, the exit code still says it."""
    with open("/dev/full", "wb") as full:
        for words, code in ((("standings", "no.db"), 1), (("standings",), 2), (("--version",), 0)):
            found = process(*words, stderr=full)
            assert found[0] == code


@pytest.mark.parametrize("words", [("standings",), ("--help",)], ids=lambda w: w[0])
def test_a_reader_who_has_enough_is_no_fault(season, words):
    """A pipe that is closed before anything was read leaves stderr empty."""
    given = list(words) if words[0].startswith("-") else [words[0], str(season)]
    reader, writer = os.pipe()
    os.close(reader)
    with os.fdopen(writer, "wb") as closed:
        done = subprocess.run([sys.executable, "-m", "evaltrack", *given], env=ENVIRONMENT, stdout=closed,
                              stderr=subprocess.PIPE, timeout=60)  # fmt: skip
    assert (done.returncode, done.stderr) == (1, b"")


def test_an_encoding_that_lacks_a_letter_stops_no_command(tmp_path, command):
    """Where stdout has no ``Ł``, an escape stands for it."""
    roster = tmp_path / "r.csv"
    roster.write_text("number,name,position\n2,Zoë Łukasik,D\n", encoding="utf-8")
    command("new", tmp_path / "a.db", "--team", "Łanterns", "--age-class", "12U", "--roster", roster)
    tallies = tallies_file(tmp_path, [f"{GOOD},,"] * 3)
    assert command("load", tmp_path / "a.db", tallies).exit_code == 0
    line = [sys.executable, "-m", "evaltrack", "standings", str(tmp_path / "a.db"), "--format", "csv"]
    done = subprocess.run(
        line, env=ENVIRONMENT | {"PYTHONIOENCODING": "latin-1"}, capture_output=True, timeout=60
    )
    assert done.returncode == 0, done.stderr
    assert b"Zo\xeb \\u0141ukasik" in done.stdout


@pytest.mark.skipif(os.name == "nt", reason="Windows has no mode bits")
def test_what_holds_names_is_the_owners_alone(command, season):
    """Notes, sheets and forms are readable by their owner only, whatever the umask."""
    folder, before = season.parent, os.umask(0)
    try:
        for words in (
            ("sheet", season, "--out", folder / "s.pdf"),
            ("sheet", season, "--out", folder / "s.csv", "--date", DAY),
            ("notes", season, "--out", folder / "notes", "--player", "2"),
        ):
            assert command(*words).exit_code == 0
    finally:
        os.umask(before)
    made = [folder / "s.pdf", folder / "s.csv", *(folder / "notes").glob("*")]
    assert len(made) == 3
    assert {stat.S_IMODE(path.stat().st_mode) for path in made} == {0o600}


def test_ctrl_c_is_one_word(season):
    """A command that is stopped by hand says so and has no traceback."""
    code = "import os, signal\nfrom evaltrack.cli import commands\n"
    code += "commands.main(['open', os.sys.argv[1]], obj=lambda _: os.kill(os.getpid(), signal.SIGINT))"
    done = subprocess.run(
        [sys.executable, "-c", code, str(season)], env=ENVIRONMENT, capture_output=True, text=True
    )
    assert (done.returncode, done.stderr.strip()) == (1, "stopped")
