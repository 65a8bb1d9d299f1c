"""Agreement against published tables, at its edges, and on simulated observers."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import FOUR_RATERS, chosen, diagnoses
from statsmodels.stats.inter_rater import cohens_kappa, fleiss_kappa
from test_pairing import PLAYERS, START, tally

from evaltrack.analysis.agreement.agreement import (
    ALL,
    cohen_kappa,
    compare,
    done_difference,
    gwet_ac1,
    raw_share,
    split_most,
)
from evaltrack.analysis.agreement.pairing import Pairing
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


def coincidences(counts, together=1):
    """Return the table (kinds, kinds) of what two raters of one unit said, over all such pairs.

    ``counts`` (units, kinds) says how many raters chose each kind. A unit of m raters has m (m - 1)
    ordered pairs, which count together as m (Krippendorff's coincidences), or as one unit with
    ``together`` 0. Units of one rater have no pair.
    """
    counts = counts[counts.sum(1) > 1]
    raters = counts.sum(1)
    pairs = counts[:, :, None] * counts[:, None, :] - np.eye(counts.shape[1]) * counts[:, None, :]
    return np.tensordot(raters**together / (raters * (raters - 1)), pairs, axes=1)


def test_kappa_of_many_raters():
    """Fleiss (1971), Psychol Bull 76:378-382, thirty subjects and six raters: kappa .430.

    His kappa is ours of all the pairs of raters, in either order. statsmodels agrees to twelve digits.
    """
    counts = diagnoses()
    assert (counts.sum(1) == 6).all()
    assert cohen_kappa(coincidences(counts)) == pytest.approx(0.430, abs=5.1e-4)
    assert cohen_kappa(coincidences(counts)) == pytest.approx(fleiss_kappa(counts), abs=1e-12)


def test_alpha_of_many_raters_with_gaps():
    """Krippendorff's alpha of Gwet's four raters and twelve units: .74342.

    Alpha is one minus seen over expected splits, as kappa is, but expects n - 1 of n: nobody is paired
    with himself (Hayes and Krippendorff 2007, Commun Methods Meas 1:77-89).
    """
    table = coincidences(chosen(FOUR_RATERS))
    n = table.sum()
    assert n == 40  # the unit of one rater is left out
    assert 1 - (1 - cohen_kappa(table)) * (n - 1) / n == pytest.approx(0.74342, abs=5.1e-6)


def gwet_of_many(counts):
    """Return AC1 of any number of raters with gaps, from counts (units, kinds), by its definition."""
    agreed = raw_share(coincidences(counts, together=0))
    use = (counts / counts.sum(1, keepdims=True)).mean(0)
    expected = (use * (1 - use)).sum() / (len(use) - 1)
    return (agreed - expected) / (1 - expected)


def test_ac1_of_many_raters_with_gaps():
    """Gwet's four raters and twelve units with gaps: AC1 .77544."""
    assert gwet_of_many(chosen(FOUR_RATERS)) == pytest.approx(0.77544, abs=5.1e-6)


def test_ac1_of_many_raters_is_that_of_their_pairs():
    """Where each unit has the same number of raters, Gwet's definition gives ours of all the pairs."""
    counts = diagnoses()
    assert gwet_ac1(coincidences(counts)) == pytest.approx(gwet_of_many(counts), abs=1e-12)


@given(TABLES)
def test_ac1_of_two_observers_follows_the_definition(cells):
    """For two observers the table's AC1 is that of the definition, which the published example holds."""
    counts = np.repeat([[2, 0], [1, 1], [1, 1], [0, 2]], cells, axis=0)
    assert gwet_ac1(np.reshape(cells, (2, 2))) == pytest.approx(gwet_of_many(counts), abs=1e-12)


@given(st.lists(st.integers(0, 30), min_size=9, max_size=9).filter(any))
def test_kappa_is_that_of_statsmodels(cells):
    """Of any table of three outcomes kappa is that of statsmodels, where it is defined."""
    table = np.reshape(cells, (3, 3))
    kappa = cohen_kappa(table)
    if np.isnan(kappa):
        assert np.count_nonzero(table) == 1
    else:
        assert kappa == pytest.approx(cohens_kappa(table, return_results=False), abs=1e-9)


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


def rows(*pairings: Pairing) -> dict:
    """Return the rows by skill."""
    return {row.skill: row for row in compare(pairings, ["start", "stop"])}


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


def test_pairs_of_observers_go_by_name():
    """Rows go by the names as a reader orders them, so that Ø is found under O."""
    pairs = [("Øyvind", "Pia"), ("Åse", "Øyvind"), ("Nils", "Øyvind"), ("mika", "Pia"), ("Nils", "Łucja")]
    found = [replace(made([(True, True)] * 5), first=first, second=second) for first, second in pairs]
    shown = compare(found, ["stop"])
    order = [1, 3, 4, 2, 0]
    assert [(row.first, row.second) for row in shown if row.skill == ALL] == [pairs[i] for i in order]


def test_without_pairs_there_is_no_row():
    """A practice without a common time gives no row."""
    assert rows(Pairing("2026-10-06", "Dev", "Marit", None, (), 40, 40)) == {}


def test_over_all_is_the_sum_of_the_skills():
    """The row over all has every skill's tries and agreed tries."""
    found = rows(made([(True, True)] * 20), made([(True, False)] * 10, "start"))
    assert found[ALL].tries == found["stop"].tries + found["start"].tries == 30
    assert found[ALL].share == pytest.approx(2 / 3)


def test_the_skill_in_which_one_is_stricter_comes_first():
    """A clear difference of severity tells more than a share agreed that is a little lower."""
    strict = made(([(True, True)] * 3 + [(False, True), (False, False)]) * 10, "stop")
    mixed = made(([(True, True)] * 3 + [(False, True), (True, False)]) * 10, "start")
    found = rows(strict, mixed)
    assert found["start"].share < found["stop"].share
    assert split_most(found.values()).skill == "stop"
