"""Hamiltonian Monte Carlo in plain numpy, many chains side by side, and how far to trust its draws.

Duane, Kennedy, Pendleton and Roweth (1987), Phys Lett B 195:216-222; Neal (2011), Handbook of Markov Chain
Monte Carlo, chapter 5. The step is tuned while the chains warm up, by stochastic approximation, and held
from there on.
"""

from collections.abc import Callable

import numpy as np

Array = np.ndarray
WANTED = 0.8  # of the proposals are to be taken
LENGTH = 1.6  # how far a trajectory goes on average, in SDs: about a quarter of a turn of a normal
LONGEST = 60


def sample(
    density: Callable[[Array], tuple[Array, Array]],
    start: Array,
    warm_up: int,
    draws: int,
    rng: np.random.Generator,
) -> Array:
    """Return draws (draws, chains, q) from a density.

    Parameters
    ----------
    density : returns the log densities (chains,) and their gradients (chains, q) at places (chains, q).
    start : (chains, q) where the chains set out from.
    warm_up, draws : how many rounds each chain goes, which are thrown away and which are kept.
    """
    at, (value, slope) = start, density(start)
    step, scale, kept, seen = 0.1, np.ones(start.shape[1]), [], []
    for number in range(warm_up + draws):
        at, value, slope, taken = _round(density, at, value, slope, step, scale, rng)
        if number >= warm_up:
            kept.append(at)
            continue
        step *= np.exp((taken - WANTED) / (1 + number % (warm_up // 2)) ** 0.6)
        seen.append(at)
        if number == warm_up // 2 - 1:
            scale = np.concatenate(seen[number // 2 :]).std(0)
    return np.array(kept)


def _round(density, at, value, slope, step, scale, rng):
    """Give every chain one trajectory, all of the same random length, and take it or leave it."""
    count = int(np.clip(LENGTH / step * rng.uniform(0.5, 1.5), 1, LONGEST))
    push = rng.normal(size=at.shape)
    there, new_value, new_slope = at, value, slope
    moving = push + step / 2 * scale * slope
    for left in range(count, 0, -1):
        there = there + step * scale * moving
        new_value, new_slope = density(there)
        moving = moving + (step if left > 1 else step / 2) * scale * new_slope
    gain = new_value - value - (np.sum(moving**2, 1) - np.sum(push**2, 1)) / 2
    chance = np.exp(np.minimum(np.where(np.isfinite(gain), gain, -np.inf), 0))
    take = rng.random(len(at)) < chance
    at, slope = np.where(take[:, None], there, at), np.where(take[:, None], new_slope, slope)
    return at, np.where(take, new_value, value), slope, float(chance.mean())


def r_hat(values: Array) -> float:
    """Return the split R-hat of values (draws, chains); near 1 where the chains agree.

    Gelman et al. (2013), Bayesian Data Analysis, section 11.4.
    """
    half = len(values) // 2
    parts = np.hstack([values[:half], values[half : 2 * half]])
    within, between = parts.var(0, ddof=1).mean(), half * parts.mean(0).var(ddof=1)
    return float(np.sqrt(((half - 1) / half * within + between / half) / within))


def effective_size(values: Array) -> float:
    """Return how many independent draws values (draws, chains) are worth for their mean.

    Sums of neighbouring autocorrelations are added while they are positive (Geyer 1992, Stat Sci 7:473-483).
    """
    draws, chains = values.shape
    apart = values - values.mean()
    spectrum = np.abs(np.fft.rfft(apart, 2 * draws, axis=0)) ** 2
    together = np.fft.irfft(spectrum, axis=0)[:draws].mean(1)
    correlation = together / together[0]
    pairs = correlation[: draws // 2 * 2].reshape(-1, 2).sum(1)
    end = int(np.argmax(pairs <= 0)) if (pairs <= 0).any() else len(pairs)
    return draws * chains / max(2 * float(pairs[:end].sum()) - 1, 1 / draws)
