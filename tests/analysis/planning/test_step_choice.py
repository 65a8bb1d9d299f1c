"""In which step a skill comes off how often."""

from dataclasses import replace

import numpy as np
import pytest
from planned_seasons import F, known, tallied, team
from scipy.special import logit, ndtri

from evaltrack.analysis.planning.step_choice import (
    Asker,
    _look,
    best,
    best_steps,
    forecasts,
    tries_by_step,
)
from evaltrack.analysis.season.effects import Effect
from evaltrack.rink.tally import Outcome

ROSTER = team("FFFFFFFF")
EASY, HARD, NEVER = ("rush", "two"), ("shots", "moving"), ("laps", "easy")


@pytest.fixture(scope="module")
def asker():
    """Give a season in which lane comes off in 9 of 10 in the easy step and in 4 of 10 in the hard one."""
    rng = np.random.default_rng(2)
    made = []
    for one in tallied(ROSTER, {"lane": 0.5}, weeks=10, each=8):
        drill, step = EASY if rng.random() < 0.5 else HARD
        done = rng.random() < (0.9 if (drill, step) == EASY else 0.4)
        made.append(replace(one, drill=drill, step=step, outcome=Outcome.DONE if done else Outcome.MISSED))
    season = known(ROSTER, made, 10)
    fit = season.fits["lane"]
    return Asker("lane", fit, [*range(len(fit.players))], np.ones(len(fit.players)))


def test_each_step_has_its_share(asker):
    """As planted, with an interval round it; both were tried."""
    easy, hard = forecasts(asker, [EASY, HARD])
    assert easy.share.low < 0.9 < easy.share.high
    assert hard.share.low < 0.4 < hard.share.high
    assert easy.tries + hard.tries == 10 * 8 * 8
    assert tries_by_step(asker.fit) == {EASY: easy.tries, HARD: hard.tries}


def test_a_step_that_was_never_tried_has_its_doubt(asker):
    """It lies between the others, and its interval is wider than theirs."""
    easy, hard, never = forecasts(asker, [EASY, HARD, NEVER])
    assert never.tries == 0
    assert hard.share.value < never.share.value < easy.share.value
    assert never.share.high - never.share.low > 2 * (hard.share.high - hard.share.low)


def test_what_is_not_known_of_a_step_is_the_spread_of_steps(asker):
    """On the logit scale, over what is not known of the player; it is neither 1 nor that of observers."""
    alone = replace(asker, rows=[0], now=np.ones(1))
    (never,) = forecasts(alone, [NEVER])
    low, high = logit([never.share.low, never.share.high])
    look = _look(alone, None)
    _, gradient = look.at(np.ones((1, 1)))
    own = gradient[0, 0]
    spread = ((high - low) / 2 / ndtri(0.95)) ** 2 - own @ look.cov[0] @ own
    assert spread == pytest.approx(alone.fit.sd(Effect.STEP) ** 2)
    assert abs(alone.fit.sd(Effect.STEP) - 1) > 0.1
    assert abs(alone.fit.sd(Effect.STEP) - alone.fit.sd(Effect.OBSERVER)) > 0.1


def test_the_band_can_be_moved(asker):
    """Whoever wants 8 to 10 in 10 gets the easy step, whoever wants 2.5 to 5.5 the hard one."""
    for band, step in (((0.8, 0.99), EASY), ((0.25, 0.55), HARD)):
        found = best(forecasts(asker, [EASY, HARD], band))
        assert (found.drill, found.step) == step
        assert found.fits > 0.8


def test_of_equal_steps_the_first_is_taken(asker):
    """A skill's steps stand with the best first."""
    both = {"lane": [NEVER, ("laps", "hard"), HARD]}
    first = best_steps({"lane": asker}, both, (0.6, 0.8))["lane"][0]
    assert (first.drill, first.step) == NEVER


def test_mixed_as_so_far_the_steps_make_the_share_of_the_standing(asker):
    """A group's share is the mean over its steps, each as often as it came."""
    found = forecasts(asker, [EASY, HARD])
    total = sum(one.tries for one in found)
    mixed = sum(one.share.value * one.tries for one in found) / total
    middle, _ = asker.fit.outlook.at(np.array([1.0]))
    assert mixed == pytest.approx((1 / (1 + np.exp(-middle))).mean(), abs=0.01)
    assert all(player.position is F for player in ROSTER)
