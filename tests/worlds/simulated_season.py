"""Simulated seasons with known truth, on which the estimates are judged.

One season is ``players`` x ``skills``, watched over ``practices``, with ``tries`` per player and skill on
average. A player's abilities in different skills are correlated (``rho``); drill steps drift from easy to
hard as the season goes on; 30 % of tries are under pressure; two observers differ in severity; some
practices are better than others. All effects are on the logit scale and normal. All of it is invented.
"""

from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from functools import cached_property

import numpy as np
from season_law import Law, draw_law
from season_truth import NAMED, Estimand, truth
from season_world import DEFAULT, World

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.rink.player import Player, Position
from evaltrack.rink.skill import Definition, Skill

__all__ = ["SimulatedSeason", "World", "catalogue", "cells", "roster", "simulate"]

Array = np.ndarray
FIRST = date(2026, 9, 14)
PRESSED = 0.3


@dataclass(frozen=True)
class Tries:
    """One row (n,) for each try that was noted."""

    player: Array
    skill: Array
    practice: Array
    step: Array
    observer: Array
    pressure: Array
    done: Array

    def only(self, kept: Array) -> "Tries":
        """Return the tries for which ``kept`` (n,) is true."""
        return replace(self, **{field.name: getattr(self, field.name)[kept] for field in fields(Tries)})


@dataclass(frozen=True)
class SimulatedSeason(Tries):
    """The tries, and the law that they followed.

    ``days`` are the days of the practices, ``defender`` says which players are defenders.
    """

    law: Law
    days: list[date]
    defender: Array

    def truth(self, estimand: Estimand = NAMED) -> tuple[Array, Array]:
        """Return the true shares now and changes, (players, skills) each, as a standing names them."""
        return truth(self, estimand)

    @cached_property
    def truth_now(self) -> Array:
        """What a standing's share estimates."""
        return self.truth()[0]

    @cached_property
    def truth_change(self) -> Array:
        """What a standing's change estimates."""
        return self.truth()[1]


def simulate(rng: np.random.Generator, world: World = DEFAULT) -> SimulatedSeason:
    """Return one simulated season."""
    law, run = draw_law(rng, world), _steps_run(rng, world)
    player, skill = _whose(rng, world)
    n, defender = len(player), world.defender
    practice, observer = rng.integers(0, world.practices, n), rng.integers(0, world.observers, n)
    practice = _when_there(rng, world, player, practice)
    observer = defender[player].astype(int) if world.own_group else observer
    side = rng.integers(0, 2, n)
    step = run[practice, np.where(defender[player], 0, side) if world.forwards_step else side]
    pressure = rng.random(n) < PRESSED
    done = rng.random(n) < law.chance(player, skill, practice, step, pressure, observer)
    days = [FIRST + timedelta(days=round(t * world.days_apart)) for t in range(world.practices)]
    season = SimulatedSeason(
        player, skill, practice, step, observer, pressure, done, law=law, days=days, defender=defender
    )
    if world.noted == 1:
        return season
    return season.only(~done | (rng.random(n) < law.noted[observer]))


def _steps_run(rng: np.random.Generator, world: World) -> Array:
    """Return the two steps that each practice runs: easy ones early, hard ones late.

    Where one is the forwards' it is the second.
    """
    place = np.arange(world.practices)[:, None] / world.practices * world.steps
    near = np.exp(-((np.arange(world.steps) - place) ** 2) / 4)
    near /= near.sum(1, keepdims=True)
    if world.forwards_step:
        others = near[:, :-1] / near[:, :-1].sum(1, keepdims=True)
        return np.array([(rng.choice(world.steps - 1, p=p), world.steps - 1) for p in others])
    return np.array([rng.choice(world.steps, 2, replace=False, p=p) for p in near])


def _whose(rng: np.random.Generator, world: World) -> tuple[Array, Array]:
    """Return the player and the skill of each try."""
    if not world.uneven:
        n = world.players * world.skills * world.tries
        return rng.integers(0, world.players, n), rng.integers(0, world.skills, n)
    low, high = np.log(world.uneven)
    tries = np.round(np.exp(rng.uniform(low, high, world.players * world.skills))).astype(int)
    pair = np.repeat(np.arange(len(tries)), tries)
    return pair // world.skills, pair % world.skills


def _when_there(rng: np.random.Generator, world: World, player: Array, practice: Array) -> Array:
    """Return the practices, drawn again among a player's own for those who join late or are away."""
    if not (world.joiners or world.absent):
        return practice
    first, end = np.zeros(world.players, int), np.full(world.players, world.practices)
    first[: world.joiners] = world.practices // 3
    end[world.joiners : world.joiners + world.absent] -= world.practices // 4
    own = rng.integers(first[player], end[player])
    return np.where(player < world.joiners + world.absent, own, practice)


def roster(world: World) -> list[Player]:
    """Return the players of a simulated season, numbered from 1."""
    positions = [Position.DEFENCE if defender else Position.FORWARD for defender in world.defender]
    return [Player(str(n), f"Player {n}", position) for n, position in enumerate(positions, start=1)]


def catalogue(world: World) -> list[Skill]:
    """Return the skills of a simulated season, keyed ``s0`` and so on."""
    positions = (Position.FORWARD, Position.DEFENCE) if world.defenders else (Position.FORWARD,)
    return [
        Skill(f"s{n}", f"Skill {n}", positions, "", Definition("", "", "", ""), "")
        for n in range(world.skills)
    ]


def cells(season: SimulatedSeason, players: list[Player]):
    """Return the frame of cells that the season file would give."""
    keys = np.column_stack(
        [season.player, season.skill, season.practice, season.step, season.pressure, season.observer]
    )
    found, cell = np.unique(keys, axis=0, return_inverse=True)
    tries, done = np.bincount(cell.ravel()), np.bincount(cell.ravel(), season.done).astype(int)
    rows = []
    for (p, s, t, d, q, o), n, k in zip(found.tolist(), tries.tolist(), done.tolist(), strict=True):
        day = season.days[t].isoformat()
        rows.append((players[p].id.bytes, f"s{s}", day, day, "drill", f"step {d}", q, f"o{o}", n, k))
    return cells_frame(rows)
