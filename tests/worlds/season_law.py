"""The law that the tries of a simulated season follow, and how its parts are drawn."""

from dataclasses import dataclass

import numpy as np
from season_world import World

Array = np.ndarray


def share(logit: Array) -> Array:
    """Return the share whose logit this is."""
    return 1 / (1 + np.exp(-logit))


@dataclass(frozen=True)
class Law:
    """What the logit of a try's chance is the sum of, by player p, skill s, practice t, step and observer.

    Attributes
    ----------
    course : (p, s, t) the mean, and each player's level and change.
    step, observer, practice : (steps, s), (observers, s, t) and (t, s).
    pressure : what pressure adds.
    noted : (observers,) which part of the dones each notes. A miss is always noted, so of the tries that
        are noted the odds of a done are ``noted`` times the odds of the try: on the logit scale its
        logarithm is added, exactly.
    """

    course: Array
    step: Array
    observer: Array
    practice: Array
    pressure: float
    noted: Array

    def chance(self, player, skill, practice, step, pressure, observer) -> Array:
        """Return the chance of a done in tries (n,), whether it will be noted or not."""
        logit = self.course[player, skill, practice] + self.step[step, skill]
        logit = logit + self.observer[observer, skill, practice] + self.practice[practice, skill]
        return share(logit + self.pressure * pressure)


def draw_law(rng: np.random.Generator, world: World) -> Law:
    """Return a law that is drawn as the world says."""
    w, season = world, np.linspace(0, 1, world.practices)
    together = np.linalg.cholesky((1 - w.rho) * np.eye(w.skills) + w.rho)
    stretch = np.exp(rng.normal(0, w.sd_spread, (5, w.skills))) if w.sd_spread else np.ones((5, w.skills))
    level = rng.normal(size=(w.players, w.skills)) @ together.T * w.sd_player * stretch[0]
    slope = rng.normal(size=(w.players, w.skills)) @ together.T * w.sd_slope * stretch[1] + w.team_slope
    step = rng.normal(0, w.sd_step, (w.steps, w.skills)) * stretch[2]
    observer = rng.normal(0, w.sd_observer, (w.observers, w.skills)) * stretch[3]
    practice = rng.normal(0, w.sd_practice, (w.practices, w.skills)) * stretch[4]
    slope[: round(w.still * w.players)] = 0
    step[-1] += w.forwards_step
    observer[-1] -= w.strict
    change = slope[:, :, None] * _moved(world) + _jumps(rng, world)
    return Law(
        course=w.mean + level[:, :, None] + change,
        step=step,
        observer=observer[:, :, None] - w.drift * (season - 0.5),
        practice=practice,
        pressure=w.pressure_effect,
        noted=np.append(np.ones(w.observers - 1), w.noted),
    )


def _moved(world: World) -> Array:
    """Return how far along its change a slope is at each practice: -1 at first, 1 at the end."""
    first, season = world.change_from, np.linspace(-1, 1, world.practices)
    return season if not first else 2 * np.maximum((season + 1) / 2 - first, 0) / (1 - first) - 1


def _jumps(rng: np.random.Generator, world: World) -> Array:
    """Return what each player's jump adds at each practice, half of it taken off before and put on after."""
    w = world
    if not (w.jump or w.sd_jump):
        return np.zeros((w.players, w.skills, w.practices))
    first = rng.integers(1, w.practices, w.players)
    size = rng.normal(w.jump, w.sd_jump, (w.players, w.skills))
    after = np.where(np.arange(w.practices) >= first[:, None], 0.5, -0.5)
    return size[:, :, None] * after[:, None, :]
