"""How many players are below a target: of whom it is counted, what is expected, and how sure that is."""

from datetime import timedelta

import numpy as np
import pytest
from scipy.special import expit, logit
from seasons import FIRST, cell, player, season, skill

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.season.together import together_of
from evaltrack.analysis.standings.below_target import AtOneMoment, Judged, judged_in
from evaltrack.analysis.standings.counts import own_time
from evaltrack.analysis.standings.standings import positions_of, standings_of
from evaltrack.analysis.standings.targets import Below, judged


@pytest.fixture(scope="module")
def fitted():
    """Give a fit of one skill, of which some have too few tries, its cells and its standings."""
    roster = [player(n) for n in range(1, 9)]
    rows = [cell(who, "s", week, 4, done) for who, done in zip(roster[:5], (0, 1, 2, 3, 4), strict=True)
            for week in range(6)]  # fmt: skip
    rows += [cell(roster[5], "s", 0, 30, 15)]  # at one practice
    rows += [cell(roster[6], "s", week, 3, 1) for week in range(3)]  # nine tries
    rows += [cell(roster[7], "s", 2 + week, n, 1) for week, n in enumerate((3, 3, 4))]  # just enough
    cells = cells_frame(rows)
    fit = fit_season(cells, positions_of(roster))["s"]
    return roster, cells, fit, standings_of(cells, roster, [skill("s")])


def test_those_are_counted_who_can_be_judged(fitted):
    """Ten tries at three practices; nine are too few, and thirty at one practice too."""
    _, cells, fit, standings = fitted
    found = judged_in(cells, fit, own_time(cells))
    assert [one.player for one in judged(standings, "s")] == ["1", "2", "3", "4", "5", "8"]
    assert found.now(0.5).of == 6
    assert judged(standings, "other") == []


@pytest.mark.parametrize("target", [0.2, 0.5, 0.6, 0.9])
def test_what_is_expected_is_exact_and_the_interval_holds_what_is_drawn(fitted, target):
    """Against a plain count over draws by another root of the covariance and another seed."""
    _, cells, fit, _ = fitted
    own, place = own_time(cells), {ident: row for row, ident in enumerate(fit.players)}
    idents = sorted(ident for ident, _ in own)
    ends = fit.axis.at([own[ident, "s"][1] for ident in idents])
    moment = AtOneMoment(together_of(fit, [place[ident] for ident in idents]), ends)
    middle, cov = moment.together.at(ends)
    values, axes = np.linalg.eigh(cov)
    normal = np.random.default_rng(7).standard_normal((40_000, len(middle)))
    count = (middle + normal @ (axes * np.sqrt(np.maximum(values, 0))).T < logit(target)).sum(1)
    found = moment.below(target)
    assert found.expected == pytest.approx(count.mean(), abs=0.03)
    assert found.low <= found.expected <= found.high
    assert np.mean(count < found.low) <= 0.06
    assert np.mean(count > found.high) <= 0.06
    # and no wider than it must be, unless to hold what is expected
    assert np.mean(count <= found.low) > 0.04 or found.low == int(found.expected)
    assert np.mean(count >= found.high) > 0.04 or found.high == np.ceil(found.expected)


def test_the_order_in_which_players_are_named_changes_nothing(fitted):
    """So whoever asks gets the same interval."""
    _, cells, fit, _ = fitted
    own = own_time(cells)
    times = [(ident, own[ident, "s"]) for ident in fit.players]
    assert Judged(fit, times).now(0.5) == Judged(fit, times[::-1]).now(0.5)


def test_then_is_the_start_and_now_the_end_of_the_players_own_time():
    """A team that gets better has more below the target then; of a lone player it is their chance."""
    roster = [player(n) for n in range(1, 7)]
    rows = [cell(who, "s", week, 6, 1 + week // 2) for who in roster for week in range(10)]
    cells = cells_frame(rows)
    fit, own = fit_season(cells)["s"], own_time(cells)
    found = judged_in(cells, fit, own)
    assert found.then(0.5).expected > 4
    assert found.now(0.5).expected < 2
    ident = roster[2].id.bytes
    alone = Judged(fit, [(ident, (FIRST, FIRST + timedelta(weeks=9)))])
    (mine,) = [one for one in standings_of(cells, roster, [skill("s", 0.5)]) if one.player == "3"]
    assert alone.now(0.5).expected == pytest.approx(mine.p_below)
    start = fit.outlook.of([fit.players.index(ident)]).path(fit.axis.at([FIRST]))
    assert expit(start[0][0, 0]) < 0.5 < expit(alone._ends.together.at(alone._ends.times)[0][0])


def test_of_nobody_nothing_is_expected(fitted):
    """Where none can be judged, none is below."""
    fit = fitted[2]
    assert Judged(fit, []).now(0.5) == Judged(fit, []).then(0.5) == Below(0.5, 0, 0.0, 0, 0)


def test_a_skill_whose_estimate_is_doubted_judges_nobody():
    """Its standings are the plain counts."""
    cells, roster, catalogue = season(players=4, practices=1)
    assert judged(standings_of(cells, roster, catalogue), catalogue[0].key) == []
