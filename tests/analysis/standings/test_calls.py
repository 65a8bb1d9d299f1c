"""The rules that turn probabilities into calls."""

import pytest

from evaltrack.analysis.standings.calls import Evidence, calls, trend
from evaltrack.analysis.standings.standing import Call, Trend


def test_the_surest_are_called_until_eight_in_a_hundred_are_expected_wrong():
    """At .97, .93 and .87 the expected share of wrong calls is .03, .05, .077; with .8 it would be .108."""
    known = [Evidence(30, 5, p) for p in (0.87, 0.97, 0.8, 0.93)]
    assert calls(known) == [Call.WORK_ON, Call.WORK_ON, Call.IN_BETWEEN, Call.WORK_ON]


def test_solid_is_the_same_on_the_other_side():
    """A share surely above the target is solid, chosen by the same rule and apart from those below it."""
    known = [Evidence(30, 5, p) for p in (0.13, 0.03, 0.2, 0.07, 0.97)]
    assert calls(known) == [Call.SOLID, Call.SOLID, Call.IN_BETWEEN, Call.SOLID, Call.WORK_ON]
    assert calls([Evidence(30, 5, 0.02), Evidence(30, 5, 0.5)]) == [Call.SOLID, Call.IN_BETWEEN]


SIDES = pytest.mark.parametrize(
    ("sure", "call"),
    [(lambda p: p, Call.WORK_ON), (lambda p: 1 - p, Call.SOLID)],
    ids=["work on", "solid"],
)


@SIDES
@pytest.mark.parametrize(
    ("tries", "practices", "p", "doubted", "said"),
    [
        (9, 5, 0.99, False, Call.TOO_FEW),
        (10, 5, 0.99, False, Call.IN_BETWEEN),
        (50, 1, 0.99, False, Call.TOO_FEW),
        (50, 2, 0.99, False, Call.IN_BETWEEN),
        (10, 2, 0.99, False, Call.IN_BETWEEN),
        (19, 3, 0.99, False, Call.IN_BETWEEN),
        (19, 30, 0.999, False, Call.IN_BETWEEN),
        (20, 2, 0.99, False, Call.IN_BETWEEN),
        (200, 2, 0.999, False, Call.IN_BETWEEN),
        (20, 3, 0.99, False, None),
        (20, 3, 0.99, True, Call.IN_BETWEEN),
        (200, 30, 0.999, True, Call.IN_BETWEEN),
        (9, 1, 0.99, True, Call.TOO_FEW),
        (20, 3, 0.79, False, Call.IN_BETWEEN),
    ],
)
def test_what_a_call_needs(sure, call, tries, practices, p, doubted, said):
    """Ten tries over two practices to say anything, twenty over three to say something definite."""
    assert calls([Evidence(tries, practices, sure(p), doubted)]) == [said or call]


@SIDES
def test_a_probability_of_eight_tenths_itself_is_enough(sure, call):
    """Exactly .8 is a call: the least sure of five of whom the others are all but certain."""
    assert calls([*[Evidence(30, 5, sure(0.999))] * 4, Evidence(30, 5, sure(0.8))])[-1] is call


@SIDES
def test_exactly_eight_in_a_hundred_may_be_wrong(sure, call):
    """With 4 and 12 in a hundred, 8 are expected wrong: both calls are made, however a computer adds."""
    assert calls([Evidence(30, 5, sure(0.96)), Evidence(30, 5, sure(0.88))]) == [call, call]


@SIDES
@pytest.mark.parametrize("p", [0.8, 0.81, 0.9])
def test_a_probability_of_eight_tenths_is_enough_among_surer_ones(sure, call, p):
    """Among four sure ones a call with .8 is made, and one with a little less is not."""
    known = [Evidence(30, 5, sure(0.999)) for _ in range(4)]
    assert calls([*known, Evidence(30, 5, sure(p + 1e-6))])[-1] is call
    assert calls([*known, Evidence(30, 5, sure(0.8 - 1e-6))])[-1] is Call.IN_BETWEEN


@SIDES
@pytest.mark.parametrize("count", [1, 2, 7])
def test_eight_in_a_hundred_may_be_wrong_and_no_more(sure, call, count):
    """Alike calls are all made when each is wrong 8 times in 100, and none of them when it is 9 times."""
    assert calls([Evidence(30, 5, sure(0.9201))] * count) == [call] * count
    assert calls([Evidence(30, 5, sure(0.9199))] * count) == [Call.IN_BETWEEN] * count
    assert calls([Evidence(30, 5, sure(0.91))] * count) == [Call.IN_BETWEEN] * count


@SIDES
def test_what_cannot_be_called_takes_no_room(sure, call):
    """Tries too few and doubted estimates neither spoil the expected share of wrong calls nor mend it."""
    called, not_called = Evidence(30, 5, sure(0.93)), Evidence(30, 5, sure(0.85))
    others = [
        Evidence(19, 5, sure(1.0)),
        Evidence(30, 2, sure(1.0)),
        Evidence(30, 5, sure(1.0), doubted=True),
    ]
    assert calls([called, not_called, *others]) == [call] + [Call.IN_BETWEEN] * 4


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
        (1 - 0.95, False, Trend.DOWN),
        (0.051, False, Trend.NO_CLEAR_CHANGE),
        (0.99, True, Trend.NO_CLEAR_CHANGE),
    ],
)
def test_trend_needs_near_certainty(p_up, too_few, expected):
    """A direction is named only with a probability of .95, and never on too few tries."""
    assert trend(p_up, too_few) is expected
