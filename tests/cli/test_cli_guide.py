"""The guide for observers from the command line."""

import pypdf
import pytest
from pond_team import NAMES

from evaltrack.places import sample_roster


def words(path) -> str:
    """Return the words of a PDF, one blank between them."""
    return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(path).pages).split())


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_it_has_the_words_of_the_season_and_no_player(command, season, tmp_path, paper):
    """The team's name and its own changed definition stand in it, and no name of the roster."""
    own = (sample_roster() / "skills.toml").read_text("utf-8")
    changed = tmp_path / "skills.toml"
    changed.write_text(own.replace("Bumped by someone", "Bumped by a marmot"), "utf-8")
    done = command("catalogue", season, "--skills", changed, "--same-series", "stop")
    assert done.exit_code == 0, done.stderr
    out = tmp_path / "guide.pdf"
    made = command("guide", season, "--out", out, "--paper", paper)
    assert made.exit_code == 0, made.stderr
    assert made.stdout == f"{out}: 2 pages ({paper}), 16 skills\n"
    text = words(out)
    assert "Pond" in text
    assert "Bumped by a marmot" in text
    assert not [name for name in NAMES.values() if name in text]


def test_without_a_season_it_is_made_of_what_is_shipped(command, tmp_path):
    out = tmp_path / "guide.pdf"
    made = command("guide", "--out", out)
    assert made.exit_code == 0, made.stderr
    assert "Outlet pass" in words(out)


def test_what_cannot_be_done_is_said(command, tmp_path):
    """Another ending is a usage error; a season that is not there and a folder that is not are told."""
    assert command("guide", "--out", tmp_path / "guide.doc").exit_code == 2
    missing = command("guide", tmp_path / "none.db", "--out", tmp_path / "guide.pdf")
    assert missing.exit_code == 1
    assert "there is no file" in missing.stderr
    nowhere = command("guide", "--out", tmp_path / "none" / "guide.pdf")
    assert nowhere.exit_code == 1
    assert "cannot be written" in nowhere.stderr
    assert not (tmp_path / "guide.pdf").exists()
