"""The cells of one skill beside the coefficients that make each player's share in them."""

from dataclasses import dataclass

import numpy as np
from scipy.special import expit

from evaltrack.analysis.season_design import Pairs
from evaltrack.analysis.season_model import SkillFit

Array = np.ndarray
MEAN, TREND, PRESSURE, LEVEL, SLOPE, STEPS = range(6)


@dataclass(frozen=True)
class SkillTries:
    """One skill's cells (n,), and the posterior of what a predictor there is made of.

    Attributes
    ----------
    tries, time, pressed, month : (n,) how many, when on the axis, under how much pressure.
    player, step, observer, day : (n,) which of those that occur in this skill.
    steps, observers : their names.
    mean, cov : (P, r) and (P, r, r) moments of each player's coefficients: those of the outlook, then the
        observers and the days of the skill.
    base, rate, press : (r,) a predictor is base + time rate + pressed press, and its effects' columns.
    outlook_width : how many of the coefficients are those of the outlook.
    kind_step, kind_pressed, mix : (C,) the kinds of try, and how often each occurs in the season.
    """

    tries: Array
    time: Array
    pressed: Array
    month: Array
    player: Array
    step: Array
    observer: Array
    day: Array
    steps: list[str]
    observers: list[str]
    mean: Array
    cov: Array
    base: Array
    rate: Array
    press: Array
    outlook_width: int
    kind_step: Array
    kind_pressed: Array
    mix: Array

    def observer_column(self, observer: Array) -> Array:
        """Return the columns of observers' effects."""
        return self.outlook_width + observer

    def day_column(self, day: Array) -> Array:
        """Return the columns of days' effects."""
        return self.outlook_width + len(self.observers) + day

    def shares(self, player: Array, weight: Array, time: Array, pressed: Array, *effects: Array):
        """Return each player's weighted sum of shares (P,), and its slopes in his coefficients (P, r).

        All arguments are rows of tries; ``effects`` are the columns of the effects that act in them.
        """
        # the rows have the same few entries over and over, so they are never written out
        size, (players, width) = np.ones(len(player)), self.mean.shape
        parts = ((self.base, size), (self.rate, time), (self.press, pressed))
        logit = sum((self.mean @ part)[player] * times for part, times in parts)
        share = expit(logit + sum(self.mean[player, column] for column in effects))
        pull = weight * share * (1 - share)
        slopes = sum(np.outer(np.bincount(player, pull * times, players), part) for part, times in parts)
        for column in effects:
            slopes += np.bincount(player * width + column, pull, players * width).reshape(players, width)
        return np.bincount(player, weight * share, players), slopes


def skill_tries(fit: SkillFit) -> SkillTries:
    """Return the cells of the fit's skill."""
    design, posterior = fit.design, fit.fit.posterior
    mine = design.skill == fit.number
    terms = (design.of_player, design.of_step, design.of_observer, design.of_practice)
    numbers, (player, step, observer, day) = zip(
        *(_own(pairs, fit.number, mine) for pairs in terms), strict=True
    )
    each, width = np.ones((len(fit.players), 1), int), fit.picked.shape[1]
    added = [each * (posterior.starts[term] + numbers[term - 1]) for term in (3, 4)]
    mean, cov = posterior.moments(np.hstack([fit.picked, *added]))
    base, rate, press = np.zeros((3, mean.shape[1]))
    base[[MEAN, LEVEL]] = rate[[TREND, SLOPE]] = press[PRESSURE] = 1
    common = STEPS + len(numbers[1])
    rate[common] = press[common + 1] = 1
    if design.shared:
        base[common + 2] = rate[common + 3] = 1
    time, kinds = design.time[mine], fit.outlook.level
    return SkillTries(
        design.tries[mine], time, design.pressed[mine], fit.axis.months(time), player, step, observer, day,
        [design.steps[thing] for thing in design.of_step.thing[numbers[1]]],
        [design.observers[thing] for thing in design.of_observer.thing[numbers[2]]],
        mean, cov, base, rate, press, width,
        kinds[:, STEPS : STEPS + len(numbers[1])].argmax(1), kinds[:, PRESSURE], fit.outlook.mix,
    )  # fmt: skip


def _own(pairs: Pairs, skill: int, mine: Array) -> tuple[Array, Array]:
    """Return a skill's pairs, and for each of its cells which of these it belongs to."""
    numbers = np.flatnonzero(pairs.skill == skill)
    return numbers, np.searchsorted(numbers, pairs.codes[mine])
