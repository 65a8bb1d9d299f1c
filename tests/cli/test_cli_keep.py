"""Until when names are kept, from the command line: told, chosen, refused."""

from datetime import date, timedelta

import pytest

from evaltrack.rink.days import in_full

TODAY = date.today()


@pytest.fixture
def new(command, tmp_path):
    """Return a season that was made today, and what was told of it."""
    roster, path = tmp_path / "roster.csv", tmp_path / "new.db"
    roster.write_text("number,name,position\n2,Tuva Ashlund,D\n", encoding="utf-8")
    told = command("new", path, "--team", "Lanterns", "--age-class", "12U", "--roster", roster)
    assert told.exit_code == 0, told.stderr
    return path, told.stdout


def test_it_is_told_and_chosen(command, new):
    """What is usual from the day on which the season is made; then what was chosen."""
    path, told = new
    usual = command("keep", path).stdout
    assert in_full(TODAY + timedelta(weeks=48)) in usual
    assert "usual length" in usual
    assert told.endswith(usual)
    day = TODAY + timedelta(weeks=30)
    chosen = command("keep", path, "--until", day.isoformat())
    assert chosen.stdout == f"Children’s data of this season are kept until {in_full(day)}.\n"
    assert command("keep", path).stdout == chosen.stdout


def test_a_day_that_has_passed_says_so(command, season):
    """Of a season of a year ago, of which nobody has chosen another day."""
    told = command("keep", season)
    assert told.stdout == "Children’s data of this season were to be kept until Monday 7 September 2026.\n"


@pytest.mark.parametrize(("day", "words"), [("2025-01-01", "still ran on"), ("2090-01-01", "two years")])
def test_days_out_of_bounds_are_refused(command, season, day, words):
    """With what to do."""
    told = command("keep", season, "--until", day)
    assert (told.exit_code, told.stdout) == (1, "")
    assert words in told.stderr
