"""Simulated seasons by rep, in which each try of a forward is against one defender, with known truth.

Built on ``simulated_season``: the same abilities, steps, pressure, observers and practices. Defenders differ in
how few they let come off, partly in all skills alike. Lines stay together and mostly meet one defender, or
everybody meets anybody. In some tries nobody knows whom they met. All of it is invented.
"""

from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from simulated_season import FIRST, World, catalogue, share

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.rink.player import Player, Position

Array = np.ndarray


@dataclass(frozen=True)
class Against:
    """Whom the forwards meet.

    ``together`` is how often a line meets its own defender, who is one of all in the other tries too: 0 is
    anybody. ``sd`` is that of the defenders' effects, ``alike`` the part of its variance that is the same in all skills.
    ``known`` is the share of tries of which it is known who was met.
    """

    defenders: int = 6
    line: int = 3
    together: float = 0.8
    sd: float = 0.5
    alike: float = 0.5
    known: float = 1.0


@dataclass(frozen=True)
class SeasonAgainst:
    """One row for each try, and the truth.

    ``truth`` (players, skills) is the share at the season's end under the season's mix of steps and pressure,
    as its observers see it, against those whom all met, in their shares of the tries. ``held`` (defenders,
    skills) is each defender's effect.
    """

    player: Array
    skill: Array
    practice: Array
    step: Array
    observer: Array
    pressure: Array
    opponent: Array
    known: Array
    done: Array
    truth: Array
    change: Array
    held: Array


def simulate(rng: np.random.Generator, world: World, against: Against) -> SeasonAgainst:
    """Return one season of forwards against defenders."""
    w, n = world, world.players * world.skills * world.tries
    mixed = np.linalg.cholesky((1 - w.rho) * np.eye(w.skills) + w.rho)
    level = rng.normal(size=(w.players, w.skills)) @ mixed.T * w.sd_player
    slope = rng.normal(size=(w.players, w.skills)) @ mixed.T * w.sd_slope + w.team_slope
    step_effect = rng.normal(0, w.sd_step, (w.skills, w.steps))
    seen_by = rng.normal(0, w.sd_observer, (w.skills, w.observers))
    day = rng.normal(0, w.sd_practice, (w.skills, w.practices))
    own, all_alike = rng.normal(size=(against.defenders, w.skills)), rng.normal(size=(against.defenders, 1))
    held = against.sd * (np.sqrt(1 - against.alike) * own + np.sqrt(against.alike) * all_alike)
    player, skill = rng.integers(0, w.players, n), rng.integers(0, w.skills, n)
    practice, observer = rng.integers(0, w.practices, n), rng.integers(0, w.observers, n)
    step, pressure = _steps(rng, w)[practice, rng.integers(0, 2, n)], rng.random(n) < 0.3
    opponent = _met(rng, player, against)
    eta = w.mean + level[player, skill] + slope[player, skill] * np.linspace(-1, 1, w.practices)[practice]
    eta = eta + step_effect[skill, step] + seen_by[skill, observer] + day[skill, practice]
    done = rng.random(n) < share(eta + w.pressure_effect * pressure + held[opponent, skill])
    found = np.zeros((2, w.players, w.skills))
    for s in range(w.skills):
        mine = skill == s
        harder = _mixed(
            (step[mine], step_effect[s]), (pressure[mine].astype(int), w.pressure_effect * np.arange(2)),
            (observer[mine], seen_by[s]), (opponent[mine], held[:, s]),
        )  # fmt: skip
        for number, at in enumerate((1.0, -1.0)):
            found[number, :, s] = _share(w.mean + level[:, s] + slope[:, s] * at, harder)
    known = rng.random(n) < against.known
    parts = (player, skill, practice, step, observer, pressure, opponent, known, done)
    return SeasonAgainst(*parts, found[0], found[0] - found[1], held)


def _steps(rng: np.random.Generator, world: World) -> Array:
    """Return the two steps that each practice runs: easy ones early, hard ones late."""
    place = np.arange(world.practices)[:, None] / world.practices * world.steps
    near = np.exp(-((np.arange(world.steps) - place) ** 2) / 4)
    return np.array([rng.choice(world.steps, 2, replace=False, p=p / p.sum()) for p in near])


def _met(rng: np.random.Generator, player: Array, against: Against) -> Array:
    """Return whom each try was against: mostly the line's own defender, else anybody."""
    anybody = rng.integers(0, against.defenders, len(player))
    own = player // against.line % against.defenders
    return np.where(rng.random(len(player)) < against.together, own, anybody)


def _mixed(kinds: tuple[Array, Array], pressed: tuple[Array, Array], *others) -> tuple[Array, Array]:
    """Return the effects of all that can come together in a try, and how often: step and pressure as they
    did, observers and opponents each by their own shares of the tries.
    """
    (step, of_step), (pressure, of_pressure) = kinds, pressed
    count = np.bincount(step * 2 + pressure, minlength=len(of_step) * 2)
    effects, parts = (of_step[:, None] + of_pressure).ravel(), count / count.sum()
    for who, of_who in others:
        seen = np.bincount(who, minlength=len(of_who)) / len(who)
        effects, parts = (effects[:, None] + of_who).ravel(), (parts[:, None] * seen).ravel()
    return effects, parts


def _share(base: Array, harder: tuple[Array, Array]) -> Array:
    effects, parts = harder
    return share(base[:, None] + effects) @ parts


def forwards_and_defenders(world: World, against: Against) -> tuple[list[Player], list[Player]]:
    """Return the forwards, numbered from 1, and the defenders, numbered from 51."""
    return (
        [Player(str(n), f"Forward {n}", Position.FORWARD) for n in range(1, world.players + 1)],
        [Player(str(n + 51), f"Defender {n}", Position.DEFENCE) for n in range(against.defenders)],
    )


def cells(season: SeasonAgainst, forwards: list[Player], defenders: list[Player]):
    """Return the frame of cells that the season file would give, one practice a week."""
    opponent = np.where(season.known, season.opponent, -1)
    keys = np.column_stack(
        [season.player, season.skill, season.practice, season.step, season.pressure, season.observer, opponent]
    )
    found, cell = np.unique(keys, axis=0, return_inverse=True)
    tries, done = np.bincount(cell.ravel()), np.bincount(cell.ravel(), season.done).astype(int)
    rows = []
    for (p, s, t, d, q, o, a), n, k in zip(found.tolist(), tries.tolist(), done.tolist(), strict=True):
        day = (FIRST + timedelta(weeks=t)).isoformat()
        met = None if a < 0 else defenders[a].id.bytes
        rows.append((forwards[p].id.bytes, f"s{s}", day, day, "drill", f"step {d}", q, f"o{o}", met, n, k))
    return cells_frame(rows)


def skills(world: World):
    """Return the skills of a simulated season."""
    return catalogue(world)
