"""Whole practices at random: clocks that jump, kills, swaps, late and hurt players, and a second tablet."""

import os

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from seasons_for_touch import new_season
from whole_practice import WholePractice


@pytest.fixture(scope="module")
def whole_season(tmp_path_factory):
    """Keep a season without tallies, to be copied."""
    return new_season(tmp_path_factory.mktemp("whole") / "season.db")


@pytest.mark.skipif(os.name == "nt", reason="Windows copies no file that is open")
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rng=st.randoms(use_true_random=False), steps=st.integers(5, 80))
def test_every_start_shows_what_was_shown_and_every_tally_is_whose_it_was(whole_season, rng, steps):
    """After each start all is as it was shown; nobody hurt returns; no try changes hands unasked."""
    practice = WholePractice(whole_season, rng)
    try:
        for _ in range(steps):
            practice.step()
    finally:
        practice.close()
