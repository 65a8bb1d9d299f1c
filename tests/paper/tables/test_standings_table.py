"""Standings as text: what is told when the estimate does not stand, and what other programs get."""

import csv
import io
import json
import math
from dataclasses import replace

import pytest
from lantern_pages import ONE

from evaltrack.analysis.standings.standing import COLUMNS, Call, Met
from evaltrack.paper.tables.standings import as_csv, as_json, as_table


def test_the_table_tells_share_and_interval():
    """A line has the count, the share with its interval and the target in percent, the call and the trend."""
    line = as_table([ONE]).splitlines()[3].split()
    assert " ".join(line) == "stop 14 of 20 67 % (51 to 81) 60 % in between no clear change"


def test_a_doubted_estimate_is_not_shown():
    """Where the estimate does not stand the table shows the count, and no share, call or trend."""
    line = as_table([replace(ONE, doubt="It did not settle.")]).splitlines()[3]
    assert line.split() == "stop 14 of 20 the plain count only".split()


@pytest.mark.parametrize("doubt", [None, "It did not settle."])
def test_too_few_shows_no_share(doubt):
    """Under ten tries or three practices there is the count and what is missing, no share and no target."""
    few = replace(ONE, tries=6, done=6, practices=1, call=Call.TOO_FEW, share=0.97, doubt=doubt)
    line = as_table([few], why={}).splitlines()[3:]
    told = "stop 6 of 6 the plain count only too few 4 more tries, at 2 more practices"
    assert " ".join(line[0].split()) == told
    assert line[1] == ""


def test_csv_survives_any_name():
    """A name with quotation marks and commas comes back whole, and 00 stays 00."""
    (row,) = csv.DictReader(io.StringIO(as_csv([ONE])))
    assert tuple(row) == COLUMNS
    assert (row["player"], row["name"]) == ("00", ONE.name)
    assert row["share"] == "0.666667"


def test_what_is_no_number_is_null():
    """A value that is no number goes out as null in JSON and as nothing in CSV, never as NaN."""
    odd = replace(ONE, p_up=math.nan)
    assert json.loads(as_json([odd]))[0]["p_up"] is None
    (row,) = csv.DictReader(io.StringIO(as_csv([odd])))
    assert row["p_up"] == ""


def test_nothing_is_nothing():
    """Without a standing the table is empty, CSV has its header and JSON an empty list."""
    assert (as_table([]), as_csv([]), as_json([])) == ("", ",".join(COLUMNS) + "\n", "[]\n")


def test_whom_they_met_stands_with_the_reasons():
    """With ``why`` the table says against whom, also of a plain count; JSON has it as rows, CSV never."""
    met = replace(ONE, met=(Met("4", 12, 7), Met("22", 8, 7)))
    sentence = "Met by rep: 4 in 12 (7 done), 22 in 8 (7 done)"
    for one in (met, replace(met, doubt="It did not settle.")):
        assert sentence in [line.strip() for line in as_table([one], why={}).splitlines()]
    assert "Met by rep" not in as_table([met])
    assert json.loads(as_json([met], why={}))[0]["met"] == [
        {"opponent": "4", "tries": 12, "done": 7}, {"opponent": "22", "tries": 8, "done": 7},
    ]  # fmt: skip
    assert "met" not in json.loads(as_json([met]))[0]
    assert as_csv([met]) == as_csv([ONE])
