"""Fits that set out from the last one: the same standings as from nothing, whatever came in between."""

from dataclasses import replace
from datetime import date

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from seasons import cell, player, season, skill

from evaltrack.analysis.mixed_logit import posterior
from evaltrack.analysis.mixed_logit.arrangement import Design, arrange
from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.live import LiveStandings
from evaltrack.analysis.standings.standings import standings_of
from evaltrack.rink.practice import Practice
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season

CLOSE = 5e-4  # of a share or a chance: a twentieth of a point, where screens and pages tell tenths
FIGURES = ("share", "low", "high", "start_share", "change", "change_low", "change_high", "p_up", "p_below")
CHANGES = st.lists(
    st.tuples(
        st.integers(0, 8),  # the player; 8 is new
        st.integers(0, 2),  # the skill; 2 is new
        st.integers(0, 7),  # the week; 6 and 7 are new practices
        st.sampled_from(["two_on_one", "three_on_one", "two_regroups"]),
        st.sampled_from("IMX"),
        st.booleans(),
    ),
    min_size=1,
    max_size=8,
)


def grown(cells, roster, skills, changes):
    """Return the cells with one try more for each change."""
    rows = [
        cell(roster[who], skills[key].key, week, 1, int(done), step=step, observer=observer)
        for who, key, week, step, observer, done in changes
    ]
    together = pd.concat([cells, cells_frame(rows)])
    names = [name for name in cells.columns if name not in ("tries", "done")]
    return together.groupby(names, as_index=False)[["tries", "done"]].sum()


class Warm:
    """Fits as the live standings do, and keeps where each fit came to rest."""

    def __init__(self):
        self.live = LiveStandings()

    def standings(self, cells, roster, skills):
        return standings_of(cells, roster, skills, fit=self.live._fit)


def assert_same(warm, cold):
    assert [(s.player, s.skill, s.tries, s.done) for s in warm] == [
        (s.player, s.skill, s.tries, s.done) for s in cold
    ]
    ours, theirs = ([[getattr(s, name) for name in FIGURES] for s in found] for found in (warm, cold))
    np.testing.assert_allclose(ours, theirs, atol=CLOSE)


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 10_000), st.integers(1, 8), st.integers(1, 6), st.integers(1, 5), CHANGES)
def test_warm_start_changes_no_standing(seed, players, practices, tries, changes):
    """Tries that come one after the other, new players, skills, practices and steps among them."""
    cells, roster, skills = season(seed, players=players, skills=2, practices=practices, tries=tries)
    known, skills = len(roster), [*skills, skill("new")]
    roster = [*roster, player(77)]
    changes = [(min(who, known), *rest) for who, *rest in changes]
    warm = Warm()
    warm.standings(cells, roster, skills)
    for number in range(1, len(changes) + 1):
        more = grown(cells, roster, skills, changes[:number])
        found = warm.standings(more, roster, skills)
    assert_same(found, standings_of(more, roster, skills))


def test_season_of_many_tries_may_keep_its_curvature():
    """Where one try more is next to nothing, the Hessian is kept, and the standings are still the same."""
    cells, roster, skills = season(3, players=8, skills=2, practices=8, tries=100)
    assert cells["tries"].sum() > 10_000
    warm = Warm()
    warm.standings(cells, roster, skills)
    before = warm.live._warm_start.tries
    cells.loc[5, ["tries", "done"]] += 1
    found = warm.standings(cells, roster, skills)
    assert warm.live._warm_start.tries == before
    assert_same(found, standings_of(cells, roster, skills))


@pytest.mark.parametrize("far", [-6.0, 4.0])
def test_start_from_anywhere_ends_at_the_top(far):
    """A start far away costs steps, not truth; one of another model is left out."""
    cells, _, _ = season(5, players=8, skills=1, practices=8, tries=5)
    cold = next(iter(fit_season(cells).values())).fit
    rest = cold.posterior.warm_start
    start = replace(rest, log_sd=rest.log_sd + far, tries=0.0)
    warm = next(iter(fit_season(cells, start=start).values())).fit
    np.testing.assert_allclose(warm.term_sd, cold.term_sd, rtol=2e-3)
    other = replace(rest, log_sd=rest.log_sd[:-1], hessian=rest.hessian[:-1, :-1])
    assert next(iter(fit_season(cells, start=other).values())).fit.log_likelihood == cold.log_likelihood


def test_warm_start_saves_most_steps(monkeypatch):
    """After one try more the top is at most a third of the steps away that lead there from nothing."""
    taken, bfgs = [], posterior.bfgs

    def counted(objective, *rest):
        taken.append(0)

        def step(at):
            taken[-1] += 1
            return objective(at)

        return bfgs(step, *rest)

    monkeypatch.setattr(posterior, "bfgs", counted)
    cells, roster, skills = season(5, players=8, skills=2, practices=8, tries=5)
    warm = Warm()
    warm.standings(cells, roster, skills)
    cells.loc[0, ["tries", "done"]] += 1
    warm.standings(cells, roster, skills)
    cold, again = taken
    assert 3 * again <= cold


def test_arrangement_is_kept_only_where_it_holds():
    """A cell more of known coefficients fits in; a new coefficient, or a cell in two blocks, does not."""
    columns = np.array([[0, 1], [0, 1], [0, 2], [0, 2]])
    two_levels = Design(columns, np.ones((4, 2)), 3)
    kept = arrange(two_levels, [np.array([1])])
    assert kept.blocks == 2
    another = Design(np.vstack([columns, [[0, 2]]]), np.ones((5, 2)), 3)
    joined = Design(np.vstack([columns, [[1, 2]]]), np.ones((5, 2)), 3)
    wider = Design(columns, np.ones((4, 2)), 4)
    assert [kept.holds(design) for design in (two_levels, another, joined, wider)] == [
        True,
        True,
        False,
        False,
    ]


@pytest.fixture
def path(tmp_path):
    """Return the path of a season file without tallies."""
    roster, skills = [player(1), player(2)], [skill("stop"), skill("start")]
    create_season(
        tmp_path / "s.db", team="Lanterns", age_class="12U", players=roster, skills=skills, drills=[]
    ).close()
    return tmp_path / "s.db"


def test_edition_changes_with_the_tries_and_with_nothing_else(path):
    """Whoever has the newest edition is given nothing anew."""
    live = LiveStandings()
    edition, standings = live.read(path)
    assert standings == []
    assert live.read(path, edition) == (edition, None)
    with open_season(path) as season:
        season.practices.add([Practice("2026-10-06", date(2026, 10, 6))])
    assert live.read(path, edition) == (edition, None)
