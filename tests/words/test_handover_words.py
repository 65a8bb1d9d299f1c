"""How a hand-over reads: by how much two clocks differ, in the unit in which a coach would say it."""

import pytest

from evaltrack.device.handover.course import Course
from evaltrack.words.handover import clocks_words, outcome_lines

MINUTE, HOUR, DAY = 60_000, 3_600_000, 86_400_000


@pytest.mark.parametrize(
    ("behind", "said"),
    [
        (0, ""),
        (-2 * MINUTE + 1, ""),
        (2 * MINUTE, "2 minutes behind"),
        (-90 * MINUTE, "90 minutes ahead"),
        (5 * HOUR, "5 hours behind"),
        (-3 * DAY, "3 days ahead"),
        (int(11.9 * 365.25 * DAY), "12 years behind"),
        (-(1 << 53), "years ahead"),
    ],
)
def test_two_clocks_differ_by_minutes_hours_days_or_years(behind, said):
    """Nothing is said of two minutes, and nobody reads of six million of them."""
    words = clocks_words(Course(behind=behind))
    assert said in words
    assert bool(words) == bool(said)


def test_why_it_ended_is_a_sentence():
    """With a capital and a full stop, among others that have them."""
    assert outcome_lines(Course(), "the code did not fit")[0] == "The code did not fit."
