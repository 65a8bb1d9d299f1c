"""What moved a share away from the plain count: each thing that the fit allowed for, with its doubt.

The way from the count to the share now is walked in stages. It starts at the share that the fit expects in
the player's own tries; then they are seen by the season's observers in their shares, days become ordinary
ones, pressure and steps come as often as in the mix of the player's position group, and the moment becomes
now. Each stage moves the share, and the moves add up.
What is left between the plain count and the expected share is luck, as far as anyone can tell.
"""

from collections.abc import Sequence

import numpy as np

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.season_model import SkillFit
from evaltrack.analysis.season.skill_tries import SkillTries, skill_tries
from evaltrack.analysis.standings.standing import Cause, Reason

Array = np.ndarray
WIDE = 1.6448536269514722  # normal quantile of .95
MOST = 0.5
STAGES = (Cause.OBSERVER, Cause.DAYS, Cause.PRESSURE, Cause.STEP, Cause.CHANGE)


def reasons_of(
    fit: SkillFit, now: Array, rows: Sequence[int], raw: Array, share: Array
) -> list[tuple[Reason, ...]]:
    """Return the reasons of some players of the fit; their moves add up to ``share`` minus ``raw``.

    Parameters
    ----------
    fit : the fit of one skill.
    now : (k,) the time on the fit's axis whose share is asked for.
    rows : (k,) which of the fit's players.
    raw, share : (k,) each one's plain share of their tries, and the share of their standing.

    Notes
    -----
    Moves are taken at the posterior mean, and their doubt from its covariance (delta method). Mix, moments
    and pressure are facts and have no doubt.
    """
    tries = skill_tries(fit)
    times = np.zeros(len(tries.mean))
    times[list(rows)] = now
    moved, spread = _moves(tries, times)
    kinds = {
        Cause.OBSERVER: _Kinds(tries.observers, *_observers(tries)),
        Cause.PRESSURE: _Kinds([""], *_pressure(tries)),
        Cause.STEP: _Kinds(tries.steps, *_steps(tries)),
    }
    found = []
    for row, luck in zip(rows, share - raw - moved[:, rows].sum(0), strict=True):
        own = [
            _reason(tries, kinds.get(cause), row, cause, moved[stage, row], spread[stage, row])
            for stage, cause in enumerate(STAGES)
        ]
        found.append((*own, Reason(Cause.LUCK, float(luck), float(luck), float(luck))))
    return found


def _moves(tries: SkillTries, now: Array) -> tuple[Array, Array]:
    """Return by how much each stage moves each player's share, and with which SD, both (stages, P).

    ``now`` is each player's own moment, (P,).
    """
    who, time, step = tries.player, tries.time, tries.column(Effect.STEP, tries.step)
    observer, day = tries.column(Effect.OBSERVER, tries.observer), tries.column(Effect.PRACTICE, tries.day)
    weight = tries.tries / np.bincount(who, tries.tries)[who]
    own = (who, weight, time, tries.pressed, step)
    cell, kind = (part.ravel() for part in np.indices((len(who), len(tries.kinds.step))))
    mix = tries.kinds.mix[tries.group]
    usual, pressed = weight[cell] * mix[who[cell], kind], tries.kinds.pressed[kind]
    step_of_kind = tries.column(Effect.STEP, tries.kinds.step[kind])
    stages = [
        tries.shares(*own, day, observer),
        _seen_by_all(tries, *own, day),
        _seen_by_all(tries, *own),
        _seen_by_all(tries, who[cell], usual, time[cell], pressed, step[cell]),
        _seen_by_all(tries, who[cell], usual, time[cell], pressed, step_of_kind),
        _seen_by_all(tries, who[cell], usual, now[who[cell]], pressed, step_of_kind),
    ]
    values, gradients = (np.diff(np.array(part), axis=0) for part in zip(*stages, strict=True))
    return values, np.sqrt(np.maximum(np.einsum("spr,prq,spq->sp", gradients, tries.cov, gradients), 0.0))


def _seen_by_all(tries: SkillTries, player, weight, *more, by: Array | None = None) -> tuple[Array, Array]:
    """Return ``tries.shares`` under the season's observers in their shares, or in the shares ``by``."""
    by = tries.kinds.observers if by is None else by
    parts = [
        tries.shares(
            player, part * weight, *more, np.full(len(player), tries.column(Effect.OBSERVER, number))
        )
        for number, part in enumerate(by)
        if part
    ]
    return sum(value for value, _ in parts), sum(gradients for _, gradients in parts)


class _Kinds:
    """The kinds of try of one cause: which cells are of each, (kinds, n), and what each costs the team."""

    def __init__(self, names: Sequence[str], of_kind: Array, costs: Sequence[tuple[float, float]]):
        self.names, self.of_kind, self.costs = names, of_kind, np.array(costs)


def _observers(tries: SkillTries):
    numbers, costs = np.arange(len(tries.observers)), []
    for number in numbers:
        others = np.where(numbers == number, 0.0, tries.kinds.observers)
        if not others.any():
            return tries.observer == numbers[:, None], [(0.0, 0.0)]
        by = others / others.sum(), (numbers == number).astype(float)
        costs.append(_cost(tries, *(_team(tries, *_mix(tries), part) for part in by)))
    return tries.observer == numbers[:, None], costs


def _mix(tries: SkillTries):
    return tries.kinds.step, tries.kinds.pressed, tries.kinds.mix[-1]


def _pressure(tries: SkillTries):
    step, noted, mix = _mix(tries)
    free, under = (_team(tries, step, np.full_like(noted, pressed), mix) for pressed in (0.0, 1.0))
    return tries.pressed[None], [_cost(tries, free, under)]


def _steps(tries: SkillTries):
    numbers, costs = np.arange(len(tries.steps)), []
    for number in numbers:
        own = tries.kinds.step == number
        here, elsewhere = (_team(tries, *(part[kept] for part in _mix(tries))) for kept in (own, ~own))
        costs.append(_cost(tries, elsewhere, here) if (~own).any() else (0.0, 0.0))
    return tries.step == numbers[:, None], costs


def _team(tries: SkillTries, step: Array, pressed: Array, mix: Array, by: Array | None = None):
    """Return the team's mean share in tries of these kinds, at the middle of its tries, and its gradients.

    They are seen by the season's observers in their shares of the tries, or in the shares ``by``.
    Gradients in what differs between players are left out: in a difference of kinds they all but vanish.
    """
    players = len(tries.mean)
    who, kind = (part.ravel() for part in np.indices((players, len(mix))))
    middle = np.full(len(who), np.average(tries.time, weights=tries.tries))
    weight = mix[kind] / max(mix.sum(), 1e-300) / players
    column = tries.column(Effect.STEP, step[kind])
    value, gradients = _seen_by_all(tries, who, weight, middle, pressed[kind], column, by=by)
    gradient = gradients.sum(0)
    for effect in (Effect.MEAN, Effect.LEVEL, Effect.SLOPE):
        gradient[tries.predictor.columns.of(effect)] = 0
    return value.sum(), gradient


def _cost(tries: SkillTries, usual, here) -> tuple[float, float]:
    """Return by how much the team's share is lower here than usual, and the SD of that."""
    (usual_share, usual_slope), (share, gradient) = usual, here
    gradient = usual_slope - gradient
    return float(usual_share - share), float(np.sqrt(max(gradient @ tries.cov[0] @ gradient, 0.0)))


def _reason(tries, kinds: _Kinds | None, player: int, cause: Cause, moved: float, sd: float) -> Reason:
    moved, sd = float(moved), WIDE * float(sd)
    if kinds is None:
        return Reason(cause, moved, moved - sd, moved + sd)
    own = np.where(tries.player == player, tries.tries, 0.0)
    count, usual = kinds.of_kind @ own, kinds.of_kind @ tries.tries / tries.tries.sum()
    # of the kinds that were met at all, the one met oftener than usual, or more seldom, that moved most
    moves = (count / own.sum() - usual) * kinds.costs[:, 0] * np.sign(moved)
    number = int(np.argmax(np.where(count > 0, moves, -np.inf)))
    cost, doubt = kinds.costs[number] * (1, WIDE)
    return Reason(
        cause, moved, moved - sd, moved + sd,
        named=kinds.names[number], tries=round(float(count[number])), usual=float(usual[number]),
        month=_month(tries.month, own * kinds.of_kind[number], own),
        cost=float(cost), cost_low=float(cost - doubt), cost_high=float(cost + doubt),
    )  # fmt: skip


def _month(month: Array, of_kind: Array, own: Array) -> int:
    """Return the month that holds most tries of a kind, but not most tries of all; 0 when none does."""
    there, all_there = np.bincount(month, of_kind, 13), np.bincount(month, own, 13)
    most = int(there.argmax())
    named = there[most] > MOST * there.sum() and all_there[most] <= MOST * all_there.sum()
    return most if named else 0
