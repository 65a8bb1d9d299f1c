"""How a season's cells become a mixed logit: what explains a try, and what is believed beforehand.

For a cell of player p in skill s at time t,

    logit share = mean[s, group of p] + (trend + trend[s]) t + (pressure + pressure[s]) pressed
                  + level[p, s] + slope[p, s] t + step[s, .] + observer[s, .] + practice[s, .]

and, when strength is shared between a player's skills, + level[p] + slope[p] t. Goalies and skaters are
groups with means of their own. Trend and pressure are in part common to all skills, because one skill
alone cannot tell the team's progress from steps that grow harder.
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from evaltrack.analysis.mixed_logit import Priors, Term

Array = np.ndarray
FULL_PRACTICES = 8

MEAN_SD = 1.2
TREND_SD, OWN_TREND_SD = 0.5, 0.15
PRESSURE_SD, OWN_PRESSURE_SD = 0.7, 0.3
LEVEL, SLOPE, STEP, OBSERVER, PRACTICE = 0.7, 0.35, 0.5, 0.3, 0.3
SHARED_LEVEL, SHARED_SLOPE = 0.5, 0.25


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
class Pairs:
    """Things within skills, numbered as they occur: ``codes`` (n,), and for each its skill and thing."""

    codes: Array
    skill: Array
    thing: Array

    def number_of(self, skill: int, things: Array) -> Array:
        """Return the numbers of things of a skill, in the order given."""
        mine = np.flatnonzero(self.skill == skill)
        order = mine[np.argsort(self.thing[mine])]
        return order[np.searchsorted(self.thing[order], things)]


def _pairs(skill: Array, thing: Array) -> Pairs:
    width = int(thing.max(initial=0)) + 1
    found, codes = np.unique(skill * width + thing, return_inverse=True)
    return Pairs(codes, found // width, found % width)


@dataclass(frozen=True)
class SeasonDesign:
    """The cells of one or more skills as numbers, and where each coefficient stands.

    Fixed effects in order: means by skill and group, trends by skill, pressure by skill, and the common
    trend and pressure. Terms: level, slope, step, observer, practice, and, if ``shared``, the level and
    slope that a player's skills have in common.
    """

    players: list[bytes]
    skills: list[str]
    steps: list[str]
    observers: list[str]
    player: Array
    skill: Array
    time: Array
    pressed: Array
    tries: Array
    group: Array
    means: Pairs
    of_player: Pairs
    of_step: Pairs
    of_observer: Pairs
    of_practice: Pairs
    shared: bool

    @property
    def fixed(self) -> Array:
        """The (n, k) design of the fixed effects."""
        n, each = len(self.skill), np.arange(len(self.skill))
        means, skills = len(self.means.skill), len(self.skills)
        design = np.zeros((n, means + 2 * skills + 2))
        design[each, self.means.codes] = 1
        design[each, means + self.skill] = self.time
        design[each, means + skills + self.skill] = self.pressed
        design[:, -2], design[:, -1] = self.time, self.pressed
        return design

    @property
    def terms(self) -> list[Term]:
        """The groupings, in the order of the class's description."""
        level = self.of_player.codes
        terms = [Term(level), Term(level, self.time)]
        terms += [Term(pairs.codes) for pairs in (self.of_step, self.of_observer, self.of_practice)]
        if self.shared:
            size = len(self.players)
            terms += [Term(self.player, None, size), Term(self.player, self.time, size)]
        return terms

    @property
    def priors(self) -> Priors:
        """What is believed beforehand, on the logit scale: weak, and the same for every team.

        Players differ as much in the one as in the other way: what is not shared is each skill's own.
        """
        means, skills = len(self.means.skill), len(self.skills)
        fixed = [MEAN_SD] * means + [OWN_TREND_SD] * skills + [OWN_PRESSURE_SD] * skills
        fixed += [TREND_SD, PRESSURE_SD]
        players = [LEVEL, SLOPE] if self.shared else np.hypot([LEVEL, SLOPE], [SHARED_LEVEL, SHARED_SLOPE])
        common = [SHARED_LEVEL, SHARED_SLOPE] if self.shared else []
        return Priors(np.array(fixed), np.array([*players, STEP, OBSERVER, PRACTICE, *common]))


def season_design(cells: pd.DataFrame, axis: Axis, goalies: frozenset[bytes], shared: bool) -> SeasonDesign:
    """Turn cells into numbers. ``goalies`` are the ids of goalies, who do not share the skaters' mean.

    Where pressure was not noted, a try counts as under the skill's usual share of pressure.
    """
    skill, skills = pd.factorize(cells["skill"], sort=True)
    player, players = pd.factorize(cells["player"], sort=True)
    step, steps = pd.factorize(cells["drill"] + "/" + cells["step"], sort=True)
    observer, observers = pd.factorize(cells["observer"], sort=True)
    group = np.isin(player, [number for number, ident in enumerate(players) if ident in goalies]).astype(int)
    return SeasonDesign(
        players=list(players),
        skills=list(skills),
        steps=list(steps),
        observers=list(observers),
        player=player,
        skill=skill,
        time=axis.at(cells["held_on"]),
        pressed=_pressed(cells, skill),
        tries=cells["tries"].to_numpy(float),
        group=group,
        means=_pairs(skill, group),
        of_player=_pairs(skill, player),
        of_step=_pairs(skill, step),
        of_observer=_pairs(skill, observer),
        of_practice=_pairs(skill, pd.factorize(cells["practice"], sort=True)[0]),
        shared=shared,
    )


def _pressed(cells: pd.DataFrame, skill: Array) -> Array:
    noted = cells["pressure"].notna().to_numpy()
    tries = np.where(noted, cells["tries"], 0)
    pressed = np.where(noted, cells["pressure"], 0.0)
    total = np.bincount(skill, tries)
    usual = np.divide(np.bincount(skill, tries * pressed), total, out=np.zeros(len(total)), where=total > 0)
    return np.where(noted, pressed, usual[skill])
