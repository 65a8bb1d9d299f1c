"""The hockey model: what the cells of a season say of every player in every skill."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from evaltrack.analysis.mixed_logit import MixedFit, WarmStart, fit_mixed_logit
from evaltrack.analysis.outlook import Outlook
from evaltrack.analysis.season_design import Axis, SeasonDesign, axis_of, season_design

Array = np.ndarray


@dataclass(frozen=True)
class SkillFit:
    """The fit of one skill: its players, what their shares are made of, and whether to trust it.

    ``design`` and ``fit`` are those of all skills that were fitted together, ``number`` is this skill's
    among them. The outlook's coefficients are the ``picked`` (players, r) of the fit's.
    """

    players: list[bytes]
    outlook: Outlook
    axis: Axis
    trusted: bool
    design: SeasonDesign
    fit: MixedFit
    number: int
    picked: Array


def fit_season(
    cells: pd.DataFrame,
    goalies: frozenset[bytes] = frozenset(),
    shared: bool = True,
    start: WarmStart | None = None,
) -> dict[str, SkillFit]:
    """Fit every skill of the cells, and return the fits by skill.

    The skills are fitted together: the team's trend, pressure and all SDs inform each other. With
    ``shared`` a player's skills lend each other strength too. ``start`` is where the last fit of the season
    came to rest, if known.
    """
    # in an order of its own, so that two tablets that got the tallies differently show the same digits
    cells = cells.sort_values(["skill", "player", "practice", "drill", "step", "observer", "pressure"])
    axis = axis_of(cells["held_on"])
    design = season_design(cells, axis, goalies, shared)
    done = cells["done"].to_numpy(float)
    fit = fit_mixed_logit(done, design.tries, design.fixed, design.terms, design.priors, start=start)
    return {key: _of_skill(design, fit, number, axis) for number, key in enumerate(design.skills)}


def _of_skill(design: SeasonDesign, fit: MixedFit, skill: int, axis: Axis) -> SkillFit:
    """Return the fit of one skill: in its outlook an average observer and an ordinary day have no effect."""
    step, pressed, mix = _kinds(design, skill)
    steps, number = np.unique(step, return_inverse=True)
    pairs = np.flatnonzero(design.of_player.skill == skill)
    picked = _picked(design, fit, skill, pairs, steps)
    level, rate = np.zeros((2, len(mix), picked.shape[1]))
    level[:, 0], rate[:, 1], level[:, 2], level[:, 3], rate[:, 4] = 1, 1, pressed, 1, 1
    level[np.arange(len(mix)), 5 + number] = 1
    common = 5 + len(steps)
    rate[:, common], level[:, common + 1] = 1, pressed
    if design.shared:
        level[:, common + 2], rate[:, common + 3] = 1, 1
    outlook = Outlook(*fit.posterior.moments(picked), level, rate, mix)
    players = [design.players[player] for player in design.of_player.thing[pairs]]
    return SkillFit(players, outlook, axis, fit.converged, design, fit, skill, picked)


def _kinds(design: SeasonDesign, skill: int) -> tuple[Array, Array, Array]:
    """Return the kinds of try in a skill: step, pressure, and how often each occurs."""
    mine = design.skill == skill
    kinds = np.column_stack([design.of_step.codes[mine], design.pressed[mine]])
    found, kind = np.unique(kinds, axis=0, return_inverse=True)
    count = np.bincount(kind.ravel(), design.tries[mine])
    return found[:, 0].astype(int), found[:, 1], count / count.sum()


def _picked(design: SeasonDesign, fit: MixedFit, skill: int, pairs: Array, steps: Array) -> Array:
    """Return which coefficients make each player's share: (players, r)."""
    means, starts, one = len(design.means.skill), fit.posterior.starts, np.ones(len(pairs), int)
    players = design.of_player.thing[pairs]
    group = np.zeros(len(design.players), int)
    group[design.player] = design.group
    columns = [
        design.means.number_of(skill, group[players]),
        one * (means + skill),
        one * (means + len(design.skills) + skill),
        starts[0] + pairs,
        starts[1] + pairs,
        *(one * (starts[2] + step) for step in steps),
    ]
    last = len(fit.fixed) - 1
    columns += [one * (last - 1), one * last]
    if design.shared:
        columns += [starts[5] + players, starts[6] + players]
    return np.column_stack(columns)
