"""Simulated seasons with known truth, on which the estimates are judged.

One season is ``players`` x ``skills``, watched over ``practices``, with ``tries`` per player and skill on
average. A player's abilities in different skills are correlated (``rho``); drill steps drift from easy to
hard as the season goes on; 30 % of tries are under pressure; two observers differ in severity; some
practices are better than others. All effects are on the logit scale and normal. All of it is invented.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.rink.player import Player, Position
from evaltrack.rink.skill import Definition, Skill

Array = np.ndarray
FIRST = date(2026, 9, 14)


def share(logit: Array) -> Array:
    """Return the share whose logit this is."""
    return 1 / (1 + np.exp(-logit))


@dataclass(frozen=True)
class SimulatedSeason:
    """One row for each try, and the truth.

    ``truth_now`` (players, skills) is what a standing estimates: the share done at the season's end under
    the season's own mix of steps and pressure, with an average observer on an ordinary day.
    ``truth_change`` is that minus the same at the season's start.
    """

    player: Array
    skill: Array
    practice: Array
    step: Array
    observer: Array
    pressure: Array
    done: Array
    truth_now: Array
    truth_change: Array


@dataclass(frozen=True)
class World:
    """How seasons come about.

    ``sd_spread`` lets the SDs of the skills differ: each skill's are multiplied by exp of a normal with
    this SD. Set ``sd_slope`` and ``team_slope`` to 0 for players who do not change.
    """

    players: int = 18
    skills: int = 8
    practices: int = 24
    tries: int = 20
    steps: int = 4
    observers: int = 2
    rho: float = 0.5
    sd_player: float = 0.7
    sd_slope: float = 0.35
    sd_step: float = 0.5
    sd_observer: float = 0.2
    sd_practice: float = 0.2
    sd_spread: float = 0.0
    mean: float = 0.4
    team_slope: float = 0.25
    pressure_effect: float = -0.6


@dataclass(frozen=True)
class Effects:
    """The effects that were drawn for one season, each by skill in its last axis."""

    level: Array
    slope: Array
    step: Array
    observer: Array
    practice: Array


def _draw(rng: np.random.Generator, world: World) -> Effects:
    w = world
    together = np.linalg.cholesky((1 - w.rho) * np.eye(w.skills) + w.rho)
    stretch = np.exp(rng.normal(0, w.sd_spread, (5, w.skills))) if w.sd_spread else np.ones((5, w.skills))
    return Effects(
        level=rng.normal(size=(w.players, w.skills)) @ together.T * w.sd_player * stretch[0],
        slope=rng.normal(size=(w.players, w.skills)) @ together.T * w.sd_slope * stretch[1] + w.team_slope,
        step=rng.normal(0, w.sd_step, (w.steps, w.skills)) * stretch[2],
        observer=rng.normal(0, w.sd_observer, (w.observers, w.skills)) * stretch[3],
        practice=rng.normal(0, w.sd_practice, (w.practices, w.skills)) * stretch[4],
    )


def _steps_run(rng: np.random.Generator, world: World) -> Array:
    """Return the two steps that each practice runs: easy ones early, hard ones late."""
    place = np.arange(world.practices)[:, None] / world.practices * world.steps
    near = np.exp(-((np.arange(world.steps) - place) ** 2) / 4)
    near /= near.sum(1, keepdims=True)
    return np.array([rng.choice(world.steps, 2, replace=False, p=p) for p in near])


def simulate(rng: np.random.Generator, world: World = World()) -> SimulatedSeason:
    """Return one simulated season."""
    effects, run = _draw(rng, world), _steps_run(rng, world)
    n = world.players * world.skills * world.tries
    player, skill = rng.integers(0, world.players, n), rng.integers(0, world.skills, n)
    practice, observer = rng.integers(0, world.practices, n), rng.integers(0, world.observers, n)
    step = run[practice, rng.integers(0, 2, n)]
    pressure = rng.random(n) < 0.3
    eta = world.mean + effects.level[player, skill] + effects.step[step, skill]
    eta = eta + effects.slope[player, skill] * np.linspace(-1, 1, world.practices)[practice]
    eta = eta + effects.observer[observer, skill] + effects.practice[practice, skill]
    done = rng.random(n) < share(eta + world.pressure_effect * pressure)
    mix = _mix(skill, step, pressure, world)
    now, start = (_truth(effects, mix, at, world) for at in (1.0, -1.0))
    return SimulatedSeason(player, skill, practice, step, observer, pressure, done, now, now - start)


def _mix(skill: Array, step: Array, pressure: Array, world: World) -> Array:
    """Return how often each step and pressure occurred, (skills, steps, 2)."""
    kind = (skill * world.steps + step) * 2 + pressure
    count = np.bincount(kind, minlength=world.skills * world.steps * 2)
    count = count.reshape(world.skills, world.steps, 2).astype(float)
    return count / count.sum((1, 2), keepdims=True)


def _truth(effects: Effects, mix: Array, at: float, world: World) -> Array:
    base = world.mean + effects.level + effects.slope * at
    harder = effects.step.T[:, :, None] + world.pressure_effect * np.arange(2)
    return np.einsum("sdq,psdq->ps", mix, share(base[:, :, None, None] + harder))


def roster(world: World) -> list[Player]:
    """Return the players of a simulated season, numbered from 1."""
    return [Player(str(n), f"Player {n}", Position.FORWARD) for n in range(1, world.players + 1)]


def catalogue(world: World) -> list[Skill]:
    """Return the skills of a simulated season, keyed ``s0`` and so on."""
    return [
        Skill(f"s{n}", f"Skill {n}", (Position.FORWARD,), "", Definition("", "", "", ""), "")
        for n in range(world.skills)
    ]


def cells(season: SimulatedSeason, players: list[Player]):
    """Return the frame of cells that the season file would give, one practice a week."""
    keys = np.column_stack(
        [season.player, season.skill, season.practice, season.step, season.pressure, season.observer]
    )
    found, cell = np.unique(keys, axis=0, return_inverse=True)
    tries, done = np.bincount(cell.ravel()), np.bincount(cell.ravel(), season.done).astype(int)
    rows = []
    for (p, s, t, d, q, o), n, k in zip(found.tolist(), tries.tolist(), done.tolist(), strict=True):
        day = (FIRST + timedelta(weeks=t)).isoformat()
        rows.append((players[p].id.bytes, f"s{s}", day, day, "drill", f"step {d}", q, f"o{o}", n, k))
    return cells_frame(rows)
