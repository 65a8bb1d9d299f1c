"""What must hold for standings of any season."""

from dataclasses import replace
from uuid import UUID

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from seasons import assert_sound, cell, player, season, skill

from evaltrack.analysis.cells import cells_frame
from evaltrack.analysis.mixed_logit import Priors, Term, fit_mixed_logit
from evaltrack.analysis.standings import standings_of
from evaltrack.rink.player import Position

SEEDS = st.integers(0, 10_000)
FEW = settings(max_examples=12, deadline=None)
FIGURES = ("share", "low", "high", "start_share", "change", "change_low", "change_high", "p_up", "p_below")


def figures(standings):
    """Return the figures of standings as a table, by player and skill."""
    return np.array([[getattr(one, name) for name in FIGURES] for one in standings])


@FEW
@given(SEEDS)
def test_order_of_tallies_does_not_matter(seed):
    """Cells in any order give the same standings to the last digit."""
    cells, roster, skills = season(seed)
    mixed = cells.sample(frac=1, random_state=seed)
    assert standings_of(mixed, roster, skills) == standings_of(cells, roster, skills)


@FEW
@given(SEEDS)
def test_names_do_not_matter(seed):
    """Other ids for players and other keys for steps and observers change no figure."""
    cells, roster, skills = season(seed)
    ids = [UUID(int=int(number)) for number in np.random.default_rng(seed).permutation(len(roster)) + 1]
    renamed = [replace(one, id=ident) for one, ident in zip(roster, ids, strict=True)]
    other = {old.id.bytes: new.id.bytes for old, new in zip(roster, renamed, strict=True)}
    steps = {"two_on_one": "z", "three_on_one": "a"}
    changed = cells.assign(
        player=cells["player"].map(other),
        step=cells["step"].map(steps),
        observer=cells["observer"].str.lower(),
    )
    found, known = standings_of(changed, renamed, skills), standings_of(cells, roster, skills)
    np.testing.assert_allclose(figures(found), figures(known), atol=2e-3)


@FEW
@given(SEEDS)
def test_more_tries_narrow_the_intervals(seed):
    """Twice the counts leave, over the team, less doubt about share and change."""
    cells, roster, skills = season(seed)
    twice = cells.assign(tries=cells["tries"] * 2, done=cells["done"] * 2)
    once, doubled = figures(standings_of(cells, roster, skills)), figures(standings_of(twice, roster, skills))
    assert np.mean(doubled[:, 2] - doubled[:, 1]) < np.mean(once[:, 2] - once[:, 1])


@FEW
@given(SEEDS)
def test_done_and_missed_mirror_each_other(seed):
    """Were done missed and missed done, every share would be what is left of it."""
    cells, roster, _ = season(seed)
    skills = [skill("s0", 0.4), skill("s1", 0.4)]
    opposite = [skill("s0", 0.6), skill("s1", 0.6)]
    swapped = cells.assign(done=cells["tries"] - cells["done"])
    found = dict(zip(FIGURES, figures(standings_of(swapped, roster, opposite)).T, strict=True))
    known = dict(zip(FIGURES, figures(standings_of(cells, roster, skills)).T, strict=True))
    for one, other in (("share", "share"), ("low", "high"), ("p_up", "p_up"), ("p_below", "p_below")):
        np.testing.assert_allclose(found[one], 1 - known[other], atol=2e-3)
    np.testing.assert_allclose(found["change"], -known["change"], atol=2e-3)
    np.testing.assert_allclose(found["change_low"], -known["change_high"], atol=2e-3)


ROWS = st.lists(
    st.tuples(
        st.integers(0, 4),
        st.sampled_from(["stop", "start", "gap_up"]),
        st.integers(0, 12),
        st.integers(1, 30),
        st.floats(0, 1),
        st.sampled_from([None, 0, 1]),
        st.sampled_from(["easy", "hard"]),
        st.sampled_from(["Ines", "Milo"]),
    ),
    min_size=1,
    max_size=60,
    unique_by=lambda row: (row[0], row[1], row[2], *row[5:]),
)


@settings(max_examples=40, deadline=None)
@given(ROWS, st.booleans())
def test_no_call_contradicts_its_interval(rows, shared):
    """Whatever was tallied, every figure is possible and every call agrees with its interval."""
    roster = [player(n, Position.GOALIE if n == 0 else Position.FORWARD) for n in range(5)]
    cells = cells_frame(
        cell(
            roster[who],
            key,
            week,
            tries,
            round(share * tries),
            pressure=pressure,
            step=step,
            observer=observer,
        )
        for who, key, week, tries, share, pressure, step, observer in rows
    )
    skills = [skill("stop", 0.5), skill("start", 0.75), skill("gap_up", 0.6)]
    standings = standings_of(cells, roster, skills, shared=shared)
    assert len(standings) == len({row[:2] for row in rows})
    assert_sound(standings)


COUNTS = st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5), st.integers(0, 3)), min_size=1, max_size=25)


@settings(max_examples=40, deadline=None)
@given(COUNTS, st.booleans())
def test_the_engine_fits_or_says_why_not(counts, believed):
    """Any counts give finite estimates, and doubtful ones come with a sentence, or are refused."""
    done, missed, level = np.array(counts).T
    terms = [Term(level), Term(level, np.linspace(-1, 1, len(counts)))]
    fixed, priors = np.ones((len(counts), 1)), Priors(1.0, 0.5) if believed else None
    if not believed and not (done + missed).any():
        with pytest.raises(ValueError, match="no tries"):
            fit_mixed_logit(done, done + missed, fixed, terms, priors)
        return
    fit = fit_mixed_logit(done, done + missed, fixed, terms, priors)
    assert np.isfinite([*fit.fixed, *fit.term_sd, fit.log_likelihood, *np.concatenate(fit.effects)]).all()
    assert (fit.converged and not fit.singular) or fit.warnings
    assert fit.converged or not believed
