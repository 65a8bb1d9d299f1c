"""What agreement prints: the demo season's two observers, one observer alone, and who splits a lot."""

import csv
import io
import json
from pathlib import Path

import pytest
from pond_team import HEADER, NAMES, tallies_file

from evaltrack.analysis.agreement.agreement import Agreement, Row
from evaltrack.cli import commands
from evaltrack.cli.working import created, taken_in
from evaltrack.founding.season import shipped
from evaltrack.words.agreement import remarks

SHARED = ["2025-09-16", "2025-10-07", "2025-11-04", "2025-12-16"]
# written out here so that a change of what other programs rely on is noticed
PUBLISHED = (
    "first,second,skill,tries,minutes,share,share_low,share_high,p_below,kappa,kappa_low,kappa_high,"
    "ac1,ac1_low,ac1_high,first_done,second_done,difference,difference_low,difference_high"
)


@pytest.fixture(scope="module")
def lanterns(tmp_path_factory) -> Path:
    """Make the demo's season file, without its pages."""
    path = tmp_path_factory.mktemp("lanterns") / "lanterns.db"
    with created(path, "Kettle Bay Lanterns", "12U", shipped("roster.csv")) as season:
        taken_in(season, shipped("tallies.csv"))
    return path


def _clock(second: int) -> str:
    return f"18:{second // 60:02}:{second % 60:02}"


def _two_observers(splits: int, apart: int = 38) -> list[str]:
    """Return 48 tries that Edda and Runa both saw, Runa's clock ahead; they split on the first ones."""
    lines = []
    for n in range(48):
        second, number = 11 * n + 7 * n % 5, list(NAMES)[n * 7 % 4]
        for who, clock, outcome in (("Edda", 0, "done"), ("Runa", apart, "missed" if n < splits else "done")):
            seen = "missed" if n % 3 == 2 and n >= splits else outcome
            at = _clock(second + clock)
            lines.append(f"2025-11-03,stops_starts,on_lines,stop,{number},{seen},no,{who},{at}")
    return lines


@pytest.fixture
def compared(command, empty_season):
    """Return how to load lines that have a time and print the agreement."""

    def run(lines: list[str], *words: str):
        path = tallies_file(empty_season.parent, [])
        path.write_text("\n".join([f"{HEADER},time", *lines]) + "\n", encoding="utf-8")
        loaded = command("load", empty_season, path)
        assert loaded.exit_code == 0, loaded.stderr
        return command("agreement", empty_season, *words)

    return run


def test_the_demo_has_four_shared_practices_and_38_seconds(command, lanterns):
    """In each of the four practices the 38 s are found, and nearly every try is matched."""
    found = json.loads(command("agreement", lanterns, "--format", "json").stdout)
    assert [one["practice"] for one in found["practices"]] == SHARED
    for one in found["practices"]:
        assert abs(one["clock_offset_s"]) == pytest.approx(38, abs=1)
        assert one["matched"] >= 0.9 * min(one["first_tries"], one["second_tries"])


def test_the_demos_stricter_observer_is_seen(command, lanterns):
    """Dev, whom the demo makes the stricter one, has the lower share done, beyond doubt."""
    over_all, *_ = csv.DictReader(io.StringIO(command("agreement", lanterns, "--format", "csv").stdout))
    assert (over_all["first"], over_all["second"], over_all["skill"]) == ("Dev", "Marit", "all")
    assert float(over_all["difference_high"]) < 0


def test_csv_has_exactly_the_published_columns(command, lanterns):
    """The header of the CSV is the published one, in its order, and the sentences are on stderr."""
    result = command("agreement", lanterns, "--format", "csv")
    assert result.stdout.splitlines()[0] == PUBLISHED
    assert "Dev and Marit agreed in" in result.stderr


def test_json_and_table_say_the_same_as_csv(command, lanterns):
    """JSON has the CSV's values, and the table each row's tries and share in percent."""
    rows = list(csv.DictReader(io.StringIO(command("agreement", lanterns, "--format", "csv").stdout)))
    found = json.loads(command("agreement", lanterns, "--format", "json").stdout)
    assert [{k: str(v) for k, v in row.items()} for row in found["rows"]] == rows
    table = command("agreement", lanterns).stdout
    for row in rows:
        line = next(line for line in table.splitlines() if line.split()[:1] == [row["skill"]])
        agreed = round(float(row["share"]) * int(row["tries"]))
        assert line.split()[1:6] == [
            f"{agreed}", "of", row["tries"], f"{100 * float(row['share']):.0f}", "%"
        ]  # fmt: skip
    assert max(map(len, table.split("\n\n")[1].splitlines())) <= 110


def test_what_to_do_comes_before_kappa(command, lanterns):
    """The page begins with the plain figure and what to do; kappa and AC1 stand behind it."""
    lines = command("agreement", lanterns).stdout.splitlines()
    assert lines[0].startswith("Dev and Marit agreed in 177 of 221 tries, 80 %; the true figure lies between")
    assert lines[0].endswith("let them watch one station together again.")
    assert lines[1].startswith(
        "Talk over the definition of gap_at_line first: Dev saw 10 of 33 tries done, Marit 16. Dev is"
    )
    assert not any(word in line for word in ("kappa", "AC1", "not under") for line in lines[:2])


def test_under_eighty_percent_is_said_with_what_to_do(compared):
    """Who agrees in 12 of 48 is told so, how sure that is, the skill, and what to do."""
    text = compared(_two_observers(splits=36)).stdout
    assert "Edda and Runa agreed in 12 of 48 tries, 25 %" in text
    assert "That is too little: the aim is 80 %. Read the definitions together" in text
    assert "Talk over the definition of stop first: Runa saw 8 of 48 tries done, Edda 44." in text
    assert "Runa is the stricter there, by 75 points (" in text
    assert "Runa's clock 38 s ahead" in text


def test_who_agrees_is_not_warned(compared):
    """Two who never split get no advice and no skill to talk over; nine minutes leave a little doubt."""
    text = compared(_two_observers(splits=0)).stdout
    assert "agreed in 48 of 48 tries, 100 %" in text
    assert "the chance that they truly reach it is 91 %. To be surer" in text
    assert "Read the definitions" not in text
    assert "Talk over" not in text


@pytest.mark.parametrize(
    ("share", "low", "high", "below", "said"),
    [
        (0.9, 0.85, 0.94, 0.001, "That is enough: the aim is 80 %."),
        (0.82, 0.7, 0.9, 0.3, "the chance that they truly reach it is 70 %. To be surer"),
        (0.78, 0.7, 0.85, 0.7, "the chance that they truly reach it is 30 %. Read the definitions together"),
        (0.6, 0.5, 0.7, 0.999, "That is too little: the aim is 80 %. Read the definitions together"),
        (0.6, None, None, None, "The minutes are too few to say how sure that is: let two observers"),
    ],
)
def test_the_interval_decides_the_advice(share, low, high, below, said):
    """Enough and too little are said just where the interval lies on one side of the aim."""
    row = Row("Dev", "Marit", "all", 50, 12, share, low, high, below,
              0.5, None, None, 0.5, None, None, 30, 30, 0.0, None, None)  # fmt: skip
    (sentence,) = remarks(Agreement(("Dev", "Marit"), (), (row,)))
    assert said in sentence


def test_all_done_says_that_kappa_is_undefined(compared):
    """Where both tallied done only, the table says undefined and JSON null."""
    lines = [line.replace("missed", "done") for line in _two_observers(splits=0)]
    assert "undefined" in compared(lines).stdout
    (row, _) = json.loads(compared(lines, "--format", "json").stdout)["rows"]
    assert (row["kappa"], row["ac1"]) == (None, 1.0)


def test_clocks_too_far_apart_are_said(compared):
    """Ten minutes between the clocks: nothing is compared, and the practice and the cure are told."""
    result = compared(_two_observers(splits=0, apart=600))
    assert (result.exit_code, result.stdout) == (0, "")
    assert "nothing can be compared: no two observers have tallied the same tries" in result.stderr
    assert "2025-11-03: Edda and Runa tallied the same skill, but no common time was found" in result.stderr


@pytest.mark.parametrize(
    ("form", "printed"),
    [("table", ""), ("csv", f"{PUBLISHED}\n")],
)
def test_one_observer_cannot_be_compared(command, season, form, printed):
    """A season with one observer says in a sentence that nothing can be compared, exit 0."""
    result = command("agreement", season, "--format", form)
    assert (result.exit_code, result.stdout) == (0, printed)
    assert result.stderr.startswith("nothing can be compared: Edda is the only observer in this season")
    assert result.stderr.count("\n") == 1


def test_an_empty_season_cannot_be_compared(command, empty_season):
    """A season without a tally says so; JSON carries the sentence too."""
    result = command("agreement", empty_season, "--format", "json")
    found = json.loads(result.stdout)
    assert (found["rows"], found["practices"]) == ([], [])
    assert found["remarks"] == result.stderr.splitlines()
    assert "nobody tallied yet" in result.stderr


def test_what_is_no_season_file_is_refused(command, tmp_path):
    """A file that is not there is refused in a sentence, exit 1."""
    result = command("agreement", tmp_path / "none.db")
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr


def test_its_help_has_an_example(command):
    """The help shows a line that calls it."""
    assert "evaltrack agreement" in command("agreement", "--help").stdout
    assert "agreement" in commands.commands
