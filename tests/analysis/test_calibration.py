"""A short look at what the bench of the estimates measures at length, so that a slip is seen at once."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from bench_estimates import figures, judged, pairs
from plain_judgement import by_plain_methods, seen
from simulated_season import World, roster, simulate


@pytest.fixture(scope="module")
def said_and_true():
    """Return what four simulated seasons' standings say beside the truth, 576 rows."""
    world = World()
    players = roster(world)
    seasons = (simulate(np.random.default_rng(seed), world) for seed in range(4))
    return pd.concat([pairs(season, world, players, shared=True) for season in seasons])


def test_intervals_cover_the_truth(said_and_true):
    """Nine in ten intervals hold the truth, give or take what four seasons can tell."""
    frame = said_and_true
    assert 0.84 < frame["now"].between(frame["low"], frame["high"]).mean() < 0.96
    assert 0.84 < frame["truly"].between(frame["change_low"], frame["change_high"]).mean() < 0.96


def test_shares_are_nearer_the_truth_than_percentages(said_and_true):
    """The error is well under that of raw percentages."""
    frame = said_and_true
    error, raw = frame["share"] - frame["now"], frame["done"] / frame["tries"] - frame["now"]
    assert np.sqrt(np.mean(error**2)) < 0.85 * np.sqrt(np.mean(raw**2))


def test_few_calls_are_wrong(said_and_true):
    """Of those to work on, few are truly at the target, and far fewer than percentages would blame."""
    frame = said_and_true
    called, blamed = frame["call"] == "work on", frame["done"] / frame["tries"] < 0.6
    wrong = (frame["now"] >= 0.6)[called].mean()
    assert called.sum() > 20
    assert wrong < 0.2
    assert wrong < (frame["now"] >= 0.6)[blamed].mean()


def test_every_way_judges_the_same_tries():
    """Ours, percentages and plain methods have a row for each player and skill with a try, and one truth."""
    world = World(players=6, skills=2, practices=6, tries=8)
    season = simulate(np.random.default_rng(9), world)
    frames = {
        way: frame.sort_values(["player", "skill"]).reset_index(drop=True)
        for way, frame in judged(season, world, roster(world)).items()
    }
    ours, raw = frames["shared"], frames["raw"]
    for frame in frames.values():
        pd.testing.assert_frame_equal(
            frame[["player", "skill"]], ours[["player", "skill"]], check_dtype=False
        )
        assert frame["now"].tolist() == ours["now"].tolist()
    assert raw["share"].tolist() == pytest.approx((ours["done"] / ours["tries"]).tolist())
    assert seen(season, world).tries.sum() == len(season.done)


def test_plain_methods_see_what_is_plain():
    """Twenty of twenty, none of twenty, and a rise from none to all, are called what they are."""
    counts = seen(simulate(np.random.default_rng(0), World(players=3, skills=1)), World(players=3, skills=1))
    tries = np.tile([2, 2, 2, 2, 2, 2, 2, 2, 2, 2], (3, 1))
    done = np.array([[2] * 10, [0] * 10, [0, 0, 0, 0, 1, 1, 2, 2, 2, 2]])
    frame = by_plain_methods(replace(counts, tries=tries, done=done), 0.6)
    assert frame["call"].tolist() == ["solid", "work on", "in between"]
    assert frame["trend"].tolist() == ["no clear change", "no clear change", "up"]
    assert frame["share"].between(frame["low"], frame["high"]).all()


def test_the_error_that_players_have_in_common_is_told_apart():
    """Errors of SD 1 in common and 2 of one's own have a fifth of their square in common."""
    rng = np.random.default_rng(6)
    season = np.repeat(np.arange(400), 18)
    error = rng.normal(0, 1, 400)[season] + rng.normal(0, 2, len(season))
    frame = pd.DataFrame({"season": season, "skill": 0, "now": 0.5, "share": 0.5 + error, "truly": 0.0})
    frame = frame.assign(tries=20, low=0.4, high=0.6, change=0.1, change_low=0.0, change_high=0.2)
    found = dict(figures(frame.assign(call="solid", trend="up"), frame.assign(change=0.2)))
    assert found["  of its square, common to a skill's players"] == pytest.approx(0.2, abs=0.03)
    assert found["share now: RMSE, against raw"] == pytest.approx(1)
    assert found["change: RMSE, against raw"] == pytest.approx(0.5)
    assert found["wrong among solid"] == found["up or down, of those who do not change"] == 1
    assert np.isnan(found["wrong among work on"])
