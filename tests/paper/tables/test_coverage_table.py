"""What is too little known, as text and for other programs."""

import csv
import io
import json
from dataclasses import replace

from evaltrack.analysis.standings.standing import Coverage
from evaltrack.paper.tables.coverage import COLUMNS, as_csv, as_json, as_table

ROWS = [
    Coverage("4", "Tadhg", "D", "gap_up", 8, 2, 12, 0.37, 0.77, None),
    Coverage("4", "Tadhg", "D", "stop", 40, 9, 0, 0.6, 0.82, 0),
    Coverage("14", "Mei-Lin", "D", "gap_up", 20, 5, 1, 0.4, 0.76, 10),
    Coverage("14", "Mei-Lin", "D", "stop", 0, 0, None, 0.2, 0.9, None),
    Coverage("14", "Mei-Lin", "D", "start", 3, 1, 5, 0.0, 1.0, None),
    Coverage("14", "Mei-Lin", "D", "escape_turn", 0, 0, None, 0.0, 1.0, None),
]


def test_the_table_begins_with_who_was_seen_least():
    """Never seen first, then fewest tries; who is known well enough is not in the list."""
    lines = as_table(ROWS).splitlines()
    assert lines[3].split() == "14 Mei-Lin stop 0 0 never".split()
    assert lines[4].split() == "4 Tadhg gap_up 8 2 12 days".split()
    assert lines[5].split() == "14 Mei-Lin gap_up 20 5 1 day".split()
    assert lines[6] == ""


def test_a_long_list_says_how_many_more():
    """Ten are shown."""
    lines = as_table([replace(ROWS[0], player=str(number)) for number in range(13)]).splitlines()
    assert lines[12].split()[0] == "9"
    assert lines[13] == "     and 3 more"
    assert "more" not in as_table([replace(ROWS[0], player=str(number)) for number in range(10)])


def test_the_table_tells_of_each_skill():
    """A skill is known for so many, or watched too little, or not at all."""
    text = as_table(ROWS)
    assert "gap_up       0 of 2 players known to 15 points either way\n" in text
    assert "stop         1 of 2 players known to 15 points either way; 1 not seen yet\n" in text
    assert "start        watched too little to say: 3 tries" in text
    assert "escape_turn  not watched yet" in text


def test_nobody_is_sent_to_a_player_who_is_away():
    """Who is away is not among those to watch next, and still among those who are known."""
    text = as_table(ROWS, away={"14"})
    assert "Mei-Lin" not in text
    assert "gap_up       0 of 2 players" in text


def test_all_known():
    """Where nothing is wanting, or nothing known, the table says so; without rows it is empty."""
    assert "every share that can be told is known well enough" in as_table(ROWS[1:2])
    assert as_table(ROWS[4:]).startswith("Nothing can be told yet")
    assert (as_table([]), as_csv([]), as_json([])) == ("", ",".join(COLUMNS) + "\n", "[]\n")


def test_other_programs_get_every_column():
    """CSV leaves empty and JSON makes null what has no value."""
    rows = list(csv.DictReader(io.StringIO(as_csv(ROWS))))
    assert tuple(rows[0]) == COLUMNS
    assert [rows[2][name] for name in ("practices", "days_since", "to_go")] == ["5", "1", "10"]
    assert [rows[3][name] for name in ("practices", "days_since", "to_go")] == ["0", "", ""]
    assert json.loads(as_json(ROWS))[3]["days_since"] is None
