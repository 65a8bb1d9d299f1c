"""How many players are below a target: of whom it is counted, what is expected, and how sure that is."""

from datetime import timedelta

import numpy as np
import pytest
from scipy.special import expit, logit
from seasons import FIRST, cell, player, season, skill
from seasons_for_touch import new_season
from watched_unevenly import random_season

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.season.together import together_of
from evaltrack.analysis.standings.below_target import AtOneMoment, Judged, judged_in, read_below
from evaltrack.analysis.standings.counts import own_time
from evaltrack.analysis.standings.standings import positions_of, read_standings, standings_of
from evaltrack.analysis.standings.targets import Below, judged
from evaltrack.store.opening import open_season


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


def test_one_draw_in_twenty_is_left_out_on_either_side(fitted):
    """Where just 5 % of the draws have two below it, two are not within; with one more they are."""
    _, cells, fit, _ = fitted
    own, place = own_time(cells), {ident: row for row, ident in enumerate(fit.players)}
    pair = [ident for ident, _ in sorted(own)][:2]
    moment = AtOneMoment(together_of(fit, [place[ident] for ident in pair]), np.ones(2))
    both, none = np.sort(moment.drawn.max(1)), np.sort(-moment.drawn.min(1))

    def between(ordered, at):
        """Return the middle of two neighbours, so many of which lie under it."""
        return (ordered[at - 1] + ordered[at]) / 2

    fewest, most = (moment.below(float(expit(between(both, at)))) for at in (200, 201))
    assert (fewest.expected < 1, fewest.high, most.high) == (True, 1, 2)
    fewest, most = (moment.below(float(expit(-between(none, at)))) for at in (200, 201))
    assert (fewest.expected > 1, fewest.low, most.low) == (True, 1, 0)


@pytest.mark.parametrize("seed", range(2))
def test_a_season_file_is_counted_as_its_standings_have_it(tmp_path, seed):
    """Skill by skill, by the target in force; of one that nobody tried, or that is doubted, of nobody."""
    with open_season(random_season(tmp_path / "season.db", seed)) as opened:
        skills, standings = opened.catalogue.skills(), read_standings(opened)
        found = read_below(opened, {one.key: (one.target, 0.99) for one in skills} | {"unknown": (0.5,)})
    assert found.pop("unknown") == (Below(0.5, 0),)
    for one in skills:
        known = judged(standings, one.key)
        now, most = found[one.key]
        assert (now.target, now.of, most.of) == (one.target, len(known), len(known))
        assert now.expected == pytest.approx(sum(standing.p_below for standing in known), abs=1e-6)
        assert now.expected <= most.expected
    assert sum(now.of for now, _ in found.values()) > 0 or seed == 0


def test_an_empty_season_judges_nobody(tmp_path):
    """There is nothing to fit."""
    with open_season(new_season(tmp_path / "empty.db")) as opened:
        assert read_below(opened, {"stop": (0.65, 0.7)}) == {"stop": (Below(0.65, 0), Below(0.7, 0))}
