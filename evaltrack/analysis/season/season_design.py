"""How a season's cells become a mixed logit: what explains a try, and what is believed beforehand.

For a cell of player p in skill s at time t,

    logit share = mean[s, group of p] + (trend + trend[s]) t + (pressure + pressure[s]) pressed
                  + level[p, s] + slope[p, s] t + step[s, .] + observer[s, .] + practice[s, .]

and, when strength is shared between a player's skills, + level[p] + slope[p] t; where it is known whom the
player met, + opponent[s, .]. A try against somebody unknown counts as one against an ordinary
mix of opponents, and so does each in a season in which nobody is known. Goalies and skaters are
groups with means of their own. Trend and pressure are in part common to all skills, because one skill
alone cannot tell the team's progress from steps that grow harder.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pandas as pd

from evaltrack.analysis.mixed_logit import Priors, Term
from evaltrack.analysis.season.effects import FIXED, MET, RANDOM, SHARED, Columns, Covariate, Effect
from evaltrack.analysis.season.pairs import Pairs, pairs, pairs_where
from evaltrack.rink.player import Position

Array = np.ndarray
FULL_PRACTICES = 8
GROUPS = tuple(Position)  # position groups, numbered; whoever is in none has the number after the last

# what is believed beforehand, on the logit scale: the SD of each fixed effect's prior, and the scale of the
# prior of each random effect's SD
PRIOR_SD = {
    Effect.MEAN: 1.2,
    Effect.TREND: 0.15,
    Effect.PRESSURE: 0.3,
    Effect.COMMON_TREND: 0.5,
    Effect.COMMON_PRESSURE: 0.7,
}
SD_SCALE = {
    Effect.LEVEL: 0.7,
    Effect.SLOPE: 0.35,
    Effect.STEP: 0.5,
    Effect.OBSERVER: 0.3,
    Effect.PRACTICE: 0.3,
    Effect.SHARED_LEVEL: 0.5,
    Effect.SHARED_SLOPE: 0.25,
    Effect.OPPONENT: 0.3,
}


@dataclass(frozen=True)
class Axis:
    """The time axis: -1 at the first and 1 at the last practice of the season so far.

    A season of fewer than 8 practices so far does not fill the axis, because nobody changes as much
    between two practices as in a season.
    """

    middle: pd.Timestamp
    half_days: float

    def at(self, days) -> Array:
        """Return the place of days on the axis."""
        return np.asarray((pd.DatetimeIndex(days) - self.middle) / pd.Timedelta(days=self.half_days), float)

    def months(self, times: Array) -> Array:
        """Return the months, 1 to 12, of places on the axis."""
        days = self.middle + pd.to_timedelta(np.asarray(times) * self.half_days, unit="D").round("s")
        return days.month.to_numpy()


def axis_of(held_on: pd.Series) -> Axis:
    """Return the axis of the practices held on these days."""
    days = pd.DatetimeIndex(held_on.unique())
    half = (days.max() - days.min()) / 2
    filled = min(1.0, (len(days) - 1) / (FULL_PRACTICES - 1))
    return Axis(days.min() + half, max(half / pd.Timedelta(days=1), 0.5) / max(filled, 1e-3))


@dataclass(frozen=True)
class SeasonDesign:
    """The cells of one or more skills as numbers, and which coefficients explain them.

    Attributes
    ----------
    players, skills, steps, observers, opponents : their names.
    group : (players,) the number of each one's position group.
    player, skill, time, pressed, tries : (n,) of each cell.
    met : (n,) whether it is known whom the player met.
    within : the pairs of skill and group, player, step, observer, practice or opponent, by effect; a trend
        and a pressure are the skill's own alone.
    shared : whether the skills of a player have a level and a slope in common.
    """

    players: list[bytes]
    skills: list[str]
    steps: list[str]
    observers: list[str]
    opponents: list[bytes]
    group: Array
    player: Array
    skill: Array
    time: Array
    pressed: Array
    tries: Array
    met: Array
    within: dict[Effect, Pairs]
    shared: bool

    @property
    def random(self) -> tuple[Effect, ...]:
        """The random effects, in the order of ``terms``."""
        return RANDOM + SHARED * self.shared + MET * bool(self.met.any())

    @cached_property
    def groupings(self) -> dict[Effect, Term]:
        """Which coefficient of each effect acts in a cell, with its covariate there: fixed effects first."""
        common, players = (np.zeros(len(self.skill), int), 1), (self.player, len(self.players))
        codes = {effect: (found.codes, found.size) for effect, found in self.within.items()}
        codes |= {Effect.COMMON_TREND: common, Effect.COMMON_PRESSURE: common}
        codes |= dict.fromkeys(SHARED, players)
        covariates = {
            Covariate.ONE: np.ones(len(self.skill)),
            Covariate.TIME: self.time,
            Covariate.PRESSURE: self.pressed,
            Covariate.MET: self.met.astype(float),
        }
        return {
            effect: Term(codes[effect][0], covariates[effect.covariate], codes[effect][1])
            for effect in (*FIXED, *self.random)
        }

    @cached_property
    def columns(self) -> Columns:
        """Which of the fit's coefficients belong to which effect."""
        return Columns({effect: term.size for effect, term in self.groupings.items()})

    @property
    def fixed(self) -> Array:
        """The (n, k) design matrix of the fixed effects."""
        each = np.arange(len(self.skill))
        design = np.zeros((len(each), sum(self.columns.sizes[effect] for effect in FIXED)))
        for effect in FIXED:
            term = self.groupings[effect]
            design[each, self.columns.of(effect)[term.codes]] = term.weights
        return design

    @property
    def terms(self) -> list[Term]:
        """The groupings of the random effects."""
        return [self.groupings[effect] for effect in self.random]

    @property
    def priors(self) -> Priors:
        """What is believed beforehand: weak, and the same for every team.

        Players differ as much in the one as in the other way: what is not shared is each skill's own.
        """
        scale = dict(SD_SCALE)
        if not self.shared:
            for own, common in ((Effect.LEVEL, Effect.SHARED_LEVEL), (Effect.SLOPE, Effect.SHARED_SLOPE)):
                scale[own] = np.hypot(scale[own], scale[common])
        fixed = Columns({effect: self.columns.sizes[effect] for effect in FIXED})
        return Priors(fixed.spread_out(PRIOR_SD), np.array([scale[effect] for effect in self.random]))


def group_numbers(positions: Iterable[Position | None]) -> Array:
    """Return the numbers of position groups; None is in none."""
    return np.array([len(GROUPS) if one is None else GROUPS.index(one) for one in positions], int)


def is_goalie(group: Array) -> Array:
    """Return 1 for the number of the goalies' group, 0 for others: goalies do not share the skaters' mean."""
    return (group == GROUPS.index(Position.GOALIE)).astype(int)


def season_design(
    cells: pd.DataFrame, axis: Axis, positions: Mapping[bytes, Position], shared: bool
) -> SeasonDesign:
    """Turn cells into numbers. ``positions`` are those of players by id, as far as they are known.

    Where pressure was not noted, a try counts as under the skill's usual share of pressure.
    """
    skill, skills = pd.factorize(cells["skill"], sort=True)
    player, players = pd.factorize(cells["player"], sort=True)
    step, steps = pd.factorize(cells["drill"] + "/" + cells["step"], sort=True)
    observer, observers = pd.factorize(cells["observer"], sort=True)
    practice, _ = pd.factorize(cells["practice"], sort=True)
    met = (cells["opponent"] != b"").to_numpy()
    opponent, opponents = pd.factorize(cells["opponent"][met], sort=True)
    group = group_numbers(positions.get(ident) for ident in players)
    own, of_player = pairs(skill, np.zeros_like(skill)), pairs(skill, player)
    return SeasonDesign(
        players=list(players),
        skills=list(skills),
        steps=list(steps),
        observers=list(observers),
        opponents=list(opponents),
        group=group,
        player=player,
        skill=skill,
        time=axis.at(cells["held_on"]),
        pressed=_pressed(cells, skill),
        tries=cells["tries"].to_numpy(float),
        met=met,
        within={
            Effect.MEAN: pairs(skill, is_goalie(group)[player]),
            Effect.TREND: own,
            Effect.PRESSURE: own,
            Effect.LEVEL: of_player,
            Effect.SLOPE: of_player,
            Effect.STEP: pairs(skill, step),
            Effect.OBSERVER: pairs(skill, observer),
            Effect.PRACTICE: pairs(skill, practice),
            Effect.OPPONENT: pairs_where(met, skill[met], opponent),
        },
        shared=shared,
    )


def _pressed(cells: pd.DataFrame, skill: Array) -> Array:
    noted = cells["pressure"].notna().to_numpy()
    tries = np.where(noted, cells["tries"], 0)
    pressed = np.where(noted, cells["pressure"], 0.0)
    total = np.bincount(skill, tries)
    usual = np.divide(np.bincount(skill, tries * pressed), total, out=np.zeros(len(total)), where=total > 0)
    return np.where(noted, pressed, usual[skill])
