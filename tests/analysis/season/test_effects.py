"""Every effect's coefficients are where its name says, in the fit and in each player's share."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import expit
from seasons import cell, player

from evaltrack.analysis.mixed_logit.problem import checked
from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.effects import FIXED, MET, OF_TRY, RANDOM, SHARE, SHARED, Columns, Effect
from evaltrack.analysis.season.season_design import axis_of, group_numbers, season_design
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.rink.player import Position

SKILLS, WEEKS, TRIES = ("gap_up", "start", "stop"), 8, 40
STEPS, OBSERVERS = ("chaser", "gates"), ("Ines", "Marit")
LINEUP = 3 * [Position.FORWARD, Position.DEFENCE, Position.GOALIE]
ROSTER = sorted((player(9 + n, position) for n, position in enumerate(LINEUP)), key=lambda p: p.id.bytes)
OPPONENTS = ROSTER[3:5]
POSITIONS = {p.id.bytes: p.position for p in ROSTER}
GOALIES = {ident for ident, position in POSITIONS.items() if position is Position.GOALIE}


def either(number: int) -> float:
    """Return the size of an effect that is for every other thing the one way, for the rest the other."""
    return 0.8 if number % 2 else -0.8


def in_first(skill: int, number: int) -> float:
    """Return the same in the first skill, zero in the others."""
    return 0.0 if skill else either(number)


def first_apart(skill: int, _: int) -> float:
    """Return the size of what a skill has of its own: the first unlike the others, nothing on the whole."""
    return -0.5 if skill else 1.0


# the whole truth of one season each: no other effect is at work in it
TRUTHS = dict.fromkeys((Effect.MEAN, Effect.LEVEL, Effect.SLOPE, *OF_TRY), in_first)
TRUTHS |= dict.fromkeys((Effect.TREND, Effect.PRESSURE), first_apart)
TRUTHS |= {Effect.COMMON_TREND: lambda *_: 0.7, Effect.COMMON_PRESSURE: lambda *_: -0.9}
TRUTHS |= dict.fromkeys(SHARED, lambda _, number: either(number))
OF_TIME = (Effect.TREND, Effect.SLOPE, Effect.COMMON_TREND, Effect.SHARED_SLOPE)
OF_PRESSURE = (Effect.PRESSURE, Effect.COMMON_PRESSURE)
OF_PLAYER = (Effect.LEVEL, Effect.SLOPE, *SHARED)


@cache
def season_of(effect: Effect):
    """Return the fits, by skill, of a season in which only this effect is at work, and luck is not."""
    rng, found = np.random.default_rng(7), {}
    for who, one in enumerate(ROSTER):
        for number, key in enumerate(SKILLS):
            for week in range(WEEKS):
                for _ in range(3):
                    pressure, step, observer, met = (int(each) for each in rng.integers(0, 2, 4))
                    things = {Effect.MEAN: int(one.id.bytes in GOALIES), Effect.STEP: step}
                    things |= {Effect.OBSERVER: observer, Effect.PRACTICE: week, Effect.OPPONENT: met}
                    logit = TRUTHS[effect](number, things.get(effect, who))
                    logit *= 2 * week / (WEEKS - 1) - 1 if effect in OF_TIME else 1
                    logit *= pressure if effect in OF_PRESSURE else 1
                    other = {"pressure": pressure, "step": STEPS[step], "observer": OBSERVERS[observer]}
                    other["opponent"] = OPPONENTS[met].id.bytes
                    done = round(TRIES * float(expit(logit)))
                    found[who, key, week, *other.values()] = cell(one, key, week, TRIES, done, **other)
    return fit_season(cells_frame(found.values()), POSITIONS)


def truth_of(effect: Effect, design) -> list[float]:
    """Return the true coefficients of the effect that is at work, in the order of the fit."""
    if effect in design.within:
        pairs = design.within[effect]
        return [TRUTHS[effect](*pair) for pair in zip(pairs.skill, pairs.thing, strict=True)]
    return [TRUTHS[effect](0, number) for number in range(design.columns.sizes[effect])]


@pytest.mark.parametrize("effect", list(Effect))
def test_what_is_at_work_is_found_under_its_name(effect):
    """Where one effect alone makes the tries differ, the coefficients of its name say so, and no others."""
    fit = season_of(effect)["gap_up"]
    design, mean = fit.predictor.design, fit.fit.posterior.mean
    found = {each: mean[design.columns.of(each)] for each in Effect}
    np.testing.assert_allclose(found[effect], truth_of(effect, design), atol=0.3)
    assert np.abs(found.pop(effect)).max() > 2 * max(np.abs(other).max() for other in found.values())


@pytest.mark.parametrize("effect", [each for each in Effect if each in SHARE])
@pytest.mark.parametrize("key", ["gap_up", "start"])
def test_a_share_is_made_of_what_its_columns_are_named(effect, key):
    """In a skill's outlook each player has the truth of the effect that is at work in its columns."""
    fit = season_of(effect)[key]
    columns = fit.predictor.columns
    for who, mean in zip(fit.players, fit.outlook.mean, strict=True):
        number = ROSTER.index(next(p for p in ROSTER if p.id.bytes == who))
        things = {Effect.MEAN: [int(who in GOALIES)], Effect.STEP: range(len(STEPS))}
        things |= {Effect.OBSERVER: range(len(OBSERVERS)), Effect.OPPONENT: range(len(OPPONENTS))}
        truth = [TRUTHS[effect](SKILLS.index(key), thing) for thing in things.get(effect, [number])]
        np.testing.assert_allclose(mean[columns.of(effect)], truth, atol=0.3)


@pytest.mark.parametrize("effect", list(Effect))
def test_an_effect_is_multiplied_by_its_covariate(effect):
    """In the design a level, a step and a mean count once, a slope by the time, pressure by the pressure."""
    fit = season_of(effect)["gap_up"]
    predictor = fit.predictor.with_effects(Effect.PRACTICE)
    column = predictor.columns.of(effect)
    acts = [row[column].any() for row in (predictor.base, predictor.rate, predictor.press)]
    level, rate = predictor.level(fit.kinds).any(0), predictor.rate != 0
    time, pressure, try_ = effect in OF_TIME, effect in OF_PRESSURE, effect in OF_TRY
    assert acts == [not (time or pressure or try_), time, pressure]
    assert level[column].any() == (not time and effect is not Effect.PRACTICE)
    assert rate[column].any() == time


@pytest.mark.parametrize("effect", [*RANDOM, *SHARED, *MET])
def test_an_sd_is_that_of_the_effect_of_its_name(effect):
    """Where one random effect alone is at work, its SD is the largest."""
    fit = season_of(effect)["gap_up"]
    assert max((*RANDOM, *SHARED, *MET), key=fit.sd) is effect


@pytest.mark.parametrize("shared", [True, False])
def test_the_names_have_the_columns_in_which_the_engine_fits(shared):
    """Fixed effects first, then term after term: each starts where the engine says, and nothing is left."""
    cells = cells_frame([cell(ROSTER[n % 5], SKILLS[n % 3], n, 4, n % 5) for n in range(12)])
    fit = fit_season(cells, POSITIONS, shared)["stop"]
    design = fit.predictor.design
    engine = checked(cells["done"], cells["tries"], design.fixed, design.terms)
    assert design.random == (*RANDOM, *(SHARED if shared else ()))
    assert [design.columns.of(effect)[0] for effect in design.random] == engine.starts[:-1].tolist()
    assert sum(design.columns.sizes[effect] for effect in FIXED) == engine.columns
    assert design.columns.width == len(fit.fit.posterior.mean)
    assert (Effect.SHARED_LEVEL in fit.predictor.columns.sizes) == shared


@pytest.mark.parametrize("shared", [True, False])
@pytest.mark.parametrize("position", list(Position))
def test_who_was_never_seen_has_no_coefficients_of_their_own(shared, position):
    """Whoever is new lacks level and slope, a goalie among skaters the mean too; nothing else is missing."""
    skaters = [one for one in ROSTER if one.id.bytes not in GOALIES]
    cells = cells_frame([cell(skaters[n % 4], "stop", n, 4, n % 5) for n in range(12)])
    predictor = fit_season(cells, POSITIONS, shared)["stop"].predictor
    (picked,) = predictor.picked([-1], group_numbers([position]))
    goalie = position is Position.GOALIE
    missing = {effect for effect in predictor.effects if (picked[predictor.columns.of(effect)] < 0).any()}
    assert missing == {e for e in OF_PLAYER if e in predictor.effects} | ({Effect.MEAN} if goalie else set())


def test_what_is_believed_beforehand_stands_in_the_columns_of_its_name():
    """The numbers below are the model's; players differ as much whether their skills share a part or not."""
    together, apart = (design_of(shared) for shared in (True, False))
    sds = {"mean": 1.2, "trend": 0.15, "pressure": 0.3, "common_trend": 0.5, "common_pressure": 0.7}
    for name, sd in sds.items():
        for design in (together, apart):
            assert (design.priors.fixed_sd[design.columns.of(Effect[name.upper()])] == sd).all()
    scale, whole = (dict(zip(d.random, d.priors.sd_scale.tolist(), strict=True)) for d in (together, apart))
    assert scale == {
        Effect.LEVEL: 0.7, Effect.SLOPE: 0.35, Effect.STEP: 0.5, Effect.OBSERVER: 0.3, Effect.PRACTICE: 0.3,
        Effect.SHARED_LEVEL: 0.5, Effect.SHARED_SLOPE: 0.25,
    }  # fmt: skip
    assert whole[Effect.LEVEL] ** 2 == pytest.approx(
        scale[Effect.LEVEL] ** 2 + scale[Effect.SHARED_LEVEL] ** 2
    )
    assert whole[Effect.SLOPE] ** 2 == pytest.approx(
        scale[Effect.SLOPE] ** 2 + scale[Effect.SHARED_SLOPE] ** 2
    )
    of_try = OF_TRY - {Effect.OPPONENT}
    assert [whole[effect] for effect in of_try] == [scale[effect] for effect in of_try]
    met = design_of(True, opponent=OPPONENTS[0].id.bytes)
    assert dict(zip(met.random, met.priors.sd_scale.tolist(), strict=True)) == scale | {Effect.OPPONENT: 0.3}


def design_of(shared: bool, **other):
    """Return the design of a season of three skills, its goalies among the players."""
    cells = cells_frame([cell(ROSTER[n % 9], SKILLS[n % 3], n, 4, n % 5, **other) for n in range(18)])
    return season_design(cells, axis_of(cells["held_on"]), POSITIONS, shared)


@given(st.lists(st.sampled_from(list(Effect)), unique=True), st.data())
def test_columns_stand_side_by_side(effects, data):
    """Taken one effect after the other the columns are 0, 1, 2 and so on, each effect's value in its own."""
    columns = Columns({effect: data.draw(st.integers(0, 4)) for effect in effects})
    taken = [int(column) for effect in effects for column in columns.of(effect)]
    assert taken == list(range(columns.width))
    values = {effect: float(number) for number, effect in enumerate(effects)}
    spread = columns.spread_out(values)
    assert all((spread[columns.of(effect)] == value).all() for effect, value in values.items())
    assert len(spread) == columns.width
