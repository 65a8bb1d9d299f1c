"""A short look at what the bench of the estimates measures at length, so that a slip is seen at once."""

import sys
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

sys.path.append(str(Path(__file__).resolve().parents[1] / "bench"))

from bench_estimates import pairs
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
    error, raw = frame["share"] - frame["now"], frame["raw"] - frame["now"]
    assert np.sqrt(np.mean(error**2)) < 0.85 * np.sqrt(np.mean(raw**2))


def test_few_calls_are_wrong(said_and_true):
    """Of those to work on, few are truly at the target, and far fewer than percentages would blame."""
    frame = said_and_true
    called, blamed = frame["call"] == "work on", frame["raw"] < 0.6
    wrong = (frame["now"] >= 0.6)[called].mean()
    assert called.sum() > 20
    assert wrong < 0.2
    assert wrong < (frame["now"] >= 0.6)[blamed].mean()
