"""An interval that is shown never says otherwise than the call or the direction beside it.

Everywhere that one stands: the team's change, what a kind of try costs, what moved a share, two observers,
the table of standings, and the tenths of a family's page.
"""

import re
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from lantern_pages import ONE

from evaltrack.analysis.agreement.agreement import ENOUGH, Agreement, Row, is_stricter
from evaltrack.analysis.season.outlook import (
    change_quantile,
    expected_share,
    probability_below,
    probability_up,
    share_quantile,
)
from evaltrack.analysis.standings.calls import Evidence, calls, trend
from evaltrack.analysis.standings.standing import Call, Cause, PathPoint, Reason, Trend
from evaltrack.analysis.team.course import Cost, TeamCourse
from evaltrack.paper.tables.agreement import as_table as agreement_table
from evaltrack.paper.tables.standings import as_table
from evaltrack.words.agreement import remarks, skill_words
from evaltrack.words.points import clear_span, moved_words, sided_span
from evaltrack.words.reasons import reason_sentences
from evaltrack.words.team import change_words, cost_words
from evaltrack.words.wording import level_words

FIRST, LAST = date(2025, 9, 9), date(2026, 1, 13)
SMALL = st.floats(-0.03, 0.03)  # where rounding to whole points shows
ANY = st.one_of(SMALL, st.floats(-0.9, 0.9))
WIDTH = st.one_of(st.floats(0, 0.03), st.floats(0, 0.5))


def numbers(text):
    """Return the numbers in a text, those after a minus below zero."""
    return [float(found.replace("−", "-").replace("+", "")) for found in re.findall(r"[−+-]?\d+\.?\d*", text)]


def bracket(sentence):
    """Return what stands in the last brackets."""
    return re.findall(r"\(([^()]*)\)", sentence)[-1]


def assert_clear(text):
    """Neither zero nor anything on the other side of it is named, and the ends are in order."""
    found = numbers(text)
    assert found == sorted(found)
    assert all(number > 0 for number in found)


@given(*[st.floats(-1.5, 1.5)] * 2, *[st.floats(0.01, 0.6)] * 2, st.floats(-0.95, 0.95), st.booleans())
@example(0.0, 0.2, 0.12, 0.12, 0.0, False)  # sure enough for a direction, not for the interval
@example(0.0, 0.9, 0.1, 0.1, 0.0, True)  # clear, and yet at too few practices
@example(
    1.09375, 0.265625, 0.59375, 0.015625, 0.75, False
)  # one course all but known, and it hangs on the other
def test_the_change_of_a_team_never_speaks_against_its_direction(start, now, sd, other, rho, few):
    """By the very rules that make direction and interval, wherever both shares lie and however sure."""
    middle = np.array([[now, start]])
    cov = np.array([[[sd**2, rho * sd * other], [rho * sd * other, other**2]]])
    low, high = (float(change_quantile(middle, cov, level)[0]) for level in (0.05, 0.95))
    direction = trend(float(probability_up(middle, cov)[0]), few)
    shares = expected_share(middle[0], np.sqrt(np.diag(cov[0])))
    path = tuple(PathPoint(day, 0.5, 0.4, 0.6, 0.45, 0.55) for day in (FIRST, LAST))
    figures = {"change": float(shares[0] - shares[1]), "change_low": low, "change_high": high}
    said = change_words(TeamCourse("s", 9, 90, 50, 9, path=path, trend=direction, **figures))
    if direction is Trend.NO_CLEAR_CHANGE:
        if said.startswith("no clear change"):
            least, most = numbers(bracket(said))
            assert least <= 0 <= most
        else:
            assert few
            assert "(" not in said
    else:
        assert said.startswith(f"{direction} by ")
        assert_clear(bracket(said))


@given(ANY, WIDTH)
def test_what_a_step_costs_is_clear_or_holds_nought(cost, half):
    """Lower or higher only beside an interval without nought."""
    said = cost_words(Cost(Cause.STEP, "a/b", 40, 20, 40, cost, cost - half, cost + half))
    if said.startswith("no clear"):
        least, most = numbers(bracket(said))
        assert least <= 0 <= most
    else:
        assert ("lower" in said) == (cost > 0)
        assert_clear(bracket(said))
        assert not said.startswith("0 ")


@given(ANY, WIDTH, ANY, WIDTH, st.sampled_from([Cause.PRESSURE, Cause.CHANGE]))
def test_what_moved_a_share_is_sure_only_beside_an_interval_that_is(moved, half, cost, wide, cause):
    """``Perhaps`` stands where nought is within; what it costs is told with signs where that is not sure."""
    assume(abs(moved) >= 0.02)  # what is less is told among the rest
    cost = abs(cost) * np.sign(moved)
    named = {"named": "yes", "tries": 14, "usual": 0.3} if cause is Cause.PRESSURE else {}
    costs = {"cost": cost, "cost_low": cost - wide, "cost_high": cost + wide} if named else {}
    reason = Reason(cause, moved, moved - half, moved + half, **named, **costs)
    (said,) = reason_sentences(replace(ONE, reasons=(reason,), share=ONE.done / ONE.tries + moved), {})
    text, sign = bracket(said), np.sign(moved)
    if "perhaps" in said:
        least, most = numbers(text)
        assert least <= 0 <= most
    else:
        on_side = text.replace("above 0", "").replace("below 0", "")
        assert all(sign * number > 0 for number in numbers(on_side))
        assert ("above 0" in text, "below 0" in text) != (True, True)
    if named:
        of_cost = re.findall(r"\(([^()]*)\)", said)[1]
        if abs(cost) > wide:
            assert_clear(of_cost)
        else:
            least, most = numbers(of_cost)
            assert least <= 0 <= most


def observed(share, low, high, difference=0.0, half=None):
    """Return what two observers agreed in, and by how much they differ."""
    apart = (None, None) if half is None else (difference - half, difference + half)
    return Row("Dev", "Marit", "stop", 50, 12, share, low, high, 0.5,
               0.5, None, None, 0.5, None, None, 30, 20, difference, *apart)  # fmt: skip


@given(st.floats(0.5, 0.99), st.one_of(st.floats(0, 0.02), st.floats(0, 0.3)), st.floats(0, 0.01))
@example(0.79, 0.05, 0.009996)
@example(0.82, 0.0204, 0.1)
def test_agreement_is_enough_or_too_little_as_its_interval_shows(share, below, above):
    """Beside the aim of 80 %: above it, below it, or around it."""
    row = observed(share, share - below, min(share + above, 1.0))
    (said,) = remarks(Agreement(("Dev", "Marit"), (), (replace(row, skill="all"),)))
    least, most = numbers(re.search("between (.*?) %", said)[1])
    if "That is enough" in said:
        assert least >= 100 * ENOUGH
    elif "too little" in said:
        assert most < 100 * ENOUGH
    else:
        assert least < 100 * ENOUGH <= most
    agreed = numbers(re.search(r"tries, ([\d.]+) %", said)[1])[0]
    assert (agreed < 100 * ENOUGH) == (share < ENOUGH)
    table = agreement_table(Agreement(("Dev", "Marit"), (), (row,)))
    assert re.search(r"stop .* ([\d.]+) % \(([\d.]+) to ([\d.]+)\)", table)[2] == f"{least:g}"


@given(ANY, WIDTH)
def test_who_is_stricter_is_told_beside_an_interval_without_nought(difference, half):
    """In the sentence and in the table."""
    row = observed(0.9, 0.85, 0.95, difference, half)
    said = skill_words(row)
    assert ("is the stricter" in said) == is_stricter(row)
    table = agreement_table(Agreement(("Dev", "Marit"), (), (row,)))
    ends = numbers(re.search(r"\(([+-]\S* to [+-]\S*)\)", table)[1].replace("e-", "0"))
    if is_stricter(row):
        assert_clear(bracket(said.removesuffix(".")))
        assert all(end != 0 for end in ends) or abs(abs(difference) - half) < 1e-6


@given(
    st.lists(st.tuples(st.floats(-2, 2), st.floats(0.05, 1.0)), min_size=1, max_size=12),
    st.integers(20, 90),
)
@example([(0.5, 0.06)], 60)
def test_a_call_stands_beside_an_interval_that_allows_it(players, percent):
    """Whoever's interval lies on one side of the target is called so; nobody is called the other way."""
    target = percent / 100
    middle, sd = (np.array(part) for part in zip(*players, strict=True))
    below, share = probability_below(middle, sd, target), expected_share(middle, sd)
    low, high = (share_quantile(middle, sd, level) for level in (0.05, 0.95))
    made = calls([Evidence(30, 5, float(p)) for p in below])
    for row, call in enumerate(made):
        figures = {"share": float(share[row]), "low": float(low[row]), "high": float(high[row])}
        one = replace(ONE, call=call, target=target, p_below=float(below[row]), **figures)
        (line,) = re.findall(r"^ +stop .*$", as_table([one]), re.M)
        _, least, most, asked = numbers(re.search(r"\d+ % \(.*? %", line)[0])
        tenths = [10 * end for end in numbers(level_words(one).removesuffix(" in 10"))]
        for ends in ((least, most), tenths):
            assert call is not Call.WORK_ON or ends[0] <= asked
            assert call is not Call.SOLID or ends[1] >= asked
            assert call is not Call.IN_BETWEEN or ends[0] <= asked <= ends[1]


@pytest.mark.parametrize(("low", "high", "words"), [
    (0.02, 0.21, "2 to 21"), (0.0049, 0.21, "at most 21"), (0.0051, 0.21, "1 to 21"),
    (-0.01, 0.21, "at most 21"), (0.001, 0.002, "at most 1"), (0.006, 0.014, "1 to 1"),
])  # fmt: skip
def test_only_the_far_end_is_told_where_the_near_one_would_be_nought(low, high, words):
    """From half a point on it is one point."""
    assert clear_span(low, high) == words


def test_less_than_a_point_is_told_as_that():
    """And signs are told where they matter."""
    assert (moved_words(0.004), moved_words(-0.01), moved_words(0.08)) == (
        "less than 1 point", "1 point", "8 points",
    )  # fmt: skip
    assert sided_span(0.004, 0.06, 3) == "above 0 to 6"
    assert sided_span(-0.06, -0.004, -3) == "−6 to below 0"
    assert sided_span(-0.06, 0.0, -3) == "−6 to 0"
    assert sided_span(0.024, 0.026, 3) == "2 to 3"
