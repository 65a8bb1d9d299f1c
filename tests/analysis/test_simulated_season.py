"""The simulator draws what it always drew, and its truth is what its law says."""

import hashlib

import numpy as np
import pytest
from season_law import Law, share
from season_truth import AVERAGE_OBSERVER, Estimand
from simulated_season import SimulatedSeason, World, roster, simulate

from evaltrack.rink.player import Position

# of the bits of ``done``, drawn with seeds 0 and 1, before any harder world was added
DRAWN = {
    World(): ("6bb625f034a9a58d", "4b18586b9ea5e909"),
    World(tries=10): ("b71841409ee622e3", "d9a360fc77117143"),
    World(sd_slope=0.0, team_slope=0.0): ("b6d260597c29bb3f", "5dfa7086d7d72ede"),
    World(sd_spread=0.4): ("c9c97d1aaaebf073", "e221ee716b38de8e"),
    World(players=10, skills=3, practices=8): ("9450388d36b40b42", "ea80ad965e3a6dfc"),
}


def checksum(done: np.ndarray) -> str:
    return hashlib.sha256(np.packbits(done).tobytes()).hexdigest()[:16]


@pytest.mark.parametrize(("world", "known"), DRAWN.items())
def test_known_worlds_are_drawn_as_ever(world, known):
    """Harder worlds change no draw of the plain ones, so figures of years can be held side by side."""
    assert tuple(checksum(simulate(np.random.default_rng(seed), world).done) for seed in (0, 1)) == known


@pytest.mark.parametrize(
    ("world", "now", "change"),
    [
        (World(), 87.0520491983718, 12.454899161368184),
        (World(players=10, skills=3, practices=8), 18.12506329823906, 4.295146531163666),
    ],
)
def test_the_share_for_an_average_observer_is_what_it_was(world, now, change):
    """The share under everybody's mix and an average observer, over the whole season, is as before."""
    shares, changes = simulate(np.random.default_rng(0), world).truth(AVERAGE_OBSERVER)
    assert shares.sum() == pytest.approx(now, rel=1e-12)
    assert changes.sum() == pytest.approx(change, rel=1e-12)


def by_hand(**parts) -> SimulatedSeason:
    """Return a season of one skill: a forward at practices 0 and 2, a defender at 1 and 2."""
    law = {
        "course": np.array([[[0.0, 1.0, 2.0, 3.0]], [[-9.0, -1.0, -0.5, 0.0]]]),
        "step": np.array([[0.0], [-1.0]]),
        "observer": np.array([[[0.0] * 4], [[-0.4, -0.4, -0.8, 9.0]]]),
        "practice": np.array([[5.0]] * 4),
        "pressure": -0.5,
        "noted": np.array([1.0, 1.0]),
    }
    rows = {"player": [0, 0, 1, 1], "practice": [0, 2, 1, 2], "step": [1, 1, 0, 1], "observer": [0, 0, 1, 1]}
    columns = {name: np.array(values) for name, values in rows.items()}
    return SimulatedSeason(
        skill=np.zeros(4, int), pressure=np.array([False, True, False, False]), done=np.ones(4, bool),
        law=Law(**law | parts), days=[], defender=np.array([False, True]), **columns,
    )  # fmt: skip


def test_a_share_by_hand():
    """Own days, the group's kinds and the season's observers: each figure of a tiny season by hand."""
    now, change = by_hand().truth()
    # the forwards' kinds: the hard step, half of it pressed; half of all tries by each observer, whose
    # effect is the mean of -0.4 and -0.8
    kinds, observers = np.array([-1.0, -1.5]), np.array([0.0, -0.6])
    at_2, at_0 = (share(level + np.add.outer(kinds, observers)).mean() for level in (2.0, 0.0))
    assert now[0, 0] == pytest.approx(at_2)
    assert change[0, 0] == pytest.approx(at_2 - at_0)
    at_2, at_1 = (share(level + np.add.outer([0.0, -1.0], observers)).mean() for level in (-0.5, -1.0))
    assert now[1, 0] == pytest.approx(at_2)
    assert change[1, 0] == pytest.approx(at_2 - at_1)


def test_each_part_of_the_estimand_by_hand():
    """Everybody's kinds, an average observer, the whole season: each by itself."""
    kinds, observers = np.array([-1.0, -1.5, 0.0, -1.0]), np.array([0.0, -0.6])
    season = by_hand()
    assert season.truth(Estimand(group_mix=False))[0][0, 0] == pytest.approx(
        share(2.0 + np.add.outer(kinds, observers)).mean()
    )
    assert season.truth(Estimand(own_observers=False))[0][0, 0] == pytest.approx(
        share(2.0 + kinds[:2]).mean()
    )
    late = share(3.0 + np.add.outer(kinds[:2], observers)).mean()
    assert season.truth(Estimand(own_days=False))[0][0, 0] == pytest.approx(late)


def test_who_notes_a_part_of_the_dones_is_stricter_by_its_logarithm():
    """An observer who notes every fourth done counts as log(1/4) stricter."""
    partly, strict = np.array([1.0, 0.25]), np.array([[[0.0] * 4], [[-0.6 + np.log(0.25)] * 4]])
    now = by_hand(noted=partly).truth()[0]
    assert now == pytest.approx(by_hand(observer=strict).truth()[0])


HARD = World(
    players=4, skills=2, practices=5, tries=60, steps=3, defenders=2, joiners=1, absent=1, noted=0.45,
    drift=0.8, forwards_step=-1.0, jump=0.5, sd_jump=0.5, still=0.5, strict=0.3, change_from=0.4,
)  # fmt: skip


def test_the_truth_is_the_frequency_of_tries_that_follow_the_law():
    """Kinds from the group's tries, observers from the skill's, noted as they note: the shares agree."""
    season, rng, n = simulate(np.random.default_rng(5), HARD), np.random.default_rng(6), 200_000
    law, (now, change) = season.law, season.truth()
    for p, s in np.ndindex(now.shape):
        mine = season.skill == s
        alike = np.flatnonzero(mine & (season.defender[season.player] == season.defender[p]))
        kind = rng.choice(alike, n)
        observer = season.observer[rng.choice(np.flatnonzero(mine), n)]
        mean = [law.observer[o, s, season.practice[mine & (season.observer == o)]].mean() for o in (0, 1)]
        both = [season.practice[season.player == p], season.practice[mine]]
        for day, true in (
            (min(each.max() for each in both), now[p, s]),
            (max(each.min() for each in both), now[p, s] - change[p, s]),
        ):
            logit = law.course[p, s, day] + law.step[season.step[kind], s] + np.array(mean)[observer]
            done = rng.random(n) < share(logit + law.pressure * season.pressure[kind])
            noted = ~done | (rng.random(n) < law.noted[observer])
            # each observer's noted tries keep their part of all tries
            weight = np.bincount(observer) / np.bincount(observer[noted])
            frequency = np.average(done[noted], weights=weight[observer[noted]])
            assert frequency == pytest.approx(true, abs=0.008)


def test_tries_follow_the_law():
    """In very many tries every kind of try is done as often as the law says, as far as it is noted."""
    world = World(
        players=2, skills=1, practices=2, tries=400_000, steps=3, defenders=1, noted=0.45, drift=0.8,
        forwards_step=-1.0, jump=0.5, strict=0.3,
    )  # fmt: skip
    season = simulate(np.random.default_rng(7), world)
    rows = (season.player, season.skill, season.practice, season.step, season.pressure, season.observer)
    kinds, kind = np.unique(np.column_stack(rows), axis=0, return_inverse=True)
    tries, done = np.bincount(kind.ravel()), np.bincount(kind.ravel(), season.done)
    chance = season.law.chance(*kinds.T)
    noted = season.law.noted[kinds[:, -1]]
    seen = chance * noted / (chance * noted + 1 - chance)
    z = (done - tries * seen) / np.sqrt(tries * seen * (1 - seen))
    assert len(z) > 10
    assert np.abs(z).max() < 4


def test_hard_worlds_are_what_they_say():
    """Who is away, who stays still, who does which step and who watches whom is as the world says."""
    season = simulate(np.random.default_rng(8), World(joiners=3, absent=3))
    there = [season.practice[season.player == player] for player in range(7)]
    assert [days.min() for days in there] == [8, 8, 8, 0, 0, 0, 0]
    assert [days.max() for days in there] == [23, 23, 23, 17, 17, 17, 23]
    assert (simulate(np.random.default_rng(8), World(still=0.5)).truth_change[:9] == 0).all()
    grouped = simulate(np.random.default_rng(8), World(defenders=6, own_group=True, forwards_step=-1.0))
    assert (grouped.observer == grouped.defender[grouped.player]).all()
    assert set(grouped.player[grouped.step == 3]) == set(range(12))
    assert [one.position for one in roster(World(players=2, defenders=1))] == [
        Position.FORWARD, Position.DEFENCE,
    ]  # fmt: skip
    counts = np.unique(simulate(np.random.default_rng(8), World(uneven=(2, 120))).player, return_counts=True)
    assert counts[1].max() > 1.3 * counts[1].min()
    camp = simulate(np.random.default_rng(8), World(practices=8, days_apart=3.5))
    assert (camp.days[-1] - camp.days[0]).days == 24


def test_what_a_hard_world_adds_to_the_law_is_as_large_as_it_says():
    """Beside the plain world with the same seed: a strict observer, a drift, a late change, a jump."""

    def law(**parts) -> Law:
        return simulate(np.random.default_rng(8), World(practices=5, **parts)).law

    plain = law()
    assert law(strict=0.6).observer - plain.observer == pytest.approx(
        np.broadcast_to([[[0.0]], [[-0.6]]], plain.observer.shape)
    )
    assert law(drift=0.5).observer - plain.observer == pytest.approx(
        np.broadcast_to([0.25, 0.125, 0, -0.125, -0.25], plain.observer.shape)
    )
    late, gone = law(change_from=0.5).course, np.array([0, 0, 0, 0.5, 1])
    first, last = plain.course[..., [0]], plain.course[..., [-1]]
    assert late == pytest.approx(first + gone * (last - first))
    jumped = law(sd_slope=0.0, team_slope=0.0, jump=2.0, sd_jump=0.5).course
    steps = np.diff(jumped)
    assert ((steps != 0).sum(2) == 1).all()
    assert steps.sum(2).mean() == pytest.approx(2, abs=0.15)
    assert steps.sum(2).std() == pytest.approx(0.5, abs=0.1)
