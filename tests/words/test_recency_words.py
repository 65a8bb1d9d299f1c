"""What is old is said in words: how few tries are recent, or when the player was last seen."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lantern_pages import standing
from scipy.stats import binom

from evaltrack.analysis.standings.standing import Call, PathPoint, Seen
from evaltrack.paper.tables.standings import as_table
from evaltrack.words.recency import FEW, LATE, recency_words

FIRST, NOW = date(2025, 10, 1), date(2025, 12, 30)  # 90 days, of which the last 30 begin on 30 Nov


def seen_on(*days: tuple[date, int], **other):
    """Return a standing of so many tries on these days, whose own time runs from FIRST to NOW."""
    made = standing("stop", [(tries, tries // 2) for _, tries in days], call=Call.IN_BETWEEN)
    path = tuple(PathPoint(day, 0.5, 0.3, 0.7, 0.4, 0.6) for day in (FIRST, NOW))
    seen = tuple(Seen(day, tries, tries // 2) for day, tries in days)
    return replace(made, **{"path": path, "seen": seen} | other)


@pytest.mark.parametrize(
    ("recent", "words"),
    [
        (0, "last seen on 15 Oct"),
        (1, "1 of 31 tries since 30 Nov"),
        (9, "9 of 39 tries since 30 Nov"),
        (10, ""),
    ],
)
def test_fewer_than_a_quarter_of_the_tries_in_the_last_third_are_few(recent, words):
    """With thirty tries before it takes ten for a quarter; without any the last day is told."""
    days = [(date(2025, 10, 15), 30), *([(NOW, recent)] if recent else [])]
    assert recency_words(seen_on(*days)) == words


@pytest.mark.parametrize(("day", "words"), [(16, ""), (15, "last seen on 15 Dec")])
def test_not_seen_for_more_than_two_weeks_is_told(day, words):
    """Also where enough tries lie in the last third."""
    assert recency_words(seen_on((FIRST, 10), (date(2025, 12, day), 10))) == words


@pytest.mark.parametrize(("day", "words"), [(30, ""), (29, "1 of 6 tries since 30 Nov")])
def test_the_last_third_begins_with_its_first_day(day, words):
    """Tries on that day are recent ones, those of the day before are not."""
    assert recency_words(seen_on((date(2025, 11, day), 5), (NOW, 1))) == words


def test_whoever_is_watched_evenly_is_seldom_told_so():
    """By luck alone about one in seven have fewer than a quarter of their tries in the last third."""
    chances = [binom.cdf(np.ceil(FEW * tries) - 1, tries, LATE) for tries in range(12, 61)]
    assert np.mean(chances) == pytest.approx(1 / 7, abs=0.01)


def test_nothing_is_old_where_nothing_can_be_said():
    """Never beside too few, nor beside a plain count; and a season of one day has no age."""
    old = (date(2025, 10, 15), 30)
    assert recency_words(seen_on(old, call=Call.TOO_FEW)) == ""
    assert recency_words(seen_on(old, doubt="It did not settle.")) == ""
    assert recency_words(seen_on(old, path=())) == ""
    one_day = (PathPoint(NOW, 0.5, 0.3, 0.7, 0.4, 0.6),)
    assert recency_words(seen_on((NOW, 12), path=one_day)) == ""


def test_the_table_tells_the_same_below_the_share():
    """When it is asked why, and else not."""
    old = seen_on((date(2025, 10, 15), 30), (NOW, 9))
    assert f"       {recency_words(old)}\n" in as_table([old], {})
    assert recency_words(old) not in as_table([old])


@given(
    st.lists(
        st.tuples(st.integers(0, 90), st.integers(1, 9)), min_size=1, max_size=12, unique_by=lambda d: d[0]
    )
)
def test_more_tries_today_never_make_it_older(days):
    """As many again on the last day and nothing is old; and what is told counts true tries."""
    days = sorted((FIRST + timedelta(days=day), tries) for day, tries in days)
    total = sum(tries for _, tries in days)
    words = recency_words(seen_on(*days))
    if " of " in words:
        recent = sum(tries for day, tries in days if day >= date(2025, 11, 30))
        assert words == f"{recent} of {total} tries since 30 Nov"
    earlier = [(day, tries) for day, tries in days if day < NOW]
    assert recency_words(seen_on(*earlier, (NOW, total))) == ""
