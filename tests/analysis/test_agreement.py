"""Agreement against published tables, at its edges, and on simulated observers."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from test_pairing import PLAYERS, START, tally

from evaltrack.analysis.agreement import (
    ALL,
    cohen_kappa,
    compare,
    done_difference,
    drawn_anew,
    gwet_ac1,
    raw_share,
    split_most,
)
from evaltrack.analysis.pairing import Pairing
from evaltrack.rink.tally import Outcome

TABLES = st.lists(st.integers(0, 40), min_size=4, max_size=4).filter(any)


@pytest.mark.parametrize(
    ("table", "kappa"),
    [
        # Cohen (1968), Psychol Bull 70:213-220, proportions
        ([[0.44, 0.07, 0.09], [0.05, 0.20, 0.05], [0.01, 0.03, 0.06]], 0.492),
        # the three that teach the coefficient everywhere; worked by hand: (.7-.5)/.5, (.6-.54)/.46 ...
        ([[20, 5], [10, 15]], 0.400),
        ([[45, 15], [25, 15]], 0.1304),
        ([[25, 35], [5, 35]], 0.2593),
    ],
)
def test_cohen_kappa(table, kappa):
    """Kappa is the published one, to the digits printed."""
    assert cohen_kappa(np.array(table)) == pytest.approx(kappa, abs=5.1e-4 if kappa == 0.492 else 5.1e-5)


def _gwet_of_many(ratings: list[str]) -> float:
    """Return AC1 of any number of raters with gaps, straight from its definition."""
    units = [[row[i] for row in ratings if row[i] != "-"] for i in range(len(ratings[0]))]
    kinds = sorted({kind for unit in units for kind in unit})
    shares = np.array([[unit.count(kind) / len(unit) for kind in kinds] for unit in units])
    many = [unit for unit in units if len(unit) > 1]
    agreed = np.mean(
        [sum(u.count(k) * (u.count(k) - 1) for k in kinds) / (len(u) * (len(u) - 1)) for u in many]
    )
    use = shares.mean(0)
    expected = (use * (1 - use)).sum() / (len(kinds) - 1)
    return (agreed - expected) / (1 - expected)


def test_the_definition_of_ac1_is_the_published_one():
    """Gwet's four raters and twelve units with gaps: .77544.

    The example is in his Handbook of Inter-Rater Reliability; the title is from memory, the value is not.
    """
    ratings = ["123321412---", "1233224125--", "-33323422513", "12332441251-"]
    assert _gwet_of_many(ratings) == pytest.approx(0.77544, abs=5.1e-6)


@given(TABLES.filter(lambda t: (t[0] + t[1] + t[2]) and (t[1] + t[2] + t[3])))
def test_ac1_of_a_table_follows_the_definition(counts):
    """For two observers the table's AC1 is that of the definition, which the published example holds."""
    pairs = [pair for pair, n in zip(("dd", "dm", "md", "mm"), counts, strict=True) for _ in range(n)]
    ratings = ["".join(pair[side] for pair in pairs) for side in (0, 1)]
    assert gwet_ac1(np.reshape(counts, (2, 2))) == pytest.approx(_gwet_of_many(ratings), abs=1e-12)


@given(TABLES)
def test_the_observers_may_change_places(counts):
    """Turned tables have the same coefficients, and the difference with the other sign."""
    table = np.reshape(counts, (2, 2))
    for coefficient in (raw_share, cohen_kappa, gwet_ac1):
        assert coefficient(table) == pytest.approx(coefficient(table.T), nan_ok=True)
    assert done_difference(table) == -done_difference(table.T)


@pytest.mark.parametrize("n", [1, 3, 7, 49])
def test_all_done_leaves_kappa_undefined(n):
    """Where both saw nothing but done, kappa is no number and AC1 is one."""
    table = np.array([[n, 0], [0, 0]])
    assert np.isnan(cohen_kappa(table))
    assert (raw_share(table), gwet_ac1(table)) == (1, 1)


def test_nearly_all_done_keeps_ac1_sound():
    """118 5 / 2 0: 94 % agreed, kappa -.023 and AC1 .941 (values from memory, in Gwet's first papers)."""
    table = np.array([[118, 5], [2, 0]])
    assert cohen_kappa(table) == pytest.approx(-0.0234, abs=5e-5)
    assert gwet_ac1(table) == pytest.approx(0.9408, abs=5e-5)


def made(outcomes: list[tuple[bool, bool]], skill: str = "stop", every: int = 10_000) -> Pairing:
    """Return a pairing with these dones, one pair each ten seconds."""
    kinds = {True: Outcome.DONE, False: Outcome.MISSED}
    pairs = tuple(
        tuple(
            tally(name, START + every * n, n, PLAYERS[n % 10], outcome=kinds[done], skill=skill)
            for name, done in zip(("Dev", "Marit"), both, strict=True)
        )
        for n, both in enumerate(outcomes)
    )
    return Pairing("2026-10-06", "Dev", "Marit", 0.0, pairs, len(pairs), len(pairs))


def rows(*pairings: Pairing, seed: int = 1) -> dict:
    """Return the rows by skill."""
    found = compare(pairings, ["start", "stop"], np.random.default_rng(seed))
    return {row.skill: row for row in found}


def test_a_row_counts_what_was_paired():
    """Tries, minutes, dones and the difference are those of the pairs."""
    row = rows(made([(True, True)] * 30 + [(True, False)] * 12 + [(False, False)] * 18))["stop"]
    assert (row.tries, row.minutes, row.first_done, row.second_done) == (60, 10, 42, 30)
    assert (row.share, row.difference) == pytest.approx((0.8, 0.2))
    assert row.share_low < row.share < row.share_high
    assert row.kappa_low < row.kappa < row.kappa_high
    assert row.ac1_low < row.ac1 < row.ac1_high
    assert row.difference_low < row.difference < row.difference_high


def test_all_done_does_not_explode():
    """Two observers who only saw done have kappa undefined, and no certainty out of nothing."""
    row = rows(made([(True, True)] * 60))["stop"]
    assert (row.kappa, row.kappa_low, row.ac1_low) == (None, None, None)
    assert row.share_high == 1
    assert 0.6 < row.share_low < 0.9
    assert 0 < row.p_below < 0.5


def test_few_minutes_have_no_interval():
    """From three minutes no interval is drawn: the figures stand alone."""
    row = rows(made([(True, True), (True, False)] * 9))["stop"]
    assert (row.minutes, row.share) == (3, 0.5)
    assert {row.share_low, row.p_below, row.kappa_low, row.ac1_high, row.difference_low} == {None}


def test_the_skill_they_split_on_most():
    """It is the one with the lowest share agreed; one with a handful of tries is not named."""
    alike = made([(True, True)] * 20 + [(True, False)] * 2, "stop")
    apart = made([(True, True)] * 15 + [(False, True)] * 10, "start")
    few = made([(True, False)] * 5, "start")
    assert split_most(rows(alike, apart).values()).skill == "start"
    assert split_most(rows(alike, few).values()).skill == "stop"
    assert split_most(rows(made([(True, True)] * 30)).values()) is None


def test_without_pairs_there_is_no_row():
    """A practice without a common time gives no row."""
    assert rows(Pairing("2026-10-06", "Dev", "Marit", None, (), 40, 40)) == {}


def test_over_all_is_the_sum_of_the_skills():
    """The row over all has every skill's tries and agreed tries."""
    found = rows(made([(True, True)] * 20), made([(True, False)] * 10, "start"))
    assert found[ALL].tries == found["stop"].tries + found["start"].tries == 30
    assert found[ALL].share == pytest.approx(2 / 3)


def test_the_seed_decides_the_intervals():
    """The same generator gives the same intervals, another one others that are near."""
    pairing = made([(True, True), (True, False), (False, False)] * 40)
    one, same, other = (rows(pairing, seed=seed)["stop"] for seed in (1, 1, 2))
    assert one == same
    assert one.share_low == pytest.approx(other.share_low, abs=0.03)


def test_minutes_drawn_anew_spread_as_the_formula_says():
    """The spread of a share over drawn clusters is that of a mean: s / sqrt(m), clusters of equal size."""
    rng = np.random.default_rng(3)
    agreed = rng.integers(0, 11, 200)
    tables = np.array([[[a, 10 - a], [0, 0]] for a in agreed])
    drawn = raw_share(drawn_anew(tables, rng, draws=20_000))
    assert drawn.std() == pytest.approx(agreed.std() / 10 / np.sqrt(200), rel=0.03)
    assert drawn.mean() == pytest.approx(agreed.mean() / 10, abs=0.001)


def test_the_interval_covers_what_it_says():
    """Of 300 simulated comparisons, true share .82 and good and bad minutes, 82 to 96 % lie within it."""
    rng = np.random.default_rng(11)
    held = 0
    for _ in range(300):
        agreed = rng.binomial(6, rng.beta(8.2, 1.8, 30))
        tables = np.array([[[a, 6 - a], [0, 0]] for a in agreed])
        low, high = np.quantile(raw_share(drawn_anew(tables, rng, draws=500)), [0.05, 0.95])
        held += low <= 0.82 <= high
    assert 0.82 <= held / 300 <= 0.96
