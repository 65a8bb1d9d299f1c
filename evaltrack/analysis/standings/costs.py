"""What a kind of try costs the team: a step, pressure, an observer, an opponent, each against the others."""

from dataclasses import dataclass

import numpy as np
from scipy.special import expit

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.skill_tries import SkillTries
from evaltrack.analysis.standings.standing import Cause

Array = np.ndarray
_EACH = (-4, -3, -2, -1)  # the axes of steps, pressures, observers and opponents
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
    """The team's mean shares in every step, under pressure or not, by every observer, against every opponent.

    All are (S, Q, O, A + 1), the last opponent being nobody known. They are taken at the mean moment of the
    skill's tries. ``pressed`` are the Q pressures.

    Notes
    -----
    Gradients in what differs between players are left out: in a difference of kinds they all but vanish.
    """

    def __init__(self, tries: SkillTries):
        predictor, columns = tries.predictor, tries.predictor.columns
        self._tries = tries
        self.pressed = np.union1d(tries.kinds.pressed, [0.0, 1.0])
        self._time = np.average(tries.time, weights=tries.tries)
        opponents = columns.of(Effect.OPPONENT) if tries.opponents else np.empty(0, int)
        self._columns = columns.of(Effect.STEP), columns.of(Effect.OBSERVER), opponents
        step, observer, opponent = (tries.mean[:, own] for own in self._columns)
        opponent = np.pad(opponent, ((0, 0), (0, 1)))
        player = tries.mean @ (predictor.base + self._time * predictor.rate)
        under = (tries.mean @ predictor.press)[:, None] * self.pressed
        logit = player[:, None, None] + step[:, :, None] + under[:, None, :]
        logit = logit[..., None] + observer[:, None, None, :]
        share = expit(logit[..., None] + opponent[:, None, None, None, :])
        self.shares, self._weights = share.mean(0), (share * (1 - share)).mean(0)

    def weights(self, mix: Array, by: Array, met: Array) -> Array:
        """Return how often each comes: kinds as in ``mix``, observers as in ``by``, opponents in ``met``."""
        kinds = self._tries.kinds
        found = np.zeros(self.shares.shape[:2])
        np.add.at(found, (kinds.step, np.searchsorted(self.pressed, kinds.pressed)), mix)
        return found[..., None, None] * by[:, None] * met

    def costs(self, usual: Array, here: Array) -> tuple[Array, Array]:
        """Return by how much the team's share is lower here than usual, (...), and the SDs of that.

        Both are weights (..., S, Q, O, A + 1); nought where one of them has none.
        """
        apart = _to_one(usual) - _to_one(here)
        apart[~(usual.any(_EACH) & here.any(_EACH))] = 0
        slopes = self._slopes(apart * self._weights)
        variances = np.sum((slopes @ self._tries.cov[0]) * slopes, axis=-1)
        return (apart * self.shares).sum(_EACH), np.sqrt(np.maximum(variances, 0.0))

    def _slopes(self, parts: Array) -> Array:
        """Return the gradients (..., r) of the weighted sums of shares in what all players have in common."""
        predictor, (step, observer, opponent) = self._tries.predictor, self._columns
        gone = parts.sum(_EACH) * self._time
        under = parts.sum((-4, -2, -1)) @ self.pressed
        slopes = gone[..., None] * predictor.rate + under[..., None] * predictor.press
        for effect in _OWN:
            if effect in predictor.columns.sizes:
                slopes[..., predictor.columns.of(effect)] = 0
        slopes[..., step] += parts.sum((-3, -2, -1))
        slopes[..., observer] += parts.sum((-4, -3, -1))
        slopes[..., opponent] += parts.sum((-4, -3, -2))[..., :-1]
        return slopes


def _to_one(weights: Array) -> Array:
    return weights / np.maximum(weights.sum(_EACH, keepdims=True), 1e-300)


def kinds_of_causes(tries: SkillTries) -> dict[Cause, KindsOfCause]:
    """Return the kinds of try of each cause that has some."""
    team, found = TeamShares(tries), {}
    causes = {Cause.OBSERVER: _observers, Cause.PRESSURE: _pressure, Cause.STEP: _steps}
    causes |= {Cause.OPPONENT: _opponents} if tries.opponents else {}
    for cause, kinds in causes.items():
        names, of_kind, usual, weights = kinds(tries, team)
        found[cause] = KindsOfCause(names, of_kind, usual, *team.costs(*weights))
    return found


def _observers(tries: SkillTries, team: TeamShares):
    by, groups = tries.kinds.observers, _groups(tries)
    each = np.eye(len(by))
    here = np.array([[team.weights(mix, one, met) for one in each] for mix, met in groups])
    others = np.array([[team.weights(mix, by * (1 - one), met) for one in each] for mix, met in groups])
    return tries.observers, each[tries.observer].T, np.tile(by, (len(groups), 1)), (others, here)


def _groups(tries: SkillTries) -> list[tuple[Array, Array]]:
    """Return for each position group the mix of its kinds of try, and of those whom it met."""
    return list(zip(tries.kinds.mix, tries.kinds.opponents, strict=True))


def _pressure(tries: SkillTries, team: TeamShares):
    kinds = tries.kinds
    of_kind = np.stack([1 - tries.pressed, tries.pressed])
    usual = np.stack([kinds.mix @ (1 - kinds.pressed), kinds.mix @ kinds.pressed], axis=1)
    steps = np.array([team.weights(mix, kinds.observers, met).sum(1) for mix, met in _groups(tries)])
    # the pressures in the order of their names
    under = [(team.pressed == value)[:, None, None] for value in (0.0, 1.0)]
    here = np.stack([steps[:, :, None] * acting for acting in under], axis=1)
    return list(PRESSED), of_kind, usual, (here[:, ::-1], here)


def _steps(tries: SkillTries, team: TeamShares):
    kinds, each = tries.kinds, np.eye(len(tries.steps))
    own = each[kinds.step].T
    every = np.array([team.weights(mix, kinds.observers, met) for mix, met in _groups(tries)])[:, None]
    here = every * each[:, :, None, None, None]
    return tries.steps, each[tries.step].T, kinds.mix @ own.T, (every - here, here)


def _opponents(tries: SkillTries, team: TeamShares):
    by, groups, known = tries.kinds.observers, _groups(tries), len(tries.opponents)
    each = np.eye(known + 1)
    here = np.array([[team.weights(mix, by, one) for one in each[:known]] for mix, _ in groups])
    others = [[team.weights(mix, by, met * (1 - one)) for one in each[:known]] for mix, met in groups]
    of_kind, usual = each[tries.opponent, :known].T, tries.kinds.opponents[:, :known]
    return tries.opponents, of_kind, usual, (np.array(others), here)
