"""What must hold for standings of any season."""

from dataclasses import replace
from uuid import UUID

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.special import logit
from seasons import assert_sound, cell, player, season, skill

from evaltrack.analysis.mixed_logit import Priors, Term, fit_mixed_logit
from evaltrack.analysis.mixed_logit.design import laplace_of
from evaltrack.analysis.mixed_logit.problem import checked
from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_design import axis_of, season_design
from evaltrack.analysis.standings.standing import Call, Trend
from evaltrack.analysis.standings.standings import standings_of
from evaltrack.rink.player import Position

SEEDS = st.integers(0, 10_000)
FEW = settings(max_examples=12, deadline=None)
FIGURES = (
    "share", "low", "high", "start_share", "change", "change_low", "change_high", "p_up", "p_below", "low50",
    "high50",
)  # fmt: skip


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
    """Other ids for players, other keys for skills, practices, steps and observers change no figure."""
    cells, roster, skills = season(seed)
    rng = np.random.default_rng(seed)
    renamed = [
        replace(one, id=UUID(int=int(n))) for one, n in zip(roster, rng.permutation(10) + 1, strict=True)
    ]
    other = {old.id.bytes: new.id.bytes for old, new in zip(roster, renamed, strict=True)}
    changed = cells.assign(
        player=cells["player"].map(other),
        skill=cells["skill"].map({"s0": "wrist", "s1": "backhand"}),
        practice=cells["practice"].map(lambda key: key[::-1]),
        drill="small_area",
        step=cells["step"].map({"two_on_one": "z", "three_on_one": "a"}),
        observer=cells["observer"].map({"I": "Zoe", "M": "Ann"}),
    )
    found = standings_of(
        changed, renamed, [replace(skills[0], key="wrist"), replace(skills[1], key="backhand")]
    )
    known = standings_of(cells, roster, skills)
    assert [one.player for one in found] == [one.player for one in known]
    assert [one.call for one in found] == [one.call for one in known]
    np.testing.assert_allclose(figures(found), figures(known), atol=1e-6)


def widths(standings):
    """Return the widths of the intervals: of each share on the logit scale, of each share, of each change."""
    _, low, high, _, _, change_low, change_high, *_ = figures(standings).T
    return np.array([logit(high) - logit(low), high - low, change_high - change_low])


@settings(max_examples=6, deadline=None)
@given(SEEDS)
def test_more_tries_narrow_every_interval(seed):
    """With twice as many tries, seen anew, each share is known better on the scale on which it is estimated.

    With four times as many the interval of each share is narrower itself, and changes on average.
    """
    once, twice, four = (widths(standings_of(*season(seed, tries=tries))) for tries in (3, 6, 12))
    assert (twice[0] < once[0]).all()
    assert twice[1].mean() < once[1].mean()
    assert (four[:2] < once[:2]).all()
    assert four[2].mean() < once[2].mean()


@FEW
@given(SEEDS)
def test_doubled_counts_narrow_the_intervals(seed):
    """The same counts twice leave, over the team, less doubt about the shares.

    Not for every player, nor for the change: the same luck twice looks like real differences between
    players and days, so the SDs grow.
    """
    cells, roster, skills = season(seed)
    twice = cells.assign(tries=cells["tries"] * 2, done=cells["done"] * 2)
    once, doubled = widths(standings_of(cells, roster, skills)), widths(standings_of(twice, roster, skills))
    assert doubled[1].mean() < once[1].mean()


@FEW
@given(SEEDS)
def test_doubled_counts_narrow_every_effect_where_the_sds_are_known(seed):
    """With the SDs held where they are, the same counts twice leave no effect less certain than once."""
    cells, _, _ = season(seed)
    design = season_design(cells, axis_of(cells["held_on"]), {}, shared=True)
    variances = []
    for times in (1, 2, 4):
        counts = checked(cells["done"] * times, cells["tries"] * times, design.fixed, design.terms)
        laplace = laplace_of(counts, np.zeros(counts.columns), design.priors.fixed_sd)
        factor = laplace.mode(np.log(design.priors.sd_scale)).factor
        variances.append(factor.inverse()[laplace.diagonal])
    assert (np.diff(variances, axis=0) <= 1e-12).all()
    assert (np.diff(variances, axis=0) < -1e-6).mean() > 0.9


@FEW
@given(SEEDS)
def test_done_and_missed_mirror_each_other(seed):
    """Were done missed and missed done, every share would be what is left of it, every call its opposite."""
    cells, roster, _ = season(seed)
    skills = [skill("s0", 0.4), skill("s1", 0.4)]
    opposite = [skill("s0", 0.6), skill("s1", 0.6)]
    swapped = cells.assign(done=cells["tries"] - cells["done"])
    mirrored, plain = standings_of(swapped, roster, opposite), standings_of(cells, roster, skills)
    found = dict(zip(FIGURES, figures(mirrored).T, strict=True))
    known = dict(zip(FIGURES, figures(plain).T, strict=True))
    for one, other in (("share", "share"), ("low", "high"), ("low50", "high50"), ("p_up", "p_up"),
                       ("p_below", "p_below"), ("start_share", "start_share")):  # fmt: skip
        np.testing.assert_allclose(found[one], 1 - known[other], atol=1e-6)
    np.testing.assert_allclose(found["change"], -known["change"], atol=1e-6)
    np.testing.assert_allclose(found["change_low"], -known["change_high"], atol=1e-6)
    turned = {Call.WORK_ON: Call.SOLID, Call.SOLID: Call.WORK_ON, Trend.UP: Trend.DOWN, Trend.DOWN: Trend.UP}
    for one, other in zip(mirrored, plain, strict=True):
        assert one.call == turned.get(other.call, other.call)
        assert one.trend == turned.get(other.trend, other.trend)


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


ALL_FAILED = [
    (0, "stop", 0, 1, 1.0, None, "easy", "Ines"),
    (0, "stop", 0, 3, 1.0, None, "hard", "Ines"),
    (0, "stop", 3, 15, 0.0, None, "hard", "Milo"),
    (0, "stop", 10, 1, 0.0, None, "easy", "Ines"),
    (1, "stop", 0, 20, 0.0, 1, "easy", "Ines"),
    (1, "gap_up", 0, 15, 1.0, None, "easy", "Ines"),
    (2, "gap_up", 2, 3, 1.0, None, "hard", "Milo"),
    (2, "gap_up", 9, 7, 0.0, None, "easy", "Milo"),
    (3, "gap_up", 1, 8, 0.0, None, "hard", "Ines"),
]


@settings(max_examples=40, deadline=None)
@given(ROWS, st.booleans())
@example(ALL_FAILED, False)
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
