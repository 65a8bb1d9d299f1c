"""What is said of an observer who stands out, to read and to other programs; staff alone see it."""

from dataclasses import replace

from evaltrack.analysis.standings.strict_observer import StrictObserver, TeamCount
from evaltrack.paper.tables.strict_observers import as_rows, as_table
from evaltrack.words.observers import strict_title, strict_words, with_and_without

COUNTS = (TeamCount("stop", 20, 12, 8, 6), TeamCount("outlet_pass", 200, 99, 100, 70))
MARIT = StrictObserver("Marit", ("Ines",), 112, 0.8, 0.4, 1.2, 0.974, COUNTS)


def test_it_says_who_how_likely_and_what_to_do():
    """Of two observers it may as well be the other one who is odd."""
    assert strict_title(MARIT) == "Marit is much stricter than Ines, or notes mostly failures"
    assert strict_words(MARIT) == (
        "Marit is much stricter than Ines, or notes mostly failures (chance 97 %); or Ines notes mostly what "
        "comes off, which counts alone cannot tell apart. Note every try of a player or none, and watch one "
        "station together to compare."
    )
    of_three = replace(MARIT, others=("Ines", "Runa", "Tove"), p_strict=0.997)
    assert strict_words(of_three) == (
        "Marit is much stricter than Ines, Runa and Tove, or notes mostly failures (chance over 99 %). "
        "Note every try of a player or none, and watch one station together to compare."
    )


def test_the_team_is_counted_with_and_without():
    """In a table that fits under the words, and in numbers for other programs."""
    assert with_and_without(COUNTS[0]) == ("12 of 20, 60 %", "6 of 8, 75 %")
    lines = as_table([MARIT]).splitlines()
    assert lines[-3:] == [
        "  the team          with Marit          without",
        "  stop          12 of 20, 60 %     6 of 8, 75 %",
        "  outlet_pass  99 of 200, 50 %  70 of 100, 70 %",
    ]
    assert max(map(len, lines)) <= 100
    assert as_table([]) == ""
    (row,) = as_rows([MARIT])
    assert (row["observer"], row["p_strict"]) == ("Marit", 0.974)
    assert row["counts"][0] == {
        "skill": "stop", "tries": 20, "done": 12, "tries_without": 8, "done_without": 6
    }  # fmt: skip
