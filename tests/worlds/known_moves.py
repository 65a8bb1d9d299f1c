"""Simulated seasons in which it is known what moved each share away from the plain count.

The law of a try is drawn here and each stage of the way from the count to the share now is worked out from
it, try by try. Nothing is taken from the code that estimates, nor from the other simulated seasons.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from seasons import cell, player, skill

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.rink.player import Position

Array = np.ndarray
WALK = ("luck", "observer", "days", "pressure", "step", "change")


@dataclass(frozen=True)
class MovesWorld:
    """How a season comes about; effects are normal, on the logit scale.

    ``strict`` makes the last observer so much stricter in every skill. ``noted`` is which part of the dones
    the last observer writes down; misses he notes all. ``drift`` runs easy steps early and hard ones late.
    With ``uneven`` he watches the first skill as often as the others, and the k-th only in one of k tries.
    ``own`` is how far an observer keeps to players of his own: 0 not at all, 1 altogether. ``apart`` gives
    defenders steps of their own more often.
    """

    players: int = 18
    skills: int = 8
    practices: int = 24
    tries: int = 20
    steps: int = 4
    observers: int = 2
    sd_observer: float = 0.2
    strict: float = 0.0
    noted: float = 1.0
    uneven: bool = False
    drift: bool = True
    own: float = 0.0
    apart: float = 0.0


@dataclass(frozen=True)
class Law:
    """What was drawn for one season, each by skill in its last axis."""

    level: Array
    slope: Array
    step: Array
    observer: Array
    practice: Array
    pressure: float = -0.6

    def share(self, skill, player, time, step, pressed, observer, practice=None) -> Array:
        """Return the share of tries; without a practice on an ordinary day."""
        logit = self.level[player, skill] + self.slope[player, skill] * time + self.step[step, skill]
        logit = logit + self.pressure * pressed + self.observer[observer, skill]
        return _expit(logit if practice is None else logit + self.practice[practice, skill])


@dataclass(frozen=True)
class KnownSeason:
    """One row for each try that was noted, and the law they follow. ``defender`` says who is one."""

    world: MovesWorld
    law: Law
    defender: Array
    player: Array
    skill: Array
    practice: Array
    step: Array
    observer: Array
    pressure: Array
    done: Array

    @property
    def time(self) -> Array:
        """When each try was, from -1 to 1."""
        return np.linspace(-1, 1, self.world.practices)[self.practice]

    @cached_property
    def roster(self):
        """The players, numbered from 1."""
        groups = np.where(self.defender, Position.DEFENCE, Position.FORWARD)
        return [player(n + 1, Position(group)) for n, group in enumerate(groups)]

    def catalogue(self):
        """Return the skills, keyed ``s0`` and so on."""
        return [skill(f"s{n}") for n in range(self.world.skills)]

    def cells(self):
        """Return the frame of cells that the season file would give, one practice a week."""
        keys = np.column_stack(
            [self.player, self.skill, self.practice, self.step, self.pressure, self.observer]
        )
        found, at = np.unique(keys, axis=0, return_inverse=True)
        tries, done = np.bincount(at.ravel()), np.bincount(at.ravel(), self.done).astype(int)
        people = self.roster
        return cells_frame(
            cell(people[p], f"s{s}", t, n, k, drill="d", step=str(d), pressure=q, observer=f"o{o}")
            for (p, s, t, d, q, o), n, k in zip(found.tolist(), tries.tolist(), done.tolist(), strict=True)
        )

    def mix(self, skill: int, who: int) -> tuple[Array, Array]:
        """Return how often each step and pressure, (steps, 2), comes in the tries of a player's group.

        And which share of all tries each observer noted, (observers,).
        """
        mine = self.skill == skill
        alike = mine & (self.defender[self.player] == self.defender[who])
        kinds = np.zeros((self.world.steps, 2))
        np.add.at(kinds, (self.step[alike], self.pressure[alike].astype(int)), 1)
        seen_by = np.bincount(self.observer[mine], minlength=self.world.observers)
        return kinds / kinds.sum(), seen_by / seen_by.sum()

    def moves(self, skill: int, who: int) -> dict[str, float]:
        """Return by how much each cause truly moved a player's share; in order they lead to it."""
        own = (self.skill == skill) & (self.player == who)
        kinds, by = self.mix(skill, who)
        law, grid = self.law, np.indices((int(own.sum()), self.world.steps, 2, self.world.observers))
        at, step, pressed, observer = grid
        time, own_step = self.time[own][at], self.step[own][at]
        all_kinds, free_of_step = kinds[None, :, :, None], kinds.sum(0)[None, None, :, None]
        same = (step == own_step).astype(float)
        as_met = same * (pressed == self.pressure[own][at])
        as_noted = as_met * (observer == self.observer[own][at])
        here = law.share(skill, who, time, step, pressed, observer, self.practice[own][at])
        usual = law.share(skill, who, time, step, pressed, observer)
        now = law.share(skill, who, self.now(skill, who), step, pressed, observer)
        walked = [
            as_noted * here, as_met * by * here, as_met * by * usual, same * free_of_step * by * usual,
            all_kinds * by * usual, all_kinds * by * now,
        ]  # fmt: skip
        stages = [self.done[own].mean(), *(part.sum() / own.sum() for part in walked)]
        return dict(zip(WALK, np.diff(stages).tolist(), strict=True))

    def now(self, skill: int, who: int) -> float:
        """Return the earlier of the last moments at which the skill and the player were watched."""
        return min(self.time[self.skill == skill].max(), self.time[self.player == who].max())

    def cost(self, skill: int, who: int, cause: str, number: int) -> float:
        """Return how many points lower the team's share is in tries of this kind than in the others.

        Kinds come as often as in the player's group, at the mean moment of the skill's tries.
        """
        kinds, by = self.mix(skill, who)
        here, others = np.zeros_like(kinds), kinds.copy()
        if cause == "observer":
            own = np.arange(len(by)) == number
            others_by = np.where(own, 0, by) / max(np.where(own, 0, by).sum(), 1e-300)
            return self._team(skill, kinds, others_by) - self._team(skill, kinds, own.astype(float))
        if cause == "pressure":
            here[:, number], others = kinds.sum(1), np.zeros_like(kinds)
            others[:, 1 - number] = kinds.sum(1)
        else:
            here[number], others[number] = kinds[number], 0
        return self._team(skill, others, by) - self._team(skill, here, by)

    def _team(self, skill: int, kinds: Array, by: Array) -> float:
        mine = self.skill == skill
        players, middle = np.unique(self.player[mine]), self.time[mine].mean()
        at, step, pressed, observer = np.indices((len(players), *kinds.shape, len(by)))
        shares = self.law.share(skill, players[at], middle, step, pressed, observer)
        return float((shares * (kinds / kinds.sum())[None, :, :, None] * by).sum() / len(players))


def known_season(rng: np.random.Generator, world: MovesWorld = MovesWorld()) -> KnownSeason:
    """Return one season, drawn from its world."""
    w, law = world, _law(rng, world)
    defender = np.arange(w.players) % 3 == 0
    n = w.players * w.skills * w.tries
    who, what = rng.integers(0, w.players, n), rng.integers(0, w.skills, n)
    practice, observer = rng.integers(0, w.practices, n), rng.integers(0, w.observers, n)
    keeps = rng.random(n) < w.own
    observer = np.where(keeps, who % w.observers, observer)
    if w.uneven:
        elsewhere = (observer == w.observers - 1) & (rng.random(n) > 1 / (1 + what))
        observer = np.where(elsewhere, 0, observer)
    step = _steps(rng, w, practice, defender[who])
    pressure = rng.random(n) < 0.3
    done = rng.random(n) < law.share(
        what, who, np.linspace(-1, 1, w.practices)[practice], step, pressure, observer, practice
    )
    noted = (rng.random(n) < w.noted) | ~done | (observer < w.observers - 1)
    rows = (part[noted] for part in (who, what, practice, step, observer, pressure, done))
    return KnownSeason(w, law, defender, *rows)


def _law(rng: np.random.Generator, w: MovesWorld) -> Law:
    together = np.linalg.cholesky(0.5 * np.eye(w.skills) + 0.5)
    observer = rng.normal(0, w.sd_observer, (w.observers, w.skills))
    observer[-1] -= w.strict
    return Law(
        level=0.4 + rng.normal(0, 0.7, (w.players, w.skills)) @ together.T,
        slope=0.25 + rng.normal(0, 0.35, (w.players, w.skills)) @ together.T,
        step=rng.normal(0, 0.5, (w.steps, w.skills)),
        observer=observer,
        practice=rng.normal(0, 0.2, (w.practices, w.skills)),
    )


def _steps(rng: np.random.Generator, w: MovesWorld, practice: Array, defender: Array) -> Array:
    """Draw each try's step: near in order to how far the season is, where steps drift."""
    middle = practice / w.practices * w.steps if w.drift else np.full(len(practice), w.steps / 2)
    step = np.clip(np.round(middle - 0.5 + rng.normal(0, 1.0 if w.drift else 1.5, len(practice))), 0, None)
    own = defender & (rng.random(len(practice)) < w.apart)
    return np.where(own, w.steps - 1, np.minimum(step, w.steps - 1)).astype(int)


def _expit(logit: Array) -> Array:
    return 1 / (1 + np.exp(-logit))
