"""The way from the plain count to the share now, walked in stages, each of which moves the share.

It starts at the share that the fit expects in the player's own tries; then they are seen by the season's
observers in their shares, days become ordinary ones, pressure and steps come as often as in the mix of the
player's position group, opponents are those whom the group met, and the moment becomes now.
"""

from collections.abc import Sequence

import numpy as np

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.skill_tries import SkillTries
from evaltrack.analysis.standings.standing import Cause

Array = np.ndarray
WALKED = (Cause.OBSERVER, Cause.DAYS, Cause.PRESSURE, Cause.STEP, Cause.OPPONENT, Cause.CHANGE)


def stages(tries: SkillTries, now: Array) -> tuple[Array, Array]:
    """Return each player's share at the start of the way and after each cause in ``WALKED``.

    ``now`` is each player's own moment, (P,). The shares are (7, P), and their gradients in the players'
    coefficients (7, P, r).

    Notes
    -----
    Rows in which nothing differs any more are taken together before each stage, so that the work does not
    grow with the number of cells.
    """
    who, step, pressed, time, met = tries.player, tries.step, tries.pressed, tries.time, tries.opponent
    day = tries.column(Effect.PRACTICE, tries.day)
    weight = tries.tries / np.bincount(who, tries.tries)[who]
    kinds, everybody = tries.kinds, np.arange(len(tries.mean))
    under, of_kind = np.unique(kinds.pressed, return_inverse=True)
    part_under = kinds.mix @ np.eye(len(under))[of_kind.ravel()]

    def usual_day(player, weight, step, pressed, met, time, *day):
        acting = tries.column(Effect.STEP, step), *day, *tries.against(met)
        return _seen_by_all(tries, player, weight, time, pressed, *acting)

    def usual_pressure(player, weight, step, met, time):
        row, kind, weight = _spread(part_under[tries.group[player]], weight)
        return usual_day(player[row], weight, step[row], under[kind], met[row], time[row])

    def usual_step(player, weight, met, time):
        row, kind, weight = _spread(kinds.mix[tries.group[player]], weight)
        return usual_day(player[row], weight, kinds.step[kind], kinds.pressed[kind], met[row], time[row])

    def usual_opponent(player, weight, time):
        row, against, weight = _spread(kinds.opponents[tries.group[player]], weight)
        nobody = kinds.opponents.shape[1] - 1
        return usual_step(player[row], weight, np.where(against == nobody, -1, against), time[row])

    own = tries.column(Effect.STEP, step), day, *tries.against(met)
    walked = [
        tries.shares(who, weight, time, pressed, *own, tries.column(Effect.OBSERVER, tries.observer)),
        usual_day(*_together(weight, who, step, pressed, met, time, day)),
        usual_day(*_together(weight, who, step, pressed, met, time)),
        usual_pressure(*_together(weight, who, step, met, time)),
        usual_step(*_together(weight, who, met, time)),
        usual_opponent(*_together(weight, who, time)),
        usual_opponent(everybody, np.ones(len(everybody)), now),
    ]
    shares, gradients = (np.array(part) for part in zip(*walked, strict=True))
    return shares, gradients


def _together(weight: Array, who: Array, *what: Array) -> tuple[Array, ...]:
    """Return who, the summed weights, and what, once for each row that differs in any of them."""
    code = np.zeros(len(weight), int)
    for key in (who, *what):
        found, number = np.unique(key, return_inverse=True)
        code = code * len(found) + number.ravel()
    _, first, number = np.unique(code, return_index=True, return_inverse=True)
    return who[first], np.bincount(number.ravel(), weight), *(key[first] for key in what)


def _spread(mix: Array, weight: Array) -> tuple[Array, Array, Array]:
    """Return the row and the kind, and the weight, of each kind that occurs in a row's mix (n, kinds)."""
    row, kind = np.nonzero(mix)
    return row, kind, weight[row] * mix[row, kind]


def _seen_by_all(tries: SkillTries, player: Array, weight: Array, *more: Array) -> tuple[Array, Array]:
    """Return ``tries.shares`` under the season's observers in their shares."""
    seen: Sequence = [
        tries.shares(
            player, part * weight, *more, np.full(len(player), tries.column(Effect.OBSERVER, number))
        )
        for number, part in enumerate(tries.kinds.observers)
    ]
    return sum(value for value, _ in seen), sum(gradients for _, gradients in seen)
