"""The rules that turn probabilities into calls."""

import pytest

from evaltrack.analysis.calls import Evidence, calls, trend
from evaltrack.analysis.standing import Call, Trend


def test_the_surest_are_called_until_eight_in_a_hundred_are_expected_wrong():
    """At .97, .93 and .87 the expected share of wrong calls is .03, .05, .077; with .8 it would be .108."""
    known = [Evidence(30, 5, p) for p in (0.87, 0.97, 0.8, 0.93)]
    assert calls(known) == [Call.WORK_ON, Call.WORK_ON, Call.IN_BETWEEN, Call.WORK_ON]


def test_solid_is_the_same_on_the_other_side():
    """A share surely above the target is solid."""
    assert calls([Evidence(30, 5, 0.02), Evidence(30, 5, 0.5)]) == [Call.SOLID, Call.IN_BETWEEN]


@pytest.mark.parametrize(
    ("one", "call"),
    [
        (Evidence(9, 5, 0.99), Call.TOO_FEW),
        (Evidence(50, 1, 0.99), Call.TOO_FEW),
        (Evidence(10, 2, 0.99), Call.IN_BETWEEN),
        (Evidence(19, 3, 0.99), Call.IN_BETWEEN),
        (Evidence(20, 2, 0.99), Call.IN_BETWEEN),
        (Evidence(20, 3, 0.99), Call.WORK_ON),
        (Evidence(20, 3, 0.99, doubted=True), Call.IN_BETWEEN),
        (Evidence(20, 3, 0.79), Call.IN_BETWEEN),
    ],
)
def test_what_a_call_needs(one, call):
    """Ten tries over two practices to say anything, twenty over three to say something definite."""
    assert calls([one]) == [call]


def test_equals_are_called_alike():
    """Two players with the same chance get the same call, whoever comes first."""
    known = [Evidence(30, 5, 0.99), Evidence(30, 5, 0.8), Evidence(30, 5, 0.8), Evidence(30, 5, 0.8)]
    assert calls(known) == [Call.WORK_ON] + [Call.IN_BETWEEN] * 3


def test_nobody_to_call():
    """An empty team has no calls."""
    assert calls([]) == []


@pytest.mark.parametrize(
    ("p_up", "too_few", "expected"),
    [
        (0.95, False, Trend.UP),
        (0.949, False, Trend.NO_CLEAR_CHANGE),
        (0.05, False, Trend.DOWN),
        (0.051, False, Trend.NO_CLEAR_CHANGE),
        (0.99, True, Trend.NO_CLEAR_CHANGE),
    ],
)
def test_trend_needs_near_certainty(p_up, too_few, expected):
    """A direction is named only with a probability of .95, and never on too few tries."""
    assert trend(p_up, too_few) is expected
