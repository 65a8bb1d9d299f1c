"""Seasons on which no fit can stand: the command line says so in its own words, and nothing else is heard."""

import csv
import io
import json
import math
import warnings
from contextlib import contextmanager

import pytest
from pond_team import DAYS, tallies_file

from evaltrack.analysis.standings.standing import COLUMNS

# what Python does not show by default does not reach the user either
_SILENT = (DeprecationWarning, PendingDeprecationWarning, ImportWarning, ResourceWarning)


def _line(day: int, player: str, outcome: str, pressure: str = "no") -> str:
    return f"{DAYS[day]},stops_starts,on_lines,stop,{player},{outcome},{pressure},Edda"


def _each_day(*players: tuple[str, str], times: int = 1) -> list[str]:
    return [_line(day, who, seen) for day in range(4) for who, seen in players for _ in range(times)]


TOO_FEW = {
    "three tries in all": [_line(0, "2", "done"), _line(1, "2", "missed"), _line(1, "7", "done")],
    "one try": [_line(0, "2", "missed")],
    "one practice": [_line(0, who, seen) for who in ("2", "7") for seen in ["done", "missed"] * 20],
    "four occasions each": _each_day(("2", "done"), ("7", "missed"), ("11", "done"), ("14", "done")),
}
SEPARATED = {
    "players": _each_day(("2", "done"), ("7", "missed"), times=8),
    "all done": _each_day(("2", "done"), ("7", "done"), times=8),
    "all missed": _each_day(("2", "missed"), ("7", "missed"), times=8),
    "days": [_line(day, "2", "done" if day > 1 else "missed") for day in range(4) for _ in range(8)],
    "pressure": [
        _line(day, who, "missed" if pressed == "yes" else "done", pressed)
        for day in range(4)
        for who in ("2", "7")
        for pressed in ["yes", "no"] * 4
    ],
}


@contextmanager
def nothing_raw():
    """Turn every warning that Python would show to a user into an error."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for kind in _SILENT:
            warnings.simplefilter("ignore", kind)
        yield


def assert_plain(text: str) -> None:
    """Nothing in the text comes from the machinery."""
    assert not any(word in text for word in ("Warning", "Traceback", "Error", "numpy", "scipy", ".py", "nan"))


@pytest.fixture
def rows(command, empty_season):
    """Return how to load lines and read the standings, every form of which must hold together."""

    def read(lines: list[str]) -> list[dict[str, str]]:
        loaded = command("load", empty_season, tallies_file(empty_season.parent, lines))
        assert loaded.exit_code == 0, loaded.stderr
        with nothing_raw():
            forms = [command("standings", empty_season, "--format", form) for form in ("csv", "json")]
            table = command("standings", empty_season)
        assert [form.exit_code for form in [*forms, table]] == [0, 0, 0]
        for form in [*forms, table]:
            assert_plain(form.output)
        found = list(csv.DictReader(io.StringIO(forms[0].stdout)))
        assert len(found) == len(json.loads(forms[1].stdout))
        (doubted,) = {"not to be relied on" in form.stderr for form in [*forms, table]}
        plain = doubted or any(row["call"] == "too few" for row in found)
        assert plain == ("the plain count only" in table.stdout)
        assert doubted or all(row["call"] in table.stdout for row in found)
        return found

    return read


@pytest.mark.parametrize("name", TOO_FEW)
def test_too_little_is_called_too_few(rows, name):
    """Three tries, one practice, four occasions a player: too few, no trend, and intervals that say it."""
    found = rows(TOO_FEW[name])
    assert sum(int(row["tries"]) for row in found) == len(TOO_FEW[name])
    for row in found:
        assert (row["call"], row["trend"]) == ("too few", "no clear change")
        assert float(row["high"]) - float(row["low"]) > 0.2
        assert 0 <= float(row["low"]) <= float(row["share"]) <= float(row["high"]) <= 1


@pytest.mark.parametrize("name", SEPARATED)
def test_separated_tries_give_possible_figures(rows, name):
    """Where done and missed are told apart without fault, shares and intervals stay between none and all."""
    found = rows(SEPARATED[name])
    for row in found:
        values = {column: float(row[column]) for column in COLUMNS[7:19]}
        assert all(math.isfinite(value) for value in values.values())
        assert 0 < values["low"] < values["share"] < values["high"] < 1
        assert -1 < values["change_low"] < values["change"] < values["change_high"] < 1
    if name == "players":
        assert [row["call"] for row in found] == ["solid", "work on"]


@pytest.mark.parametrize(
    "lines", [TOO_FEW["three tries in all"], SEPARATED["days"]], ids=["few", "separated"]
)
def test_every_other_command_keeps_quiet_too(command, empty_season, tmp_path, lines):
    """Notes and agreement of such a season end with sentences or pages, never with a raw warning."""
    command("load", empty_season, tallies_file(empty_season.parent, lines))
    with nothing_raw():
        notes = command("notes", empty_season, "--out", tmp_path / "notes")
        agreement = command("agreement", empty_season)
    for result in (notes, agreement):
        assert result.exit_code in (0, 1)  # 1 where no page can be written yet
        assert_plain(result.output)
