"""Numbers in words: no more, no less, and easy to read."""

import re
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lantern_pages import standing

from evaltrack.analysis.standings.standing import Call, PathPoint, Trend
from evaltrack.words import wording


@pytest.mark.parametrize(
    ("done", "tries", "words"),
    [
        (0, 0, "not seen yet"),
        (0, 12, "none yet"),
        (12, 12, "every one"),
        (1, 37, "fewer than 1 in 10"),
        (36, 37, "more than 9 in 10"),
        (26, 37, "about 7 in 10"),
        (13, 20, "about 7 in 10"),
        (1, 20, "about 1 in 10"),
        (11, 20, "about 6 in 10"),
        (1, 2, "about 5 in 10"),
    ],
)
def test_a_share_is_told_in_tenths_of_its_own_count(done, tries, words):
    """The frequency in ten is that of the count beside it, and never none or all when that is not so."""
    assert wording.share_words(done, tries) == words


@given(st.integers(1, 500).flatmap(lambda tries: st.tuples(st.integers(0, tries), st.just(tries))))
def test_a_told_share_is_within_half_a_tenth(count):
    """Whatever is counted, the words are at most half a tenth away from it."""
    done, tries = count
    words = wording.share_words(done, tries)
    exact = 10 * done / tries
    match words.split():
        case ["none", "yet"]:
            assert done == 0
        case ["every", "one"]:
            assert done == tries
        case ["fewer", *_]:
            assert 0 < exact < 0.5
        case ["more", *_]:
            assert 9.5 <= exact < 10
        case ["about", tenths, "in", "10"]:
            assert abs(int(tenths) - exact) <= 0.5
        case _:
            pytest.fail(words)


@given(st.floats(0, 1), st.floats(0, 1))
def test_a_told_level_never_claims_to_be_surer_than_its_interval(one, other):
    """The tenths enclose the 90 % interval and reach less than a tenth beyond it."""
    low, high = sorted((one, other))
    words = wording.level_words(standing("stop", [(9, 5), (9, 5)], low=low, high=high))
    least, most = map(int, re.fullmatch(r"(\d+) to (\d+) in 10", words).groups())
    assert least <= low * 10 + 1e-8
    assert least > low * 10 - 1
    assert most >= high * 10 - 1e-8
    assert most < high * 10 + 1


def test_a_bound_on_a_tenth_stays_on_it():
    """0.3 is stored as a little less than 3 tenths and must not be told as 2."""
    made = standing("stop", [(9, 5), (9, 5)], low=0.1 + 0.2 - 1e-17, high=0.7000000000000001)
    assert wording.level_words(made) == "3 to 7 in 10"


@pytest.mark.parametrize(
    ("call", "trend", "doubt", "words"),
    [
        (Call.SOLID, Trend.UP, None, "going up"),
        (Call.IN_BETWEEN, Trend.DOWN, None, "going down"),
        (Call.WORK_ON, Trend.NO_CLEAR_CHANGE, None, "no clear change yet"),
        (Call.TOO_FEW, Trend.UP, None, "too few yet: tries at 1 more practice"),
        (Call.SOLID, Trend.UP, "The fit did not settle.", "no clear reading yet"),
    ],
)
def test_a_direction_is_told_only_by_a_trend_that_stands(call, trend, doubt, words):
    """Too few tries or a doubtful estimate silence the trend."""
    made = standing("stop", [(9, 5), (9, 5)], call=call, trend=trend, doubt=doubt)
    assert wording.direction_words(made) == words
    assert bool(wording.level_words(made)) is wording.is_firm(made)
    assert isinstance(wording.level_words(made), str)


def test_the_chart_in_words_says_what_the_chart_shows():
    """Who cannot see the chart gets the count, the practices, the direction and the level."""
    words = wording.chart_words("Stop", standing("stop", [(20, 14), (17, 12)]), "now 5 to 9 in 10")
    assert words == (
        "Stop: done in 26 of 37, about 7 in 10, at 2 practices. Direction: no clear change yet. "
        "Very likely now 5 to 9 in 10."
    )


def test_dates_cannot_be_misread():
    """The month is a word, in English whatever the system's language."""
    assert wording.long_date(date(2026, 1, 12)) == "12 January 2026"


@pytest.mark.parametrize(
    ("tries", "practices", "words"),
    [
        (10, 3, ""),
        (9, 3, "1 more try"),
        (2, 3, "8 more tries"),
        (10, 2, "tries at 1 more practice"),
        (40, 1, "tries at 2 more practices"),
        (6, 2, "4 more tries, at 1 more practice"),
    ],
)
def test_what_is_missing_until_a_call_is_told(tries, practices, words):
    """Whoever reads `too few` learns how many tries and practices would be enough."""
    one = standing("stop", [(tries, tries // 2)], call=Call.TOO_FEW, practices=practices)
    assert wording.missing_words(one) == words


def test_the_share_is_told_with_its_day_when_it_is_old():
    """A skill that was not watched for weeks has its share as of then, not as of now."""
    point = PathPoint(date(2025, 11, 11), 0.62, 0.41, 0.79, 0.55, 0.7)
    seen = [(12, 7), (13, 8)]
    one = standing("stop", seen, share=0.62, low=0.41, high=0.79, path=(point,))
    assert wording.state_words(one, date(2025, 11, 20)) == "now about 6 in 10 (4 to 8); no clear change yet"
    assert (
        wording.state_words(one, date(2026, 1, 13)) == "on 11 Nov about 6 in 10 (4 to 8); no clear change yet"
    )
    assert (
        wording.state_words(standing("stop", seen, call=Call.TOO_FEW), date(2026, 1, 13))
        == "too few yet: tries at 1 more practice"
    )


@pytest.mark.parametrize(("days", "words"), [(0, "now"), (13, "now"), (14, "now"), (15, "on 11 Nov")])
def test_two_weeks_are_now_and_a_day_more_is_not(days, words):
    """Up to 14 days before the last practice a share is that of now; from the 15th it has its day."""
    watched = date(2025, 11, 11)
    one = standing("stop", [(12, 7)], path=(PathPoint(watched, 0.62, 0.41, 0.79, 0.55, 0.7),))
    assert wording.now_words(one, watched + timedelta(days=days)) == words


@pytest.mark.parametrize("month", range(1, 13))
def test_months_are_named_in_english(month):
    """In full, and by three letters beside a day, whatever the system's language."""
    name = ("January February March April May June July August September October November December").split()[
        month - 1
    ]
    day = date(2026, month, 9)
    assert wording.month_name(month) == name
    assert (wording.short_month(day), wording.short_date(day)) == (name[:3], f"9 {name[:3]}")
    assert wording.long_date(day) == f"9 {name} 2026"


def test_one_is_told_apart_from_many():
    """One try, and no or three tries; a word that takes more than an s has its own plural."""
    assert [wording.counted(n, "practice") for n in (0, 1, 2)] == ["0 practices", "1 practice", "2 practices"]
    assert [wording.counted(n, "try", "tries") for n in (1, 3)] == ["1 try", "3 tries"]
    assert wording.count_words(26, 37) == "26 of 37"
    assert wording.told(standing("stop", [(20, 14), (17, 12)])) == "26 of 37, about 7 in 10"


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.0001, "fewer than 1 in 10"),
        (0.9999, "more than 9 in 10"),
        (0.6491, "about 6 in 10"),
        (0.6496, "about 7 in 10"),
    ],
)
def test_an_estimate_is_never_none_or_all(share, words):
    """However near to an end, a share that is only estimated is not told as none yet or every one."""
    one = standing("stop", [(12, 7), (13, 8)], share=share, low=0.00001, high=0.99999)
    assert wording.state_words(one, date(2026, 1, 13)).startswith(f"now {words} (0 to 10); ")


def test_a_chart_without_a_level_says_nothing_of_one():
    """Where the estimate does not stand the words end with the direction."""
    words = wording.chart_words("Stop", standing("stop", [(4, 3)]), "")
    missing = "too few yet: 6 more tries, at 2 more practices"
    assert words == f"Stop: done in 3 of 4, about 8 in 10, at 1 practice. Direction: {missing}."
