"""The hockey model: what the cells of a season say of every player in every skill."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
import pandas as pd

from evaltrack.analysis.mixed_logit import MixedFit, WarmStart, fit_mixed_logit
from evaltrack.analysis.season.effects import FIXED, Effect
from evaltrack.analysis.season.linear_predictor import Kinds, LinearPredictor, share_predictor
from evaltrack.analysis.season.outlook import Outlook
from evaltrack.analysis.season.season_design import PRIOR_SD, Axis, SeasonDesign, axis_of, season_design
from evaltrack.rink.player import Position

Array = np.ndarray
IN_ORDER = ("skill", "player", "practice", "drill", "step", "observer", "pressure", "opponent")
NONE_KNOWN: Mapping[bytes, Position] = MappingProxyType({})


@dataclass(frozen=True)
class SkillFit:
    """The fit of one skill: its players, what their shares are made of, and whether to trust it.

    ``predictor`` tells what the outlook's coefficients are, and which of the fit's they are; ``kinds`` are
    the skill's kinds of try. ``fit`` is that of all skills that were fitted together.
    """

    players: list[bytes]
    outlook: Outlook
    axis: Axis
    trusted: bool
    predictor: LinearPredictor
    kinds: Kinds
    fit: MixedFit

    def sd(self, effect: Effect) -> float:
        """Return the SD that is expected of an effect's coefficient before any try tells of it."""
        if effect in FIXED:
            return PRIOR_SD[effect]
        return self.fit.term_sd[self.predictor.design.random.index(effect)]


def fit_season(
    cells: pd.DataFrame,
    positions: Mapping[bytes, Position] = NONE_KNOWN,
    shared: bool = True,
    start: WarmStart | None = None,
) -> dict[str, SkillFit]:
    """Fit every skill of the cells, and return the fits by skill.

    The skills are fitted together: the team's trend, pressure and all SDs inform each other. With
    ``shared`` a player's skills lend each other strength too. ``positions`` tells by id in which position
    group a player is: goalies have a mean of their own, and each group its mix of steps. ``start`` is where
    the last fit of the season came to rest, if known.
    """
    # in an order of its own, so that two tablets that got the tallies differently show the same digits
    cells = cells.sort_values(list(IN_ORDER))
    axis = axis_of(cells["held_on"])
    design = season_design(cells, axis, positions, shared)
    done = cells["done"].to_numpy(float)
    fit = fit_mixed_logit(done, design.tries, design.fixed, design.terms, design.priors, start=start)
    return {key: _of_skill(design, fit, number, axis) for number, key in enumerate(design.skills)}


def _of_skill(design: SeasonDesign, fit: MixedFit, skill: int, axis: Axis) -> SkillFit:
    """Return the fit of one skill: in its outlook an ordinary day has no effect."""
    predictor = share_predictor(design, skill)
    numbers, kinds = predictor.things(Effect.LEVEL), predictor.kinds()
    group = design.group[numbers]
    moments = fit.posterior.moments(predictor.picked(numbers, group))
    outlook = Outlook(*moments, predictor.level(kinds), predictor.rate, kinds.seen(group))
    players = [design.players[number] for number in numbers]
    return SkillFit(players, outlook, axis, fit.converged, predictor, kinds, fit)
