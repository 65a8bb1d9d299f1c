"""Simulated seasons by rep, in which each try of a forward is against one defender, with known truth.

As in ``simulated_season`` abilities hang together, steps grow harder, and observers and practices differ.
Besides, defenders differ in how few they let come off, partly in all skills alike. Lines stay together and
mostly meet one defender, or everybody meets anybody. All of it is invented.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from scipy.special import expit
from simulated_season import FIRST, World

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.rink.player import Player, Position

Array = np.ndarray


@dataclass(frozen=True)
class Against:
    """Whom the forwards meet.

    ``together`` is how often a line meets its own defender; in its other tries it is one of all, so that 0
    is anybody. ``sd`` is that of the defenders' effects, ``alike`` the part of its variance that is the same
    in all skills. ``known`` is the share of tries of which it is known who was met.
    """

    defenders: int = 6
    line: int = 3
    together: float = 0.8
    sd: float = 0.5
    alike: float = 0.5
    known: float = 1.0


@dataclass(frozen=True)
class Effects:
    """The effects that were drawn for one season, each by skill in its first axis."""

    level: Array
    slope: Array
    step: Array
    observer: Array
    practice: Array
    opponent: Array


@dataclass(frozen=True)
class Tries:
    """One row for each try; ``opponent`` is who was met, ``known`` whether anybody noted that."""

    player: Array
    skill: Array
    practice: Array
    step: Array
    observer: Array
    pressure: Array
    opponent: Array
    known: Array


@dataclass(frozen=True)
class SeasonAgainst:
    """The tries, what came of them, and the truth.

    ``now`` and ``change`` (players, skills) are what a standing estimates: the share at the season's end, and
    less that at its start, under the season's mix of steps and pressure, as its observers see it, against
    those whom all met, in their shares of the tries. ``effects.opponent`` is what defenders take away.
    """

    tries: Tries
    done: Array
    effects: Effects
    now: Array
    change: Array


def simulate(rng: np.random.Generator, world: World, against: Against) -> SeasonAgainst:
    """Return one season of forwards against defenders."""
    effects, tries = _effects(rng, world, against), _tries(rng, world, against)
    at = np.linspace(-1, 1, world.practices)[tries.practice]
    own = effects.level[tries.skill, tries.player] + effects.slope[tries.skill, tries.player] * at
    others = ("step", "observer", "practice", "opponent")
    push = sum(getattr(effects, name)[tries.skill, getattr(tries, name)] for name in others)
    done = rng.random(len(at)) < expit(world.mean + own + push + world.pressure_effect * tries.pressure)
    now, start = (_truth(world, effects, tries, time) for time in (1.0, -1.0))
    return SeasonAgainst(tries, done, effects, now, now - start)


def _effects(rng: np.random.Generator, w: World, against: Against) -> Effects:
    together = np.linalg.cholesky((1 - w.rho) * np.eye(w.skills) + w.rho)
    own, all_alike = rng.normal(size=(w.skills, against.defenders)), rng.normal(size=against.defenders)
    return Effects(
        level=together @ rng.normal(size=(w.skills, w.players)) * w.sd_player,
        slope=together @ rng.normal(size=(w.skills, w.players)) * w.sd_slope + w.team_slope,
        step=rng.normal(0, w.sd_step, (w.skills, w.steps)),
        observer=rng.normal(0, w.sd_observer, (w.skills, w.observers)),
        practice=rng.normal(0, w.sd_practice, (w.skills, w.practices)),
        opponent=against.sd * (np.sqrt(1 - against.alike) * own + np.sqrt(against.alike) * all_alike),
    )


def _tries(rng: np.random.Generator, w: World, against: Against) -> Tries:
    n = w.players * w.skills * w.tries
    player, practice = rng.integers(0, w.players, n), rng.integers(0, w.practices, n)
    own = player // against.line % against.defenders
    anybody = rng.integers(0, against.defenders, n)
    return Tries(
        player=player,
        skill=rng.integers(0, w.skills, n),
        practice=practice,
        step=_steps_run(rng, w)[practice, rng.integers(0, 2, n)],
        observer=rng.integers(0, w.observers, n),
        pressure=(rng.random(n) < 0.3).astype(int),
        opponent=np.where(rng.random(n) < against.together, own, anybody),
        known=rng.random(n) < against.known,
    )


def _steps_run(rng: np.random.Generator, w: World) -> Array:
    """Return the two steps that each practice runs: easy ones early, hard ones late."""
    place = np.arange(w.practices)[:, None] / w.practices * w.steps
    near = np.exp(-((np.arange(w.steps) - place) ** 2) / 4)
    return np.array([rng.choice(w.steps, 2, replace=False, p=p / p.sum()) for p in near])


def _truth(world: World, effects: Effects, tries: Tries, time: float) -> Array:
    """Return the share of each player in each skill at a time from -1 to 1, (players, skills)."""
    found = [_in_skill(world, effects, tries, time, skill) for skill in range(world.skills)]
    return np.column_stack(found)


def _in_skill(world: World, effects: Effects, tries: Tries, time: float, skill: int) -> Array:
    mine = tries.skill == skill
    kind = np.bincount((tries.step * 2 + tries.pressure)[mine], minlength=2 * world.steps)
    kinds = (effects.step[skill][:, None] + world.pressure_effect * np.arange(2)).ravel()
    harder = _mixed(
        (kinds, kind),
        (effects.observer[skill], np.bincount(tries.observer[mine], minlength=world.observers)),
        (effects.opponent[skill], np.bincount(tries.opponent[mine], minlength=len(effects.opponent[skill]))),
    )
    base = world.mean + effects.level[skill] + effects.slope[skill] * time
    return sum(part * expit(base + push) for push, part in harder)


def _mixed(*parts: tuple[Array, Array]) -> list[tuple[float, float]]:
    """Return what can come together in a try, and how often: each by its own share of the tries."""
    found = [(0.0, 1.0)]
    for effects, count in parts:
        often = count / count.sum()
        found = [(a + b, p * q) for a, p in found for b, q in zip(effects, often, strict=True)]
    return found


def roster(world: World, against: Against) -> tuple[list[Player], list[Player]]:
    """Return the forwards, numbered from 1, and the defenders, numbered from 51."""
    forwards = [Player(str(n), f"Forward {n}", Position.FORWARD) for n in range(1, world.players + 1)]
    numbers = range(51, 51 + against.defenders)
    return forwards, [Player(str(n), f"Defender {n}", Position.DEFENCE) for n in numbers]


def cells(season: SeasonAgainst, forwards: list[Player], defenders: list[Player]):
    """Return the frame of cells that the season file would give, one practice a week."""
    t = season.tries
    met = np.where(t.known, t.opponent, -1)
    keys = np.column_stack([t.player, t.skill, t.practice, t.step, t.pressure, t.observer, met])
    found, cell = np.unique(keys, axis=0, return_inverse=True)
    counts = np.column_stack([np.bincount(cell.ravel()), np.bincount(cell.ravel(), season.done).astype(int)])
    return cells_frame(_rows(zip(found.tolist(), counts.tolist(), strict=True), forwards, defenders))


def _rows(found: Iterable, forwards: list[Player], defenders: list[Player]) -> list[tuple]:
    rows = []
    for (p, s, t, d, q, o, a), count in found:
        day = (FIRST + timedelta(weeks=t)).isoformat()
        met = None if a < 0 else defenders[a].id.bytes
        who = forwards[p].id.bytes
        rows.append((who, f"s{s}", day, day, "drill", f"step {d}", q, f"o{o}", met, *count))
    return rows
