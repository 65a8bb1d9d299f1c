"""The rules that turn probabilities into calls."""

import pytest

from evaltrack.analysis.standings.calls import Evidence, calls, trend
from evaltrack.analysis.standings.standing import Call, Trend


def test_the_surest_are_called_until_seven_in_a_hundred_are_expected_wrong():
    """At .97, .93 and .9 the expected share of wrong calls is .03, .05, .067; with .8 it would be .1."""
    known = [Evidence(30, 5, p) for p in (0.9, 0.97, 0.8, 0.93)]
    assert calls(known) == [Call.WORK_ON, Call.WORK_ON, Call.IN_BETWEEN, Call.WORK_ON]


def test_solid_is_the_same_on_the_other_side():
    """A share surely above the target is solid, chosen by the same rule and apart from those below it."""
    known = [Evidence(30, 5, p) for p in (0.1, 0.03, 0.2, 0.07, 0.97)]
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
        (9, 3, 0.999, False, Call.TOO_FEW),
        (50, 1, 0.99, False, Call.TOO_FEW),
        (50, 2, 0.99, False, Call.TOO_FEW),
        (10, 2, 0.99, False, Call.TOO_FEW),
        (200, 2, 0.999, False, Call.TOO_FEW),
        (10, 3, 0.99, False, None),
        (10, 3, 0.99, True, Call.IN_BETWEEN),
        (200, 30, 0.999, True, Call.IN_BETWEEN),
        (9, 1, 0.99, True, Call.TOO_FEW),
        (10, 3, 0.79, False, Call.IN_BETWEEN),
    ],
)
def test_what_a_call_needs(sure, call, tries, practices, p, doubted, said):
    """Ten tries over three practices, an estimate that stands, and a probability of .8."""
    assert calls([Evidence(tries, practices, sure(p), doubted)]) == [said or call]


@SIDES
def test_a_probability_of_eight_tenths_itself_is_enough(sure, call):
    """Exactly .8 is a call: the least sure of five of whom the others are all but certain."""
    assert calls([*[Evidence(30, 5, sure(0.999))] * 4, Evidence(30, 5, sure(0.8))])[-1] is call


@SIDES
def test_exactly_seven_in_a_hundred_may_be_wrong(sure, call):
    """With 4 and 10 in a hundred, 7 are expected wrong: both calls are made, however a computer adds."""
    assert calls([Evidence(30, 5, sure(0.96)), Evidence(30, 5, sure(0.9))]) == [call, call]


@SIDES
@pytest.mark.parametrize("p", [0.8, 0.81, 0.9])
def test_a_probability_of_eight_tenths_is_enough_among_surer_ones(sure, call, p):
    """Among four sure ones a call with .8 is made, and one with a little less is not."""
    known = [Evidence(30, 5, sure(0.999)) for _ in range(4)]
    assert calls([*known, Evidence(30, 5, sure(p + 1e-6))])[-1] is call
    assert calls([*known, Evidence(30, 5, sure(0.8 - 1e-6))])[-1] is Call.IN_BETWEEN


@SIDES
@pytest.mark.parametrize("count", [1, 2, 7])
def test_seven_in_a_hundred_may_be_wrong_and_no_more(sure, call, count):
    """Alike calls are all made when each is wrong 7 times in 100, and none of them when it is 8 times."""
    assert calls([Evidence(30, 5, sure(0.9301))] * count) == [call] * count
    assert calls([Evidence(30, 5, sure(0.9299))] * count) == [Call.IN_BETWEEN] * count
    assert calls([Evidence(30, 5, sure(0.92))] * count) == [Call.IN_BETWEEN] * count


@SIDES
def test_what_cannot_be_called_takes_no_room(sure, call):
    """Tries too few and doubted estimates neither spoil the expected share of wrong calls nor mend it."""
    called, not_called = Evidence(30, 5, sure(0.94)), Evidence(30, 5, sure(0.85))
    others = [
        Evidence(9, 5, sure(1.0)),
        Evidence(30, 2, sure(1.0)),
        Evidence(30, 5, sure(1.0), doubted=True),
    ]
    few = [Call.TOO_FEW] * 2
    assert calls([called, not_called, *others]) == [call, Call.IN_BETWEEN, *few, Call.IN_BETWEEN]


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
        (0.925, False, Trend.UP),
        (0.924, False, Trend.NO_CLEAR_CHANGE),
        (0.075, False, Trend.DOWN),
        (1 - 0.925, False, Trend.DOWN),
        (0.076, False, Trend.NO_CLEAR_CHANGE),
        (0.99, True, Trend.NO_CLEAR_CHANGE),
    ],
)
def test_trend_needs_near_certainty(p_up, too_few, expected):
    """A direction is named only with a probability of .925, and never on too few tries."""
    assert trend(p_up, too_few) is expected
