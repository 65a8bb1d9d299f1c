"""How many players are below a target, in words: of whom, how sure, and no more than that."""

from dataclasses import replace

import pytest

from evaltrack.analysis.standings.targets import Below
from evaltrack.words.below import change_words, likely_words, target_words

NOW = Below(0.65, 10, 5.8, 4, 8)


@pytest.mark.parametrize(
    ("then", "words"),
    [
        (NOW, "Now about 6 of the 10 players who can be judged are below it (very likely 4 to 8)."),
        (
            Below(0.7, 10, 8.7, 7, 10),
            "With 70 %, about 9 of the 10 players who can be judged are below it (very likely 7 to 10): "
            "three more than now.",
        ),
        (
            Below(0.625, 10, 5.2, 3, 7),
            "With 62.5 %, about 5 of the 10 players who can be judged are below it (very likely 3 to 7): "
            "one fewer than now.",
        ),
        (
            Below(0.2, 10, 1.4, 0, 3),
            "With 20 %, about 1 of the 10 players who can be judged is below it (very likely 0 to 3): "
            "five fewer than now.",
        ),
        (replace(NOW, target=0.66), "as many as now."),
        (Below(0.9, 20, 18.8, 18, 20), "13 more than now."),
        (Below(0.9, 20, 17.8, 18, 18), "(very likely 18): twelve more than now."),
        (Below(0.7, 0), "Nobody can be judged in it yet."),
    ],
)
def test_a_target_says_how_many_it_puts_below(then, words):
    """More, fewer or as many, in words up to twelve, and of how many who can be judged."""
    assert target_words(NOW, then).endswith(words)


def test_one_player_is_one():
    """And whoever can be judged alone is so too."""
    alone = Below(0.65, 1, 0.9, 0, 1)
    assert target_words(alone, alone) == (
        "Now about 1 of the 1 player who can be judged is below it (very likely 0 to 1)."
    )
    assert target_words(Below(0.65, 0), Below(0.65, 0)) == "Nobody can be judged in it yet."


def test_the_command_line_says_the_same_within_a_line():
    """Without a capital and a full stop; where nobody can be judged nothing is compared."""
    then = Below(0.7, 10, 8.7, 7, 10)
    assert f"With 70 %, {change_words(NOW, then)}." == target_words(NOW, then)
    assert change_words(Below(0.65, 0), Below(0.7, 0)) == "nobody can be judged in it yet"
    assert likely_words(4, 4) == "very likely 4"
