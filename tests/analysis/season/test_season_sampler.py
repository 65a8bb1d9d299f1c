"""The sampler and the model that it draws from are right by themselves, before ours is held against them."""

import numpy as np
import pandas as pd
import pytest
from bench_sampler import FIGURES, failures
from hamiltonian import effective_size, r_hat, sample
from scipy import stats
from season_density import SeasonDensity
from season_world import World
from simulated_season import cells, roster, simulate

TINY = World(players=3, skills=2, practices=8, tries=6, defenders=1)


@pytest.fixture(scope="module")
def season():
    """Return the cells of a tiny season and its players."""
    players = roster(TINY)
    return cells(simulate(np.random.default_rng(2), TINY), players), players


@pytest.fixture(scope="module")
def density(season):
    """Return the model of the tiny season."""
    frame, players = season
    return SeasonDensity(frame, {player.id.bytes: str(player.position) for player in players})


def by_the_formula(density: SeasonDensity, at: np.ndarray) -> float:
    """Return the log density at one place, effect by effect and cell by cell."""
    frame, value, effects, done = density.cells, 0.0, {}, 0
    random = [part for part in density.parts if not part.sd]
    sds = np.exp(at[len(at) - len(random) :])
    for part in density.parts:
        unit, done = at[done : done + part.size], done + part.size
        sd = part.sd or sds[random.index(part)]
        effects[part.name] = sd * unit
        value += stats.norm.logpdf(effects[part.name], 0, sd).sum() + part.size * np.log(sd)
    for part, sd in zip(random, sds, strict=True):
        value += stats.halfnorm.logpdf(sd, scale=part.scale) + np.log(sd)
    for cell, row in frame.iterrows():
        logit = sum(effects[part.name][part.level[cell]] * part.times[cell] for part in density.parts)
        value += stats.binom.logpmf(row["done"], row["tries"], 1 / (1 + np.exp(-logit)))
    return value


def test_the_density_is_the_model(density):
    """Between places the log density differs as the written formula does."""
    at = density.starts(4, np.random.default_rng(3))
    formula = np.array([by_the_formula(density, one) for one in at])
    assert np.diff(density(at)[0]) == pytest.approx(np.diff(formula))


def test_its_gradient_is_that_of_the_density(density):
    """The gradient is the slope between places very near to each other."""
    at, step = density.starts(3, np.random.default_rng(4)), 1e-5
    for axis in np.eye(density.width) * step:
        slope = (density(at + axis)[0] - density(at - axis)[0]) / (2 * step)
        assert density(at)[1] @ axis / step == pytest.approx(slope, abs=1e-5)


def test_a_share_is_the_mean_over_the_groups_kinds_and_the_observers(density, season):
    """Worked out try by try from the tries of the group and those of all, on the player's own days."""
    frame, players = season
    at = density.starts(2, np.random.default_rng(5))
    place, group = density.effects(at), {p.id.bytes: p.position for p in players}
    player, skill = players[0].id.bytes, "s1"
    mine = frame["skill"] == skill
    alike = frame[mine & (frame["player"].map(group) == group[player])]
    parts = {part.name: part for part in density.parts}
    begins = dict(zip(parts, np.cumsum([0, *(part.size for part in parts.values())])[:-1], strict=True))

    def effect(name: str, cell: int) -> np.ndarray:
        return place[:, begins[name] + parts[name].level[cell]]

    own, time = frame.index[mine & (frame["player"] == player)][0], pd.Series(density.time, frame.index)
    ends = [time[mine], time[frame["player"] == player]]
    for end, share in zip(
        (min(one.max() for one in ends), max(one.min() for one in ends)),
        density.shares(at, player, skill),
        strict=True,
    ):
        total, weight = np.zeros(2), 0
        fixed = sum(effect(name, own) for name in ("MEAN", "LEVEL", "SHARED_LEVEL"))
        fixed = fixed + end * sum(
            effect(name, own) for name in ("TREND", "COMMON_TREND", "SLOPE", "SHARED_SLOPE")
        )
        pressed = effect("PRESSURE", own) + effect("COMMON_PRESSURE", own)
        for kind, one in alike.iterrows():
            for seen, other in frame[mine].iterrows():
                logit = fixed + one["pressure"] * pressed + effect("STEP", kind) + effect("OBSERVER", seen)
                total += one["tries"] * other["tries"] / (1 + np.exp(-logit))
                weight += one["tries"] * other["tries"]
        assert share == pytest.approx(total / weight)


def test_without_tries_the_draws_are_the_prior(season):
    """Where nothing was seen, effects and SDs are drawn as they are believed beforehand."""
    frame, players = season
    blind = SeasonDensity(frame.assign(done=0, tries=0), {p.id.bytes: str(p.position) for p in players})
    rng = np.random.default_rng(6)
    places = sample(blind, blind.starts(16, rng), 200, 500, rng).reshape(-1, blind.width)
    random = [part for part in blind.parts if not part.sd]
    for part, log_sd in zip(random, places[:, -len(random) :].T, strict=True):
        assert np.exp(log_sd).mean() == pytest.approx(part.scale * np.sqrt(2 / np.pi), rel=0.1)
    assert places[:, : -len(random)].std() == pytest.approx(1, abs=0.03)


def test_a_skewed_density_is_drawn_as_it_is():
    """The logarithm of an exponential variable has mean -.577 (Euler's constant) and variance pi^2 / 6."""
    rng = np.random.default_rng(8)
    draws = sample(lambda x: ((x - np.exp(x)).sum(1), 1 - np.exp(x)), np.zeros((64, 2)), 200, 1000, rng)
    assert draws.mean() == pytest.approx(-np.euler_gamma, abs=0.02)
    assert draws.var() == pytest.approx(np.pi**2 / 6, rel=0.03)


def test_chains_that_differ_are_noticed():
    """R-hat is near 1 for chains of one kind and far from it for others; draws that cling are worth less."""
    rng = np.random.default_rng(7)
    alike = rng.normal(size=(400, 8))
    clinging = np.repeat(alike[:100], 4, axis=0)
    assert r_hat(alike) < 1.02
    assert r_hat(alike + np.arange(8)) > 1.5
    assert effective_size(alike) == pytest.approx(3200, rel=0.2)
    assert effective_size(clinging) == pytest.approx(800, rel=0.3)


def test_the_bench_fails_beyond_its_bounds():
    """A bias of the shares, a wrong probability and a sampler that cannot be relied on are each told."""
    rows = pd.DataFrame([{"season": season, "figure": name, "gap": 0.004, "error": 0.001, "r_hat": 1.001}
                         for season in range(3) for name in FIGURES for _ in range(16)])  # fmt: skip
    share, p_up = rows["figure"] == "share", rows["figure"] == "p_up"
    assert failures(rows) == []
    assert failures(rows.assign(gap=rows["gap"].mask(share, -0.006))) == [
        "the shares are -0.60 points off in the mean"
    ]
    one = rows["gap"].mask(rows.index == rows.index[p_up][0], 0.13)
    assert failures(rows.assign(gap=one)) == ["p_up is 0.130 off, more than 0.12"]
    assert failures(rows.assign(gap=rows["gap"].mask(p_up, 0.05))) == [
        "p_up is 0.050 off in the root mean square"
    ]
    assert failures(rows.assign(r_hat=1.05)) == ["the sampler's chains disagree: R-hat 1.0500"]
    assert len(failures(rows.assign(error=0.03))) == 3
