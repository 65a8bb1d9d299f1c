"""What to train: planted needs are found, nothing is said where nothing is wrong."""

from dataclasses import replace

import numpy as np
import pytest
from planned_seasons import D, known, tallied, team
from scipy.special import expit, logit, ndtri

from evaltrack.analysis.planning.needs import SkillNeed, needs_of, proposed
from evaltrack.analysis.standings.standing import Call
from evaltrack.analysis.standings.targets import judged
from evaltrack.rink.plan import Likely, Need
from evaltrack.rink.player import Status

ROSTER = team("DDDDDDFFFFFFFFG")


def needs(season, players=ROSTER):
    """Return the need by skill."""
    found = needs_of(players, season.skills, season.fits, season.standings, season.lately)
    return {one.need.skill: one for one in found}


@pytest.fixture(scope="module")
def weak_wall():
    """Give a season in which the wall puck comes off in 3 of 10, all else in 9 of 10."""
    shares = {"outlet": 0.9, "lane": 0.9, "wall": 0.3, "shot": 0.9}
    return known(ROSTER, tallied(ROSTER, shares), 8)


def test_a_planted_need_is_found_and_nothing_else(weak_wall):
    """All eight forwards are short of .6 by about 30 points, and named by their calls."""
    found = needs(weak_wall)
    assert [one.need.skill for one in proposed([*found.values()])] == ["wall"]
    need = found["wall"].need
    assert need.players == 8
    assert need.below.low >= 7
    assert need.short.low < 30 < need.short.high
    assert set(need.named) == {p.number for p in ROSTER if p.position == "F"}
    assert need.sure > 0.99
    assert found["lane"].need.below.value < 1


def test_where_nothing_is_wrong_nothing_is_proposed():
    """Everybody is above the target in everything."""
    season = known(ROSTER, tallied(ROSTER, {"outlet": 0.9, "lane": 0.85, "wall": 0.9}), 8)
    assert proposed([*needs(season).values()]) == []


def test_the_expected_number_is_that_of_the_standings(weak_wall):
    """The sum of the players' probabilities to be below the target."""
    for key, one in needs(weak_wall).items():
        own = judged(weak_wall.standings, key)
        assert one.need.judged == len(own) == one.need.players
        assert one.need.below.value == pytest.approx(sum(s.p_below for s in own))


def test_nobody_is_named_with_too_few_tries():
    """Two tries of each, all missed, over four practices: a call is not made, so no name either."""
    tallies = [one for one in tallied(ROSTER, {"wall": 0.0}, weeks=4, each=1) if one.practice != "x"]
    season = known(ROSTER, tallies[::2], 4)
    assert {s.call for s in season.standings} == {Call.TOO_FEW}
    need = needs(season)["wall"].need
    assert need.named == ()
    assert (need.judged, need.players, need.below) == (0, 4, Likely(0, 0, 0))
    assert need.short.value > 20  # of all with a try, which is told of them together


def test_only_who_is_here_counts(weak_wall):
    """Of three forwards the need is of three; defenders have none; the unseen are counted apart."""
    new = replace(ROSTER[6], number="99", id=type(ROSTER[6].id)(int=7))
    found = needs(weak_wall, [*ROSTER[6:9], new])
    assert (found["wall"].need.players, found["wall"].need.judged) == (3, 3)
    assert found["wall"].need.unseen == 1
    assert "outlet" not in found


def test_a_skill_watched_once_tells_nothing():
    """One practice is too little for an estimate that may be shown."""
    season = known(ROSTER, tallied(ROSTER, {"wall": 0.1}, weeks=1), 1)
    assert needs(season) == {}


def test_what_was_trained_lately_is_told(weak_wall):
    """Of the last four practices: how many of all tallies were in the skill."""
    need = needs(weak_wall)["wall"].need
    assert (need.tallies, need.practices) == (4 * 8 * 5, 4)
    assert need.of == 4 * 5 * (6 + 3 * 8)


def test_of_equal_needs_the_less_trained_comes_first():
    """And a plainly greater need comes first however much it was trained."""
    rng = np.random.default_rng(1)

    def made(skill: str, short: float, tallies: int) -> SkillNeed:
        some = Likely(5, 4, 6)
        need = Need(skill, 8, 8, some, some, 0.99, 2, tallies=tallies)
        return SkillNeed(need, {}, rng.normal(short, 10, 4000))

    one, two, great = made("a", 100, 90), made("b", 99, 10), made("c", 300, 500)
    assert [n.need.skill for n in proposed([one, two, great])] == ["c", "b", "a"]
    unsure = replace(great, need=replace(great.need, sure=0.89))
    assert [n.need.skill for n in proposed([one, unsure])] == ["a"]
    just_sure = replace(great, need=replace(great.need, sure=0.9))
    assert [n.need.skill for n in proposed([just_sure])] == ["c"]
    assert len(proposed([made(f"s{n}", 50, n) for n in range(6)])) == 3


@pytest.mark.parametrize(("needier", "first"), [(800, "b"), (799, "a")])
def test_two_needs_are_alike_from_one_in_five(needier, first):
    """Of those that are as likely as this to be the needier one, the less trained comes first."""
    some = Likely(5, 4, 6)

    def made(skill: str, drawn, tallies: int) -> SkillNeed:
        return SkillNeed(Need(skill, 8, 8, some, some, 0.99, 2, tallies=tallies), {}, drawn)

    most = made("a", np.full(4000, 10.0), 90)
    other = made("b", np.where(np.arange(4000) < needier, 20.0, 5.0), 10)
    assert proposed([most, other])[0].need.skill == first


def test_how_far_short_they_are_is_that_of_the_standings(weak_wall):
    """In points, each one's expected shortfall by their own interval, and on average."""
    one, target = needs(weak_wall)["wall"], 0.6
    nodes, masses = np.polynomial.hermite_e.hermegauss(120)
    for standing in judged(weak_wall.standings, "wall"):
        low, high = logit([standing.low, standing.high])
        shares = expit((low + high) / 2 + (high - low) / 2 / ndtri(0.95) * nodes)
        short = 100 * np.maximum(target - shares, 0) @ masses / masses.sum()
        assert one.short[standing.player] == pytest.approx(short, abs=0.25)
    assert one.need.short.value == pytest.approx(np.mean([*one.short.values()]))
    assert one.drawn.mean() == pytest.approx(sum(one.short.values()))


def test_a_limited_or_away_defender_is_one_all_the_same():
    """Status changes nothing of what is known."""
    season = known(ROSTER, tallied(ROSTER, {"outlet": 0.3}), 8)
    some = [replace(p, status=Status.LIMITED) for p in ROSTER if p.position is D]
    assert needs(season, some)["outlet"].need.players == 6
