"""Our standings of one small season against a long run of a sampler that shares no code with them.

Run from the top folder as ``python tests/bench/bench_sampler.py [--seed 0] [--chains 64] [--draws 2000]``.
It takes about a minute. The season is simulated: 8 players (3 of them defenders), 2 skills, 8 practices,
about 8 tries of a player in a skill. The sampler (``hamiltonian.py``) draws every effect and every SD from
the model as it is written out anew in ``season_density.py``, and the shares are worked out draw by draw.

For every figure of a standing it prints ours minus the sampler's: the mean over all standings, the root of
the mean square and the largest, beside the largest Monte Carlo error of the sampler (the standard error
between its chains). It ends with 1 when the mean difference of the shares is over .5 points, when a
probability differs by more than .05, or when the sampler itself cannot be relied on: R-hat over 1.01, or a
Monte Carlo error that could hide such a difference.
"""

import argparse
import sys
from collections.abc import Callable

import at_home  # noqa: F401
import numpy as np
from hamiltonian import effective_size, r_hat, sample
from season_density import SeasonDensity
from season_world import World
from simulated_season import catalogue, cells, roster, simulate

from evaltrack.analysis.standings.standing import Standing
from evaltrack.analysis.standings.standings import standings_of

Array = np.ndarray
WORLD = World(players=8, skills=2, practices=8, tries=8, defenders=3)
WARM_UP = 600
BIAS, P_BOUND = 0.005, 0.05
R_HAT, ERRORS = 1.01, 4  # a bound stands when it is at least four Monte Carlo errors
FIGURES = ("share", "low", "high", "change", "change_low", "change_high", "p_below", "p_up")
PROBABILITIES = ("p_below", "p_up")


def drawn(density: SeasonDensity, chains: int, draws: int, seed: int) -> Array:
    """Return places (draws, chains, q) from the posterior; the chains set out from far apart."""
    rng = np.random.default_rng(seed)
    return sample(density, density.starts(chains, rng), WARM_UP, draws, rng)


def figures_of(now: Array, start: Array, target: float) -> dict[str, Callable[[Array, Array], Array]]:
    """Return each figure of a standing by draws (draws, chains), one value for each chain."""
    change = now - start
    return {
        "share": now.mean(0),
        "low": np.quantile(now, 0.05, axis=0),
        "high": np.quantile(now, 0.95, axis=0),
        "change": change.mean(0),
        "change_low": np.quantile(change, 0.05, axis=0),
        "change_high": np.quantile(change, 0.95, axis=0),
        "p_below": (now < target).mean(0),
        "p_up": (change > 0).mean(0),
    }


class Compared:
    """Ours beside the sampler's: ``gap`` and ``error`` are (standings, figures)."""

    def __init__(
        self, density: SeasonDensity, places: Array, standings: list[Standing], ids: dict[str, bytes]
    ):
        flat = places.reshape(-1, places.shape[-1])
        self.gap, self.error, self.r_hat, self.size = [], [], [], []
        for one in standings:
            now, start = (
                share.reshape(places.shape[:2]) for share in density.shares(flat, ids[one.player], one.skill)
            )
            found = figures_of(now, start, one.target)
            self.gap.append([getattr(one, name) - found[name].mean() for name in FIGURES])
            self.error.append([found[name].std(ddof=1) / np.sqrt(now.shape[1]) for name in FIGURES])
            for values in (now, now - start):
                self.r_hat.append(r_hat(values))
                self.size.append(effective_size(values))
        self.gap, self.error = np.array(self.gap), np.array(self.error)
        # of all players, a chain's error is in part the same: the mean's is at most the mean of the errors
        self.mean_error = self.error.mean(0)

    def column(self, name: str) -> Array:
        """Return the gaps (standings,) of one figure."""
        return self.gap[:, FIGURES.index(name)]


def told(compared: Compared) -> None:
    """Print the differences, in points (hundredths)."""
    print(f"{'ours minus the sampler, in points':36}{'mean':>8}{'rms':>8}{'largest':>9}{'MC error':>10}")
    for at, name in enumerate(FIGURES):
        gap = 100 * compared.gap[:, at]
        largest = gap[np.abs(gap).argmax()]
        rms, error = np.sqrt(np.mean(gap**2)), 100 * compared.error[:, at].max()
        print(f"  {name:34}{gap.mean():8.2f}{rms:8.2f}{largest:9.2f}{error:10.2f}")
    print(f"  R-hat at most {max(compared.r_hat):.4f}, effective draws at least {min(compared.size):.0f}")


def failures(compared: Compared) -> list[str]:
    """Say what is beyond its bound."""
    bias = float(compared.column("share").mean())
    found = [] if abs(bias) <= BIAS else [f"the shares are {100 * bias:+.2f} points off in the mean"]
    for name in PROBABILITIES:
        worst = float(np.abs(compared.column(name)).max())
        found += [f"{name} is {worst:.3f} off, more than {P_BOUND}"] if worst > P_BOUND else []
        error = float(compared.error[:, FIGURES.index(name)].max())
        found += [f"the sampler's {name} is too rough: {error:.4f}"] if error * ERRORS > P_BOUND else []
    if compared.mean_error[0] * ERRORS > BIAS:
        found.append(f"the sampler's shares are too rough: {100 * compared.mean_error[0]:.2f} points")
    if max(compared.r_hat) > R_HAT:
        found.append(f"the sampler's chains disagree: R-hat {max(compared.r_hat):.4f}")
    return found


def compare(seed: int, chains: int, draws: int) -> Compared:
    """Estimate one season both ways."""
    players = roster(WORLD)
    frame = cells(simulate(np.random.default_rng(seed), WORLD), players)
    density = SeasonDensity(frame, {player.id.bytes: str(player.position) for player in players})
    places = drawn(density, chains, draws, seed)
    ids = {player.number: player.id.bytes for player in players}
    return Compared(density, places, standings_of(frame, players, catalogue(WORLD)), ids)


def main() -> None:
    """Compare, print, and end with 1 when something is beyond its bound."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seed", type=int, default=0, help="of the season, and of the sampler")
    parser.add_argument("--chains", type=int, default=64)
    parser.add_argument("--draws", type=int, default=2000, help="of each chain, after it has warmed up")
    known = parser.parse_args()
    compared = compare(known.seed, known.chains, known.draws)
    print(f"season {known.seed}: {len(compared.gap)} standings, {known.chains} chains of {known.draws} draws")
    told(compared)
    if found := failures(compared):
        sys.exit("\n".join(found))


if __name__ == "__main__":
    main()
