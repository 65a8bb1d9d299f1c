"""What standings and agreement print of an observer who notes mostly failures: staff alone read it."""

import json
import random

import pytest
from pond_team import DAYS, tallies_file
from pypdf import PdfReader

SKILLS = ("outlet_pass", "lane_fill")
SAID = "Runa is much stricter than Edda, or notes mostly failures"


@pytest.fixture
def selective(command, empty_season):
    """Return a season in which Runa writes down every miss and only one done in four."""
    chance, lines = random.Random(7), []
    for day in DAYS:
        for number in ("2", "7", "11", "14"):
            for skill in SKILLS:
                for turn in range(24):
                    done, observer = chance.random() < 0.6, ("Edda", "Runa")[turn % 2]
                    if observer == "Edda" or not done or chance.random() < 0.25:
                        seen = f"{number},{'done' if done else 'missed'},no,{observer}"
                        lines.append(f"{day},breakout_attack,two_on_one,{skill},{seen}")
    loaded = command("load", empty_season, tallies_file(empty_season.parent, lines))
    assert loaded.exit_code == 0, loaded.stderr
    return empty_season


def _counts(text: str) -> dict[str, list[str]]:
    rows = [line.split() for line in text.splitlines() if line.strip().startswith(SKILLS)]
    return {words[0]: words[1:] for words in rows}


def test_it_stands_below_the_tables(command, selective):
    """With what to do, and the team's counts with her and without; the same under either command."""
    standings, agreement = (command(name, selective).stdout for name in ("standings", "agreement"))
    for text in (standings, agreement):
        below = text[text.index(SAID) :]
        assert "Note every try of a player or none" in " ".join(below.split())
        counts = _counts(below)
        assert set(counts) == set(SKILLS)
        for words in counts.values():
            assert int(words[8]) >= int(words[3]) + 5
    assert standings[standings.index(SAID) :] == agreement[agreement.index(SAID) :]


def test_programs_get_it_too(command, selective):
    """In the JSON of agreement; beside CSV and the JSON of standings as a sentence on the error stream."""
    found = json.loads(command("agreement", selective, "--format", "json").stdout)
    (one,) = found["strict"]
    assert (one["observer"], one["others"]) == ("Runa", ["Edda"])
    assert [count["skill"] for count in one["counts"]] == list(SKILLS)
    for name, form in (("standings", "json"), ("standings", "csv"), ("agreement", "csv")):
        result = command(name, selective, "--format", form)
        assert SAID in result.stderr
        assert "stricter" not in result.stdout


def test_no_family_reads_of_it(command, selective, tmp_path):
    """A page for a family names no observer's manner."""
    out = tmp_path / "notes"
    written = command("notes", selective, "--out", out)
    assert written.exit_code == 0, written.stderr
    pages = list(out.glob("*.pdf"))
    assert pages
    for page in pages:
        told = " ".join(sheet.extract_text() for sheet in PdfReader(page).pages)
        assert "tries" in told or "seen" in told
        assert "stricter" not in told
        assert "Runa" not in told


def test_one_observer_is_not_judged(command, season):
    """With one observer it cannot be seen, so nothing is said."""
    for name in ("standings", "agreement"):
        result = command(name, season)
        assert "stricter" not in result.stdout + result.stderr
    assert json.loads(command("agreement", season, "--format", "json").stdout)["strict"] == []
