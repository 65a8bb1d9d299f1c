"""The cells of one skill beside the coefficients that make each player's share in them."""

from dataclasses import dataclass

import numpy as np
from scipy.special import expit

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.linear_predictor import Kinds, LinearPredictor
from evaltrack.analysis.season.season_model import SkillFit

Array = np.ndarray


@dataclass(frozen=True)
class SkillTries:
    """One skill's cells (n,), and the posterior of what a predictor there is made of.

    Attributes
    ----------
    tries, time, pressed, month : (n,) how many, when on the axis, under how much pressure.
    player, step, observer, day : (n,) which of those that occur in this skill.
    opponent : (n,) likewise, -1 where it is not known.
    group : (P,) the number of each player's position group.
    steps, observers, opponents : their names; of opponents their ids in hexadecimal digits.
    kinds : the kinds of try, and how often each occurs in the season.
    predictor : what a predictor is made of, the skill's days included.
    mean, cov : (P, r) and (P, r, r) moments of each player's coefficients in it.
    """

    tries: Array
    time: Array
    pressed: Array
    month: Array
    player: Array
    step: Array
    observer: Array
    day: Array
    opponent: Array
    group: Array
    steps: list[str]
    observers: list[str]
    opponents: list[str]
    kinds: Kinds
    predictor: LinearPredictor
    mean: Array
    cov: Array

    def column(self, effect: Effect, number: Array | int) -> Array:
        """Return the columns of these numbers among the skill's steps, observers, days or opponents."""
        return self.predictor.columns.of(effect)[number]

    def against(self, number: Array) -> tuple[Array, ...]:
        """Return the columns of opponents of these numbers as one of the effects of ``shares``.

        -1 stands for nobody known, who has no effect; there is no such effect where nobody at all is known.
        """
        if not self.opponents:
            return ()
        return (np.where(number < 0, -1, self.column(Effect.OPPONENT, number)),)

    def shares(self, player: Array, weight: Array, time: Array, pressed: Array, *effects: Array):
        """Return each player's weighted sum of shares (P,), and its gradients in their coefficients (P, r).

        All arguments are rows of tries; ``effects`` are the columns of the effects that act in them, -1 for
        none.
        """
        # the rows have the same few entries over and over, so they are never written out
        one, (players, width) = np.ones(len(player)), self.mean.shape
        base, rate, press = self.predictor.base, self.predictor.rate, self.predictor.press
        parts = ((base, one), (rate, time), (press, pressed))
        logit = sum((self.mean @ part)[player] * times for part, times in parts)
        share = expit(logit + sum(self.mean[player, column] * (column >= 0) for column in effects))
        weighted = weight * share * (1 - share)
        gradients = sum(
            np.outer(np.bincount(player, weighted * times, players), part) for part, times in parts
        )
        for column in effects:
            acts = weighted * (column >= 0)
            gradients += np.bincount(player * width + column % width, acts, players * width).reshape(
                players, width
            )
        return np.bincount(player, weight * share, players), gradients


def skill_tries(fit: SkillFit) -> SkillTries:
    """Return the cells of the fit's skill."""
    predictor = fit.predictor.with_effects(Effect.PRACTICE)
    design, mine, players = predictor.design, predictor.cells, predictor.things(Effect.LEVEL)
    mean, cov = fit.fit.posterior.moments(predictor.picked(players, design.group[players]))
    return SkillTries(
        tries=design.tries[mine],
        time=design.time[mine],
        pressed=design.pressed[mine],
        month=fit.axis.months(design.time[mine]),
        player=predictor.acting(Effect.LEVEL),
        step=predictor.acting(Effect.STEP),
        observer=predictor.acting(Effect.OBSERVER),
        day=predictor.acting(Effect.PRACTICE),
        opponent=predictor.acting(Effect.OPPONENT),
        group=design.group[players],
        steps=[design.steps[step] for step in predictor.things(Effect.STEP)],
        observers=[design.observers[observer] for observer in predictor.things(Effect.OBSERVER)],
        opponents=[design.opponents[one].hex() for one in predictor.things(Effect.OPPONENT)],
        kinds=fit.kinds,
        predictor=predictor,
        mean=mean,
        cov=cov,
    )
