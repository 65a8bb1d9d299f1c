"""What is said of a hand-over: what came and went, whose clock is wrong, and whether both have the same."""

import pytest

from evaltrack.device.handover.course import Course, Stage
from evaltrack.words.handover import clocks_words, missed_words, outcome_lines, stage_words, together_words

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


def test_what_came_of_it_is_told_in_order():
    """Why it ended, what went, whether both are the same, the clocks, and what is to be looked at."""
    course = Course(
        Stage.ENDED, given=1, taken=12, equal=True, behind=-5 * MINUTE, told=["A number is worn twice."]
    )
    assert outcome_lines(course) == [
        "12 tallies came in. 1 tally went out.",
        "Both tablets have the same season now.",
        "The clock of the other tablet is 5 minutes ahead of this one. Set the one that is wrong.",
        "A number is worn twice.",
    ]  # fmt: skip
    assert outcome_lines(course, "it broke")[:2] == ["It broke.", "12 tallies came in. 1 tally went out."]
    assert not [line for line in outcome_lines(course, "it broke") if "the same season" in line]


def test_nothing_is_called_equal_that_is_not_known_to_be():
    """Where digests differ it is said; where it broke before anything went, only why."""
    assert outcome_lines(Course()) == ["0 tallies came in. 0 tallies went out."]
    (_, differ) = outcome_lines(Course(equal=False))
    assert differ.startswith("Both are not the same yet: hand over once more.")
    for equal in (None, False, True):
        assert outcome_lines(Course(equal=equal), "it broke") == ["It broke."]
    assert outcome_lines(Course(given=1), "it broke")[1] == "0 tallies came in. 1 tally went out."


def test_what_goes_on_is_told():
    """Each stage in words of its own; wrong codes by their number; how long nothing was heard."""
    assert len({stage_words(Course(stage)) for stage in Stage}) == len(Stage)
    assert stage_words(Course(Stage.GIVING)) == "Giving what is noted here ..."
    assert stage_words(Course(Stage.TAKING)) == "Taking what is noted there ..."
    assert [missed_words(Course(missed=n))[:37] for n in range(3)] == [
        "", "A wrong code was typed there once. Af", "A wrong code was typed there 2 times.",
    ]  # fmt: skip
    assert together_words("18:30", 2.6) == "Together since 18:30, last heard 3 s ago."


def test_why_it_ended_is_a_sentence():
    """With a capital and a full stop, among others that have them."""
    assert outcome_lines(Course(), "the code did not fit")[0] == "The code did not fit."
