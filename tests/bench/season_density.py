"""The model of a season written out anew, for a sampler: nothing of the estimates' own code is used.

The model and its priors are those that ``evaltrack/analysis/season/season_design.py`` states; the scales of
the priors are read from there. A player's share is worked out draw by draw, with no approximation.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pandas as pd

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.season_design import FULL_PRACTICES, PRIOR_SD, SD_SCALE

Array = np.ndarray


@dataclass(frozen=True)
class Part:
    """One effect: the column it acts through in each cell, what it is multiplied by, and its prior.

    ``sd`` is the SD of a fixed effect's prior; where it is 0 the effect is random, with an SD whose prior is
    half-normal with ``scale``.
    """

    name: str
    level: Array
    times: Array
    size: int
    sd: float
    scale: float


class SeasonDensity:
    """The joint posterior of every effect and every SD, given the cells of a season.

    Parameters
    ----------
    cells : one row for each cell, in the columns of the season file's cells.
    group : the position group of each player, by id.

    Notes
    -----
    A place is the standardised effects, each normal with SD 1 beforehand, and then the logs of the random
    effects' SDs. So a random effect is its SD times a standardised one.
    """

    def __init__(self, cells: pd.DataFrame, group: dict[bytes, str]):
        self.cells, self.group = cells, group
        days = (cells["held_on"] - cells["held_on"].min()) / pd.Timedelta(days=1)
        if cells["held_on"].nunique() < FULL_PRACTICES:
            raise ValueError("a season of so few practices does not fill the axis")
        self.time = (2 * days / days.max() - 1).to_numpy()
        self.done, self.tries = (cells[name].to_numpy(float) for name in ("done", "tries"))

    @cached_property
    def parts(self) -> list[Part]:
        """Every effect, in the order of a place."""
        one, skill = np.ones(len(self.cells)), self.cells["skill"].tolist()
        player, pressed = self.cells["player"].tolist(), self.cells["pressure"].to_numpy(float)
        goalie = [self.group[ident] == "G" for ident in player]
        every = [0] * len(skill)
        own = {
            name: list(zip(skill, self.cells[name], strict=True)) for name in ("step", "observer", "practice")
        }
        both = list(zip(skill, player, strict=True))
        rows = [
            (Effect.MEAN, list(zip(skill, goalie, strict=True)), one),
            (Effect.TREND, skill, self.time), (Effect.PRESSURE, skill, pressed),
            (Effect.COMMON_TREND, every, self.time), (Effect.COMMON_PRESSURE, every, pressed),
            (Effect.LEVEL, both, one), (Effect.SLOPE, both, self.time),
            (Effect.STEP, own["step"], one), (Effect.OBSERVER, own["observer"], one),
            (Effect.PRACTICE, own["practice"], one),
            (Effect.SHARED_LEVEL, player, one), (Effect.SHARED_SLOPE, player, self.time),
        ]  # fmt: skip
        return [_part(effect, labels, times) for effect, labels, times in rows]

    @cached_property
    def design(self) -> Array:
        """What each cell's logit is made of, (cells, effects)."""
        blocks = []
        for part in self.parts:
            block = np.zeros((len(self.cells), part.size))
            block[np.arange(len(self.cells)), part.level] = part.times
            blocks.append(block)
        return np.hstack(blocks)

    @cached_property
    def _random(self) -> tuple[Array, Array, Array]:
        """Return the fixed part of each effect's SD (0 if random), its random part, and the SDs' scales."""
        fixed = np.repeat([part.sd for part in self.parts], [part.size for part in self.parts])
        random = [part for part in self.parts if not part.sd]
        which = np.zeros((len(random), len(fixed)))
        places = np.repeat(np.arange(len(self.parts)), [part.size for part in self.parts])
        for row, part in enumerate(random):
            which[row, places == self.parts.index(part)] = 1
        return fixed, which, np.array([part.scale for part in random])

    @property
    def width(self) -> int:
        """How many numbers a place has."""
        return self.design.shape[1] + len(self._random[2])

    def starts(self, chains: int, rng: np.random.Generator) -> Array:
        """Return places (chains, q) that lie far apart, but none where the density is too steep to leave."""
        _, _, scale = self._random
        at = rng.normal(size=(chains, self.width))
        at[:, -len(scale) :] = np.log(scale) + at[:, -len(scale) :] / 2
        return at

    def _split(self, at: Array) -> tuple[Array, Array, Array]:
        """Return the standardised effects, the SDs of the random ones, and the SD of each effect."""
        fixed, which, scale = self._random
        sds = np.exp(at[:, -len(scale) :])
        return at[:, : -len(scale)], sds, fixed + sds @ which

    def effects(self, at: Array) -> Array:
        """Return the effects (chains, effects) at places (chains, q)."""
        unit, _, sd = self._split(at)
        return sd * unit

    def __call__(self, at: Array) -> tuple[Array, Array]:
        """Return the log posterior densities (chains,) at places (chains, q), and their gradients."""
        _, which, scale = self._random
        log_sd = at[:, -len(scale) :]
        unit, sds, sd = self._split(at)
        logit = (sd * unit) @ self.design.T
        small = np.exp(-np.abs(logit))
        chance = np.where(logit > 0, 1, small) / (1 + small)
        fits = self.done * logit - self.tries * (np.maximum(logit, 0) + np.log1p(small))
        # half-normal in the SD: in its log the density has the SD as one more factor
        prior = log_sd - (sds / scale) ** 2 / 2
        value = fits.sum(1) - (unit**2).sum(1) / 2 + prior.sum(1)
        in_effect = (self.done - self.tries * chance) @ self.design
        in_sd = (in_effect * unit) @ which.T * sds + 1 - (sds / scale) ** 2
        return value, np.hstack([in_effect * sd - unit, in_sd])

    def shares(self, at: Array, player: bytes, skill: str) -> tuple[Array, Array]:
        """Return a player's share now and at the start in a skill, (...,) each, at places (..., q)."""
        mine, own = self.cells["skill"] == skill, self.cells["player"] == player
        days = [self.time[mine], self.time[own]]
        rows = [self._kinds(mine, player), self._observers(mine)]
        both = self.cells.index[mine & own][0]
        now, start = min(max(each) for each in days), max(min(each) for each in days)
        effects = self.effects(at.reshape(-1, at.shape[-1]))
        shares = (self._share(effects, both, time, *rows) for time in (now, start))
        return tuple(share.reshape(at.shape[:-1]) for share in shares)

    def _kinds(self, mine: pd.Series, player: bytes) -> pd.Series:
        """Return how often each step and pressure came up for the player's group in the skill."""
        alike = self.cells["player"].map(self.group) == self.group[player]
        tries = self.cells[mine & alike].groupby(["step", "pressure"])["tries"].sum()
        return tries / tries.sum()

    def _observers(self, mine: pd.Series) -> pd.Series:
        """Return which part of the skill's tries each observer noted."""
        tries = self.cells[mine].groupby("observer")["tries"].sum()
        return tries / tries.sum()

    def _share(self, effects: Array, cell: int, time: float, kinds: pd.Series, observers: pd.Series) -> Array:
        """Return the share at a time: the player's cell with other steps, pressure, observers and day."""
        skill, total = self.cells.at[cell, "skill"], 0.0
        for (step, pressure), often in kinds.items():
            for observer, part in observers.items():
                row = self._row(cell, time, pressure, self._cell_of(skill, step=step),
                                self._cell_of(skill, observer=observer))  # fmt: skip
                total = total + often * part / (1 + np.exp(-effects @ row))
        return total

    def _cell_of(self, skill: str, **named: str) -> int:
        """Return a cell of the skill with such a step or observer."""
        ((column, value),) = named.items()
        return int(np.flatnonzero((self.cells["skill"] == skill) & (self.cells[column] == value))[0])

    def _row(self, cell: int, time: float, pressure: float, with_step: int, with_observer: int) -> Array:
        """Return the row of a try of the cell's player and skill on an ordinary day."""
        chosen = {"STEP": with_step, "OBSERVER": with_observer}
        times = dict.fromkeys(("TREND", "SLOPE", "COMMON_TREND", "SHARED_SLOPE"), time)
        times |= dict.fromkeys(("PRESSURE", "COMMON_PRESSURE"), pressure) | {"PRACTICE": 0.0}
        return np.concatenate([
            np.eye(part.size)[part.level[chosen.get(part.name, cell)]] * times.get(part.name, 1.0)
            for part in self.parts
        ])  # fmt: skip


def _part(effect: Effect, labels: Sequence, times: Array) -> Part:
    known = {label: number for number, label in enumerate(dict.fromkeys(labels))}
    level = np.array([known[label] for label in labels])
    sd, scale = PRIOR_SD.get(effect, 0.0), SD_SCALE.get(effect, 0.0)
    return Part(effect.name, level, times, len(known), sd, scale)
