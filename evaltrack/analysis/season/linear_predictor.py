"""The linear predictor of one skill: which coefficients make a player's share, and how they act in a try."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from evaltrack.analysis.season.effects import OF_TRY, SHARE, SHARED, Columns, Covariate, Effect
from evaltrack.analysis.season.season_design import GROUPS, SeasonDesign, is_goalie

Array = np.ndarray


@dataclass(frozen=True)
class Kinds:
    """The kinds of try in a skill, and how often each occurs.

    Attributes
    ----------
    step, pressed : (C,) which of the skill's steps, and under how much pressure.
    mix : (groups + 1, C) how often each occurs in the tries of a position group; in the last row, and where
        a group has no tries, in those of all. Rows sum to one.
    observers : (O,) which share of all tries each of the skill's observers noted.
    opponents : (groups + 1, A + 1) which share of a group's tries was against each of the skill's opponents,
        and in the last column against nobody known; groups without tries as in ``mix``.
    """

    step: Array
    pressed: Array
    mix: Array
    observers: Array
    opponents: Array

    def seen(self, group: Array) -> Array:
        """Return how often players of these groups (P,) meet each kind under each observer, (P, C O (A + 1)).

        Kinds, observers and opponents are taken to be independent.
        """
        mix, met = self.mix[np.asarray(group)], self.opponents[np.asarray(group)]
        seen = mix[:, :, None, None] * self.observers[:, None] * met[:, None, None, :]
        return seen.reshape(len(mix), -1)


@dataclass(frozen=True)
class LinearPredictor:
    """The logit of a try's share as a sum over the r coefficients of its player in one skill.

    With t the time and p the pressure of the try it is coefficients @ (``base`` + t ``rate`` + p ``press``),
    and the coefficients of what acts in that try: its step, and where they count its observer and practice.

    Attributes
    ----------
    design : the cells of all skills that were fitted together.
    skill : the number of this skill among them.
    effects : of which effects the coefficients are, in order.
    """

    design: SeasonDesign
    skill: int
    effects: tuple[Effect, ...]

    def with_effects(self, *effects: Effect) -> "LinearPredictor":
        """Return the predictor in which these effects count too; their coefficients come last."""
        return replace(self, effects=(*self.effects, *effects))

    @cached_property
    def columns(self) -> Columns:
        """Which of a player's r coefficients belong to which effect."""
        return Columns({e: len(self.things(e)) if e in OF_TRY else 1 for e in self.effects})

    @cached_property
    def cells(self) -> Array:
        """Which of the design's cells are of this skill, (n,) true or false."""
        return self.design.skill == self.skill

    def things(self, effect: Effect) -> Array:
        """Return the players, steps, observers, practices or opponents of this skill, (k,) in order."""
        pairs = self.design.within[effect]
        return pairs.thing[pairs.of_skill(self.skill)]

    def acting(self, effect: Effect) -> Array:
        """Return which of these ``things`` it is in each of this skill's cells, -1 for no known opponent."""
        pairs = self.design.within[effect]
        found = np.searchsorted(pairs.of_skill(self.skill), pairs.codes[self.cells])
        return np.where(self.design.met[self.cells], found, -1) if effect is Effect.OPPONENT else found

    @cached_property
    def base(self) -> Array:
        """The (r,) part of the design that is the same in every try of a player."""
        return self._design(Covariate.ONE)

    @cached_property
    def rate(self) -> Array:
        """The (r,) part of the design for each unit of time."""
        return self._design(Covariate.TIME)

    @cached_property
    def press(self) -> Array:
        """The (r,) part of the design under full pressure."""
        return self._design(Covariate.PRESSURE)

    def _design(self, covariate: Covariate) -> Array:
        acts = {e: float(e.covariate is covariate and e not in OF_TRY) for e in self.effects}
        return self.columns.spread_out(acts)

    def kinds(self) -> Kinds:
        """Return the kinds of try in this skill."""
        kinds = np.column_stack([self.acting(Effect.STEP), self.design.pressed[self.cells]])
        found, kind = np.unique(kinds, axis=0, return_inverse=True)
        tries, group = self.design.tries[self.cells], self.design.group[self.design.player[self.cells]]
        mix = _by_group(group, kind.ravel(), tries, len(found))
        seen_by = np.bincount(self.acting(Effect.OBSERVER), tries)
        known = len(self.things(Effect.OPPONENT))
        opponents = _by_group(group, self.acting(Effect.OPPONENT) % (known + 1), tries, known + 1)
        step, pressed = found.T
        return Kinds(step.astype(int), pressed, mix, seen_by / seen_by.sum(), opponents)

    def level(self, kinds: Kinds) -> Array:
        """Return the design of each kind of try under each observer at time zero, (C O (A + 1), r)."""
        sizes = (len(kinds.step), len(kinds.observers), kinds.opponents.shape[1])
        kind, observer, opponent = (part.ravel() for part in np.indices(sizes))
        level = self.base + kinds.pressed[kind, None] * self.press
        each = np.arange(len(kind))
        level[each, self.columns.of(Effect.STEP)[kinds.step[kind]]] = 1
        level[each, self.columns.of(Effect.OBSERVER)[observer]] = 1
        known = opponent < sizes[2] - 1
        if known.any():
            level[each[known], self.columns.of(Effect.OPPONENT)[opponent[known]]] = 1
        return level

    def picked(self, player: Array, group: Array) -> Array:
        """Return which of the fit's coefficients are those of players, (P, r): -1 where the fit has none.

        Parameters
        ----------
        player : (P,) their numbers among the players of the design, -1 for whoever is not among them.
        group : (P,) the numbers of their position groups.
        """
        numbers = self._numbers(np.asarray(player), is_goalie(np.asarray(group)))
        blocks = [np.where(numbers[e] >= 0, self.design.columns.of(e)[numbers[e]], -1) for e in self.effects]
        return np.hstack(blocks)

    def _numbers(self, player: Array, goalie: Array) -> dict[Effect, Array]:
        """Return which coefficients of each effect are those of players, (P, 1) or (P, k): -1 for none."""
        within, zero = self.design.within, np.zeros(len(player), int)
        whose = {Effect.MEAN: goalie, Effect.TREND: zero, Effect.PRESSURE: zero}
        whose |= {Effect.LEVEL: player, Effect.SLOPE: player}
        one = {effect: within[effect].number_of(self.skill, thing) for effect, thing in whose.items()}
        one |= {Effect.COMMON_TREND: zero, Effect.COMMON_PRESSURE: zero} | dict.fromkeys(SHARED, player)
        several = {e: np.tile(within[e].of_skill(self.skill), (len(player), 1)) for e in OF_TRY}
        return {effect: number[:, None] for effect, number in one.items()} | several


def _by_group(group: Array, number: Array, tries: Array, size: int) -> Array:
    """Return how the tries of each position group fall on numbers, (groups + 1, size).

    In the last row, and where a group has no tries, how those of all do. Rows sum to one.
    """
    count = np.zeros((len(GROUPS) + 1, size))
    np.add.at(count, (group, number), tries)
    count[-1] = np.bincount(number, tries, size)
    count = np.where(count.any(1, keepdims=True), count, count[-1])
    return count / count.sum(1, keepdims=True)


def share_predictor(design: SeasonDesign, skill: int) -> LinearPredictor:
    """Return the predictor of shares as the season's observers see them on an ordinary day."""
    return LinearPredictor(design, skill, tuple(e for e in SHARE if e in design.columns.sizes))
