"""Legends speak of what is drawn and of nothing else; plain counts stand in words."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lantern_pages import standing

from evaltrack.analysis.standings.standing import Call, Seen
from evaltrack.words.legends import charts_legend, practice_lines, team_legend
from evaltrack.words.wording import ENOUGH, call_words, is_firm

FIRM = standing("stop", [(9, 5), (9, 6)], call=Call.IN_BETWEEN)
FEW = standing("stop", [(2, 2)], call=Call.TOO_FEW)
DOUBTED = standing("stop", [(9, 5), (9, 6)], call=Call.IN_BETWEEN, doubt="The estimate did not settle.")
SHOWN = st.lists(st.sampled_from([FIRM, FEW, DOUBTED]), max_size=6)


@given(SHOWN)
def test_shares_are_told_where_one_is_drawn_and_grey_where_one_is_grey(shown):
    """Each part of a legend stands exactly where what it explains is shown."""
    firm = any(map(is_firm, shown))
    for legend, marks in (
        (team_legend(shown), ("Dot:", "Bar:", "Tick:")),
        (charts_legend(shown), ("Line:", "Bands:", "Rings:", "Mark at the right:", "Tap a chart")),
    ):
        assert {mark in legend for mark in marks} == {firm}
        assert ("Grey:" in legend) == (not all(map(is_firm, shown)))
        assert (ENOUGH in legend) == (FEW in shown)
        assert ("the plain count" in legend) == (not all(map(is_firm, shown)))
        assert ("not a grade" in legend) == bool(shown)


@pytest.mark.parametrize(("one", "words"), [(FIRM, "in between"), (FEW, "too few"), (DOUBTED, "")])
def test_a_doubted_estimate_has_no_call(one, words):
    """Where tries are enough and the estimate does not stand, `in between` would sound like a finding."""
    assert call_words(one) == words


@given(st.lists(st.integers(0, 9), max_size=12), st.integers(0, 8))
def test_practices_fit_in_the_lines_there_are(tries, most):
    """No more lines than asked for; what has no line of its own is counted in the last one."""
    seen = [Seen(date(2025, 9, 9) + timedelta(days=7 * n), n_tries, 0) for n, n_tries in enumerate(tries)]
    lines = practice_lines(seen, most)
    held = sum(n_tries > 0 for n_tries in tries)
    assert len(lines) == min(held, most)
    if lines and held > most:
        plural = "s" if held - most + 1 != 1 else ""
        assert lines[-1] == f"and {held - most + 1} earlier practice{plural}"


def test_the_last_practice_stands_first():
    """A coach looks for the last one; the count is told, not a share."""
    seen = [Seen(date(2025, 10, 6), 4, 3), Seen(date(2025, 10, 8), 2, 2)]
    assert practice_lines(seen, 5) == ["8 Oct: 2 of 2", "6 Oct: 3 of 4"]
