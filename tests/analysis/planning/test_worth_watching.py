"""What a practice of looking at a player is worth."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import expit, logit, ndtr

from evaltrack.analysis.planning.worth_watching import EACH, Known, looks_of
from evaltrack.analysis.standings.standing import Coverage

ONE = Coverage("4", "Tadhg", "D", "gap_up", 20, 5, 3, 0.45, 0.8, None)
TARGETS, DAY = {"gap_up": 0.6, "stop": 0.6}, {"gap_up": 0.3, "stop": 0.3}


def one(middle=0.5, sd=0.5, tries=20, practices=5, day=0.3) -> Known:
    """Return what is known of one share, with the target .6."""
    return Known(*(np.array([value], float) for value in (middle, sd, tries, practices, 0.6, day)))


@given(st.floats(-2, 3), st.floats(0.1, 1.5), st.integers(1, 4))
def test_both_sides_of_the_target_count_alike(middle, sd, visits):
    """With a target of one half a share and its mirror image are worth the same; no part is above one."""
    two = (replace(one(side * middle, sd), target=np.array([0.5])) for side in (1, -1))
    after = [known.right_after(visits)[0] for known in two]
    assert after[0] == pytest.approx(after[1])
    assert 0 <= after[0] <= 1


@given(st.floats(-2, 3), st.floats(0.1, 1.5), st.integers(0, 9), st.integers(0, 2))
def test_where_there_is_no_call_nothing_is_lost(middle, sd, tries, practices):
    """A call may be taken back, and then looking costs one that was right; without one it cannot."""
    assert one(middle, sd, tries, practices).worth()[0][0] >= 0


@pytest.mark.parametrize(("middle", "sd", "visits"), [(0.5, 0.6, 1), (0.0, 0.9, 2), (1.2, 0.5, 4)])
def test_expected_right_calls_are_those_of_simulated_practices(middle, sd, visits):
    """Truth, days and tries drawn; the posterior updated; a call made at .8 and held against the truth."""
    rng, count, day = np.random.default_rng(4), 40_000, 0.3
    truth = rng.normal(middle, sd, count)
    plain = EACH * expit(middle) * expit(-middle)
    told = visits * plain / (1 + plain * day**2)
    seen = truth + rng.normal(0, 1 / np.sqrt(told), count)
    left = 1 / (1 / sd**2 + told)
    later = left * (middle / sd**2 + seen * told)
    below = ndtr((logit(0.6) - later) / np.sqrt(left))
    right = np.where(truth < logit(0.6), below >= 0.8, below <= 0.2).mean()
    assert one(middle, sd, day=day).right_after(visits)[0] == pytest.approx(right, abs=0.01)


def test_two_practices_are_looked_ahead_where_one_cannot_bring_a_call():
    """Four tries at one practice: a call needs three."""
    worth, visits = one(middle=-1.0, sd=0.8, tries=4, practices=1).worth()
    assert visits[0] >= 2
    assert worth[0] > 0


def test_what_is_sure_is_worth_less_than_what_is_not():
    """Known to be solid, hopelessly close, or open: the open one comes first."""
    solid, close = (
        replace(ONE, player="1", low=0.85, high=0.95),
        replace(ONE, player="2", low=0.59, high=0.61),
    )
    found = looks_of([solid, close, replace(ONE, player="3")], TARGETS, DAY)
    assert found[0].player == "3"
    assert found[0].worth > 5 * max(look.worth for look in found[1:])


def test_of_equal_worth_whoever_was_seen_least():
    """Two of whom nothing more is to be learned."""
    sure = replace(ONE, low=0.97, high=0.99)
    found = looks_of([sure, replace(sure, player="9", tries=12)], TARGETS, DAY)
    assert [look.player for look in found] == ["9", "4"]


def test_who_is_away_and_what_is_unknown_are_left_out():
    """As with whom to watch by counts."""
    unknown = replace(ONE, skill="stop", low=0.0, high=1.0)
    assert looks_of([replace(ONE, player="9"), unknown], TARGETS, DAY, away={"9"}) == []
