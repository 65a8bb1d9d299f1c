"""The gain of one more try equals the one written out by hand from all shares' covariance."""

import numpy as np
import pytest
from scipy.special import expit, logit
from season_by_hand import World, Z

from evaltrack.analysis.standings.coverage import coverage_of


@pytest.mark.parametrize("seed", [3, 8])
def test_one_more_try_narrows_all_intervals_by_what_it_tells_of_each(seed):
    """The precision of one try at a share is added to it and, by covariance, to all that hang together."""
    world = World(seed, shared=True)
    by_hand, number = world.by_hand, {p.number: p.id.bytes for p in world.roster}
    rows = [row for row in coverage_of(world.cells, world.roster, world.skills) if row.gain is not None]
    who = [(row.skill, number[row.player]) for row in rows]
    places = [(*one, by_hand.now(*one)) for one in who]
    slopes, (_, cov) = np.array([by_hand.logit_slopes(*place) for place in places]), by_hand.moments()
    together = slopes @ cov @ slopes.T + np.diag([by_hand.spread(*place) ** 2 for place in places])
    middle = np.array([logit(by_hand.share(*place)) for place in places])
    for one, (row, (skill, _, _)) in enumerate(zip(rows, places, strict=True)):
        told = 1 / (1 / by_hand.told(skill, expit(middle[one])) + together[one, one])
        left = np.diag(together) - together[one] ** 2 * told
        narrowed = np.sqrt(np.diag(together)) - np.sqrt(left)
        assert row.gain == pytest.approx(sum(Z * narrowed * expit(middle) * expit(-middle)), rel=1e-4)
