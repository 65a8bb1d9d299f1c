"""What is too little known, as text and for other programs."""

import csv
import io
import json

from evaltrack.analysis.standings.standing import Coverage
from evaltrack.paper.tables.coverage import COLUMNS, as_csv, as_json, as_table

ROWS = [
    Coverage("4", "Tadhg", "D", "gap_up", 8, 0.37, 0.77, 13, 0.0132),
    Coverage("4", "Tadhg", "D", "stop", 40, 0.6, 0.82, 0, 0.002),
    Coverage("14", "Mei-Lin", "D", "gap_up", 20, 0.4, 0.76, 10, 0.02),
    Coverage("14", "Mei-Lin", "D", "start", 3, 0.0, 1.0, None, None),
    Coverage("14", "Mei-Lin", "D", "escape_turn", 0, 0.0, 1.0, None, None),
]


def test_the_table_ranks_whom_to_watch():
    """The one whose tries teach most comes first; who is known well enough is not in the list."""
    lines = as_table(ROWS).splitlines()
    assert lines[3].split() == "14 Mei-Lin gap_up 20 ± 18 10".split()
    assert lines[4].split() == "4 Tadhg gap_up 8 ± 20 13".split()
    assert lines[5] == ""


def test_the_table_tells_of_each_skill():
    """A skill is known for so many, or watched too little, or not at all."""
    text = as_table(ROWS)
    assert "gap_up       0 of 2 players known to 15 points either way; 23 more tries for the rest" in text
    assert "stop         1 of 1 player known to 15 points either way\n" in text
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
    assert as_table(ROWS[3:]).startswith("Nothing can be told yet")
    assert (as_table([]), as_csv([]), as_json([])) == ("", ",".join(COLUMNS) + "\n", "[]\n")


def test_other_programs_get_every_column():
    """CSV leaves empty and JSON makes null what has no value."""
    rows = list(csv.DictReader(io.StringIO(as_csv(ROWS))))
    assert tuple(rows[0]) == COLUMNS
    assert (rows[0]["to_go"], rows[3]["to_go"]) == ("13", "")
    assert json.loads(as_json(ROWS))[3]["gain"] is None
