"""Players taken together: their joint posterior against each one's own, and against the whole covariance."""

import numpy as np
import pytest
from planned_seasons import known, tallied, team
from scipy.special import expit

from evaltrack.analysis.season.together import drawn_logits, together_of

ROSTER = team("DDDDDDFFFFFFFFG")


@pytest.fixture(scope="module")
def fit():
    """Give the fit of a skill that both position groups have, of a season in which the wall is weak."""
    shares = {"outlet": 0.9, "lane": 0.9, "wall": 0.3, "shot": 0.9}
    return known(ROSTER, tallied(ROSTER, shares), 8).fits["lane"]


def whole_covariance(fit):
    """Return the covariance of all coefficients of the fit."""
    _, cov = fit.fit.posterior.moments(np.arange(len(fit.fit.posterior.mean)))
    return cov


def test_each_of_many_is_as_doubtful_as_alone(fit):
    """The SDs are those of the players' own shares, whoever stands beside them and in which order."""
    rows, times = [5, 0, 3], np.array([1.0, 0.5, 0.0])
    middle, cov = together_of(fit, rows).at(times)
    for place, (row, time) in enumerate(zip(rows, times, strict=True)):
        alone, sd = fit.outlook.of([row]).path(np.array([time]))
        assert middle[place] == pytest.approx(alone[0, 0])
        assert np.sqrt(cov[place, place]) == pytest.approx(sd[0, 0])


def test_players_rise_and_fall_together(fit):
    """Nearly all covariances are above zero, and a mean is more doubtful than of players drawn apart."""
    rows = [*range(len(fit.players))]
    middle, cov = together_of(fit, rows).at(np.ones(len(rows)))
    assert (cov[np.triu_indices(len(rows), 1)] > 0).mean() > 0.9
    drawn = expit(drawn_logits(middle, cov)).mean(1).std()
    assert drawn > 1.5 * expit(drawn_logits(middle, np.diag(np.diag(cov)))).mean(1).std()


def test_the_variance_of_a_sum_is_that_of_the_whole_covariance(fit):
    """Weighted, over players who share a mean and steps: by all coefficients of the fit at once."""
    rows = [4, 1, 7]
    together, weight = together_of(fit, rows), np.array([0.1, 0.5, 1.0])
    _, own = (part[:, 0] for part in fit.outlook.of(rows).at(np.array([1.0])))
    predictor = fit.predictor
    players = np.array([fit.players[row] for row in rows])
    columns = [
        predictor.picked(np.array([number]), predictor.design.group[[number]])[0]
        for number in (predictor.design.players.index(ident) for ident in players.tolist())
    ]
    gradient = np.zeros(len(fit.fit.posterior.mean))
    for one, picked, slope in zip(weight, columns, own, strict=True):
        np.add.at(gradient, picked, one * slope)
    wanted = gradient @ whole_covariance(fit) @ gradient
    assert together.variance_of_sum(weight[:, None] * own) == pytest.approx(wanted)
    _, cov = together.at(np.ones(3))
    assert together.variance_of_sum(weight[:, None] * own) == pytest.approx(weight @ cov @ weight)


def test_the_same_is_drawn_each_time_with_the_moments_asked_for():
    """Means and covariances of 4,000 draws, also of two who hang wholly together."""
    middle, cov = np.array([0.4, -0.2]), np.full((2, 2), 0.09)
    drawn = drawn_logits(middle, cov)
    assert (drawn == drawn_logits(middle, cov)).all()
    assert drawn.mean(0) == pytest.approx(middle, abs=0.02)
    assert np.cov(drawn.T) == pytest.approx(cov, abs=0.005)
