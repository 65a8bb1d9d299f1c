"""What a kind of try costs the team: a step, pressure, an observer, each against the other kinds."""

from dataclasses import dataclass

import numpy as np
from scipy.special import expit

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.skill_tries import SkillTries
from evaltrack.analysis.standings.standing import Cause

Array = np.ndarray
PRESSED = ("no", "yes")  # as a file of tallies says it

# what differs between players has no part in what a kind of try costs all of them
_OWN = (Effect.MEAN, Effect.LEVEL, Effect.SLOPE, Effect.SHARED_LEVEL, Effect.SHARED_SLOPE)


@dataclass(frozen=True)
class KindsOfCause:
    """The kinds of try of one cause.

    Attributes
    ----------
    names : of the K kinds.
    of_kind : (K, n) how far each cell is of each kind.
    usual : (groups, K) how often each comes in the mix of a position group.
    costs, sds : (groups, K) how many points of share lower the team is in tries of each than in the others,
        in the mix of a position group, and the SD of that.
    """

    names: list[str]
    of_kind: Array
    usual: Array
    costs: Array
    sds: Array


class TeamShares:
    """The team's mean shares in every step, under pressure or not, by every observer; all (S, Q, O).

    They are taken at the mean moment of the skill's tries. ``pressed`` are the Q pressures.

    Notes
    -----
    Gradients in what differs between players are left out: in a difference of kinds they all but vanish.
    """

    def __init__(self, tries: SkillTries):
        predictor, columns = tries.predictor, tries.predictor.columns
        self._tries = tries
        self.pressed = np.union1d(tries.kinds.pressed, [0.0, 1.0])
        self._time = np.average(tries.time, weights=tries.tries)
        self._columns = [columns.of(effect) for effect in (Effect.STEP, Effect.OBSERVER)]
        step, observer = (tries.mean[:, own] for own in self._columns)
        player = tries.mean @ (predictor.base + self._time * predictor.rate)
        under = (tries.mean @ predictor.press)[:, None] * self.pressed
        logit = player[:, None, None, None] + step[:, :, None, None] + under[:, None, :, None]
        share = expit(logit + observer[:, None, None, :])
        self.shares, self._weights = share.mean(0), (share * (1 - share)).mean(0)

    def weights(self, mix: Array, by: Array) -> Array:
        """Return how often each comes, (S, Q, O): kinds as in ``mix``, observers as in ``by``."""
        kinds = self._tries.kinds
        found = np.zeros(self.shares.shape[:2])
        np.add.at(found, (kinds.step, np.searchsorted(self.pressed, kinds.pressed)), mix)
        return found[..., None] * by

    def costs(self, usual: Array, here: Array) -> tuple[Array, Array]:
        """Return by how much the team's share is lower here than usual, (...), and the SDs of that.

        Both are weights (..., S, Q, O); nought where one of them has none.
        """
        apart = _to_one(usual) - _to_one(here)
        apart[~(usual.any((-3, -2, -1)) & here.any((-3, -2, -1)))] = 0
        slopes = self._slopes(apart * self._weights)
        variances = np.sum((slopes @ self._tries.cov[0]) * slopes, axis=-1)
        return (apart * self.shares).sum((-3, -2, -1)), np.sqrt(np.maximum(variances, 0.0))

    def _slopes(self, parts: Array) -> Array:
        """Return the gradients (..., r) of the weighted sums of shares in what all players have in common."""
        predictor, (step, observer) = self._tries.predictor, self._columns
        gone = parts.sum((-3, -2, -1)) * self._time
        under = parts.sum((-3, -1)) @ self.pressed
        slopes = gone[..., None] * predictor.rate + under[..., None] * predictor.press
        for effect in _OWN:
            if effect in predictor.columns.sizes:
                slopes[..., predictor.columns.of(effect)] = 0
        slopes[..., step] += parts.sum((-2, -1))
        slopes[..., observer] += parts.sum((-3, -2))
        return slopes


def _to_one(weights: Array) -> Array:
    return weights / np.maximum(weights.sum((-3, -2, -1), keepdims=True), 1e-300)


def kinds_of_causes(tries: SkillTries) -> dict[Cause, KindsOfCause]:
    """Return the kinds of try of each cause that has some."""
    team, found = TeamShares(tries), {}
    for cause, kinds in ((Cause.OBSERVER, _observers), (Cause.PRESSURE, _pressure), (Cause.STEP, _steps)):
        names, of_kind, usual, weights = kinds(tries, team)
        found[cause] = KindsOfCause(names, of_kind, usual, *team.costs(*weights))
    return found


def _observers(tries: SkillTries, team: TeamShares):
    by, mix = tries.kinds.observers, tries.kinds.mix
    each = np.eye(len(by))
    here = np.array([[team.weights(own, one) for one in each] for own in mix])
    others = np.array([[team.weights(own, by * (1 - one)) for one in each] for own in mix])
    return tries.observers, each[tries.observer].T, np.tile(by, (len(mix), 1)), (others, here)


def _pressure(tries: SkillTries, team: TeamShares):
    kinds = tries.kinds
    of_kind = np.stack([1 - tries.pressed, tries.pressed])
    usual = np.stack([kinds.mix @ (1 - kinds.pressed), kinds.mix @ kinds.pressed], axis=1)
    steps = np.array([team.weights(mix, kinds.observers).sum(1) for mix in kinds.mix])
    # the pressures in the order of their names
    here = np.stack([steps[:, :, None] * (team.pressed == value)[:, None] for value in (0.0, 1.0)], axis=1)
    return list(PRESSED), of_kind, usual, (here[:, ::-1], here)


def _steps(tries: SkillTries, team: TeamShares):
    kinds, each = tries.kinds, np.eye(len(tries.steps))
    own = each[kinds.step].T
    every = np.array([team.weights(mix, kinds.observers) for mix in kinds.mix])[:, None]
    here = every * each[:, :, None, None]
    return tries.steps, each[tries.step].T, kinds.mix @ own.T, (every - here, here)
