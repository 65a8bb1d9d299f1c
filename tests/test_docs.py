"""README and DEVELOPERS say what is there: every command, and the two lines that CI runs as they stand."""

import re
from pathlib import Path

import pytest

from evaltrack.cli import commands

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
ROOMS = sorted(room.name for room in (ROOT / "evaltrack").iterdir() if (room / "__init__.py").exists())
CI = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()


@pytest.mark.parametrize("name", list(commands.commands))
def test_every_command_is_named(name):
    """README shows how each command is called, and DEVELOPERS names it."""
    assert re.search(rf"evaltrack {name}\b", README)
    assert f"`{name}`" in DEVELOPERS


def test_no_command_is_invented():
    """Whatever README and DEVELOPERS call as a command is one of the group."""
    called = set(re.findall(r"(?:^|[`/])evaltrack (?!--)([a-z-]+)\b", README + DEVELOPERS, re.MULTILINE))
    assert called
    assert called <= set(commands.commands)


def test_the_two_lines_are_those_of_ci():
    """CI runs the README's two set-up lines as they stand there."""
    lines = [line for line in README.splitlines() if line.startswith("python3 -m venv ")]
    assert len(lines) == 2
    assert [line for line in lines if line not in CI] == []


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_every_file_that_is_named_exists(text):
    """Each path of the project that a page names in backticks, a link or a picture is there."""
    named = re.findall(r"`((?:assets|evaltrack|sample_roster|tests)/[\w./]*)`", text)
    named += [f"evaltrack/{p}" for p in re.findall(rf"`((?:{'|'.join(ROOMS)})/[\w./]*)`", text)]
    named += re.findall(r"\]\(([\w./]+)\)", text)
    assert named
    assert [path for path in named if not (ROOT / path).exists()] == []


def test_every_decision_names_what_holds_it():
    """Each decision ends with a test or a bench, and each of these is there."""
    decisions = re.split(r"^- \*\*", DEVELOPERS.partition("## Decisions")[2], flags=re.MULTILINE)[1:]
    assert len(decisions) > 50
    there = {file.name for file in (ROOT / "tests").rglob("*.py")}
    for decision in decisions:
        named = re.search(r"\[([^\]]*)\]\s*(?:\*\*|$)", decision)
        assert named, decision[:60]
        held_by = re.findall(r"`([\w./]+\.py)`", named[1])
        assert held_by, decision[:60]
        assert [path for path in held_by if Path(path).name not in there] == [], decision[:60]


def test_the_shown_roster_can_be_read(tmp_path):
    """The roster that README shows is taken in as it stands."""
    from evaltrack.intake.roster import read_roster

    shown = re.search(r"```csv\n(.*?)```", README, re.DOTALL)[1]
    (tmp_path / "roster.csv").write_text(shown, encoding="utf-8")
    assert [player.number for player in read_roster(tmp_path / "roster.csv")] == ["2", "11", "31"]
