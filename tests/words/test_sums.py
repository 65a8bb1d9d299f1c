"""Where the tallies are not all tries, the clause says what the others are, and its parts add up."""

import re
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.tally import Outcome, Tally
from evaltrack.rink.tally_sum import TallySum
from evaltrack.words.sums import sum_of, sum_words

ODA = UUID(int=4)
COUNT = st.integers(0, 12_000)


@given(st.builds(TallySum, COUNT, COUNT, COUNT, COUNT))
def test_the_parts_add_up_to_the_tallies(one):
    """However many there are of each kind."""
    whole, _, parts = sum_words(one).partition(": ")
    numbers = [int(number.replace(",", "")) for number in re.findall(r"[\d,]*\d", parts)]
    assert int(whole.split()[0].replace(",", "")) == one.tallies
    assert (sum(numbers) == one.tallies and all(numbers)) if parts else one.tries == one.tallies


@pytest.mark.parametrize(
    ("one", "words"),
    [
        (TallySum(5318, 188), "5,506 tallies: 5,318 tries and 188 unseen"),
        (TallySum(44), "44 tallies"),
        (TallySum(1), "1 tally"),
        (TallySum(), "0 tallies"),
        (TallySum(unseen=2), "2 tallies: 2 unseen"),
        (
            TallySum(1, 2, 3, 4),
            "10 tallies: 1 try, 2 unseen, 3 in words or skills no longer in use and 4 of players who have "
            "left",
        ),
    ],
)
def test_a_sum_in_words(one, words):
    """The plain count where all are tries; else what the others are."""
    assert sum_words(one) == words


def test_tallies_that_are_in_no_season_yet_are_tries_or_unseen():
    """Done and missed are tries; of what nobody saw it is only known that it was noted."""
    tallies = [
        Tally("2026-01-13", ODA, "stop", Outcome(one), "laps", "easy", "Ines")
        for one in ("done", "missed", "unseen", "missed", "unseen", "done")
    ]
    assert sum_of(tallies) == TallySum(tries=4, unseen=2)
    assert sum_of([]) == TallySum()
