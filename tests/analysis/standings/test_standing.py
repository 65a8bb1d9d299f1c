"""The plain values of a standing: the words and columns that other programs and older files rely on."""

from dataclasses import fields

import pytest

from evaltrack.analysis.standings.standing import COLUMNS, Call, Cause, Reason, Standing, Trend


def test_the_columns_are_the_fields_up_to_the_trend():
    """``standings --format csv`` has every plain field once, in the order in which a standing names them."""
    names = [field.name for field in fields(Standing)]
    assert list(COLUMNS) == names[: names.index("trend") + 1]


@pytest.mark.parametrize(
    ("choice", "words"),
    [
        (Call, ["too few", "work on", "in between", "solid"]),
        (Trend, ["up", "down", "no clear change"]),
        (Cause, ["pressure", "step", "observer", "opponent", "days", "change", "luck", "rest"]),
    ],
)
def test_the_words_that_are_printed_stay(choice, words):
    """Whoever reads standings by a program of his own goes by these words."""
    assert [str(member) for member in choice] == words


def test_a_cause_without_kinds_tells_none():
    """Luck, days and change have no kind of try, so nothing was counted and nothing costs anything."""
    luck = Reason(Cause.LUCK, 0.1, 0.1, 0.1)
    assert (luck.named, luck.tries, luck.usual, luck.month) == ("", 0, 0, 0)
    assert (luck.cost, luck.cost_low, luck.cost_high) == (0, 0, 0)
