"""Nothing that a command prints steers a terminal, wherever its words come from."""

import re
from datetime import date
from pathlib import Path

import pypdf
import pytest
from own_process import process

import evaltrack
from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.places import sample_roster
from evaltrack.rink.plain_text import first_hidden
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.creating import create_season


@pytest.mark.parametrize("words", [
    ("standings", "SEASON", "--skill", "x\x1b[31m\x9b"),
    ("standings", "SEASON", "--player", "\x1b[31m"),
    ("standings", "SEASON", "--as-of", "\x1b[31m\u202e"),
    ("standings", "SEASON", "--\x1b[31m"),
    ("standings", "\x1b[31m.db"),
    ("open", "\x1b[31m.db"),
    ("\x1b[31mstandings",),
    ("--\x9b31m",),
], ids=ascii)  # fmt: skip
def test_no_control_reaches_the_terminal_from_the_arguments(season, words):
    """Escapes in any argument come back as U+FFFD or not at all, exit 1 or 2."""
    code, out, err = process(*(season if word == "SEASON" else word for word in words))
    assert code in (1, 2)
    assert (out, bool(err)) == ("", True)


HIDING = "\x1b[31m\x9b2J\u202e\x07"


@pytest.fixture(scope="module")
def hostile_season(tmp_path_factory):
    """Make a season whose team, players and observers try to steer a terminal."""
    path = tmp_path_factory.mktemp("hostile") / "h.db"
    skills = read_skills(sample_roster() / "skills.toml")
    drills = read_drills(sample_roster() / "drills.toml", skills)
    players = [Player(str(n), f"Ann{HIDING}{n}", Position.DEFENCE) for n in range(1, 4)]
    days = [date(2025, 10, day) for day in (6, 13, 20)]
    with create_season(
        path, team=f"T{HIDING}", age_class="U", players=players, skills=skills, drills=drills
    ) as made:
        made.log.add_many(
            [Practice(str(day), day) for day in days],
            [Tally(str(day), player.id, "outlet_pass", Outcome.DONE if n % 3 else Outcome.MISSED,
                   "breakout_attack", "two_on_one", f"{who}{HIDING}", at=1_760_000_000_000 + 60_000 * n)
             for day in days for player in players for n in range(4) for who in ("Edda", "Ines")],
        )  # fmt: skip
    return path


@pytest.mark.parametrize("form", ["table", "csv", "json"])
@pytest.mark.parametrize(
    "words", [("standings",), ("coverage",), ("agreement",), ("standings", "--why")], ids=" ".join
)
def test_no_control_reaches_the_terminal_from_a_season_file(command, hostile_season, words, form):
    """Names in a crafted season file come out without what steers a terminal, in every form."""
    if words[1:] and form == "csv":
        pytest.skip("reasons have no columns")
    made = command(words[0], hostile_season, *words[1:], "--format", form)
    assert made.exit_code == 0, made.stderr
    assert "Ann" in made.stdout or "Edda" in made.stdout
    said = made.stdout + made.stderr
    assert first_hidden(said.replace("\n", "").replace("\t", "")) is None


def test_no_control_reaches_paper(command, hostile_season, tmp_path):
    """What hides in a crafted season file stands for itself on paper, and the coach is told."""
    made = command("sheet", hostile_season, "--out", tmp_path / "s.pdf", "--skill", "outlet_pass")
    assert made.exit_code == 0, made.stderr
    printed = pypdf.PdfReader(tmp_path / "s.pdf").pages[0].extract_text()
    assert "Ann" in printed
    assert first_hidden(printed.replace("\n", "")) is None
    assert command("notes", hostile_season, "--out", tmp_path).exit_code == 0


def test_every_output_goes_through_one_place():
    """No module of the command line but one prints by itself, so that nothing gets past the filter."""
    folder = Path(evaltrack.__file__).parent / "cli"
    printing = re.compile(r"click\.(echo|secho)\(|\bprint\(|sys\.(stdout|stderr)")
    assert [p.name for p in sorted(folder.rglob("*.py")) if printing.search(p.read_text("utf-8"))] == [
        "telling.py"
    ]
