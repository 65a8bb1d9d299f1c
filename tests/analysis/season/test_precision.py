"""How much better a share is known as the season goes on, and after how many more tries well enough."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from season_by_hand import World
from seasons import season
from simulated_season import World as Simulated
from simulated_season import cells, roster, simulate

from evaltrack.analysis.season.outlook import Outlook
from evaltrack.analysis.season.precision import WANTED, Precision, precision_of, tries_to_go, width
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.standings import standings_of

ONE = np.ones(1)


def drawn(seed: int, size: int = 4) -> tuple[Outlook, np.ndarray]:
    """Return the outlook of one player, who was told of by random tries, and what was expected before."""
    rng = np.random.default_rng(seed)
    beforehand, looked = np.exp(rng.normal(0, 1, size)), rng.normal(0, 1, (size, size))
    cov = np.linalg.inv(np.diag(beforehand**-2) + looked @ looked.T)
    level, mix = rng.normal(0, 1, (3, size)), rng.dirichlet(np.ones(3))
    return Outlook(
        rng.normal(0, 1, (1, size)), cov[None], level, rng.normal(0, 1, size), mix[None]
    ), beforehand


@given(st.integers(0, 2**32 - 1), st.floats(1, 5))
def test_what_tries_told_grows_and_what_was_believed_beforehand_stays(seed, growth):
    """The variance is that of the prior precision and so many times what the tries added to it."""
    look, beforehand = drawn(seed)
    now = np.array([0.7])
    _, gradient = (part[0, 0] for part in look.at(now[:, None]))
    before = np.diag(beforehand**-2)
    left = np.linalg.inv(before + growth * (np.linalg.inv(look.cov[0]) - before))
    known = precision_of(look, beforehand, now)
    assert known.variance(growth * ONE) == pytest.approx([gradient @ left @ gradient], rel=1e-6)


@settings(max_examples=8, deadline=None)
@given(st.integers(0, 2**32 - 1), st.booleans())
def test_as_the_season_stands_a_share_is_known_as_its_interval_says(seed, shared):
    """Also where doubt about the SDs leaves more than was expected beforehand."""
    for fit in World(seed, shared).fits.values():
        beforehand = fit.predictor.columns.spread_out({e: fit.sd(e) for e in fit.predictor.effects})
        for expected in (beforehand, beforehand / 10):
            known = precision_of(fit.outlook, expected, np.full(len(fit.players), 0.4))
            middle, sd = fit.outlook.path(np.array([0.4]))
            assert known.middle == pytest.approx(middle[:, 0])
            assert np.sqrt(known.variance(np.ones(len(sd)))) == pytest.approx(sd[:, 0])


@given(
    st.floats(-3, 3),
    st.lists(st.tuples(st.floats(0, 50), st.floats(0.001, 3)), min_size=1, max_size=4),
    st.integers(1, 60),
)
def test_no_try_more_than_needed(middle, directions, tries):
    """After the tries asked for the interval is narrow enough, after one fewer not; or twice is too few."""
    told, load = np.array(directions).T
    known, counted = Precision(np.array([middle]), told[None], load[None]), np.array([tries])
    (more,) = tries_to_go(known, counted)

    def after(number: int) -> float:
        return float(width(known.middle, np.sqrt(known.variance(1 + number / counted)))[0])

    if more is None:
        assert after(tries) > WANTED - 1e-9
    else:
        assert 0 <= more <= tries
        assert after(more) <= WANTED + 1e-6
        assert more == 0 or after(more - 1) > WANTED - 1e-6


@pytest.mark.parametrize(("practices", "foretold"), [(7, False), (8, True)])
def test_a_season_that_does_not_fill_the_time_axis_foretells_nothing(practices, foretold):
    """Before the eighth practice nobody is told a number, however many tries there are; who needs none is."""
    found, roster, skills = season(seed=4, practices=practices, tries=4)
    standings = standings_of(found, roster, skills)
    assert all((one.to_go == 0) == (one.high - one.low <= WANTED) for one in standings)
    more = [one.to_go for one in standings]
    assert 0 in more
    assert any(more) is foretold


def test_twice_the_practices_are_foretold():
    """From every other practice of a season the intervals of the whole of it are foretold.

    By how much they narrow is met within a half on average: the SDs of the whole season are not foretold.
    """
    world = Simulated(players=10, skills=4, practices=24, tries=30)
    frame = cells(simulate(np.random.default_rng(7), world), roster(world))
    every_other = frame["held_on"].isin(frame["held_on"].drop_duplicates().sort_values()[1::2])
    once, twice = fit_season(frame[every_other]), fit_season(frame)
    foretold, found, before = [], [], []
    for key, fit in once.items():
        now = np.ones(len(fit.players))
        beforehand = fit.predictor.columns.spread_out({e: fit.sd(e) for e in fit.predictor.effects})
        known = precision_of(fit.outlook, beforehand, now)
        foretold += width(known.middle, np.sqrt(known.variance(2 * now))).tolist()
        before += width(known.middle, np.sqrt(known.variance(now))).tolist()
        middle, sd = twice[key].outlook.path(np.ones(1))
        found += width(middle[:, 0], sd[:, 0]).tolist()
    apart = np.subtract(foretold, found)
    assert abs(apart.mean()) < 0.5 * np.subtract(before, found).mean()
