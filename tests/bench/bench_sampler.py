"""Our standings of small seasons against long runs of a sampler that shares no code with them.

Run from the top folder as ``python tests/bench/bench_sampler.py [--seasons 12] [--first 0] [--chains 32]
[--draws 1000]``. It takes about half a minute of one core. Each season is simulated: 8 players (3 of
them defenders), 2 skills, 8 practices, about 8 tries of a player in a skill. The sampler
(``hamiltonian.py``) draws every effect and every SD from the model as it is written out anew in
``season_density.py``, and the shares are worked out draw by draw.

For every figure of a standing it prints ours minus the sampler's: the mean over all standings, the root of
the mean square and the largest, and the sampler's own Monte Carlo error (the standard error between its
chains), the largest of all standings. ``at the mode`` is the mean difference of our standings with the
coefficients at their mode in place of their mean.

It ends with 1 when the mean difference of the shares is over .5 points, when a probability differs by more
than .12 anywhere or .04 in the root of the mean square, or when the sampler itself cannot be relied on:
R-hat over 1.02, or a Monte Carlo error that could hide such differences.
"""

import argparse
import sys

import at_home  # noqa: F401
import numpy as np
import pandas as pd
from hamiltonian import effective_size, r_hat, sample
from rules_before import the_mode
from season_density import SeasonDensity
from season_world import World
from simulated_season import catalogue, cells, roster, simulate

from evaltrack.analysis.standings.standings import standings_of

Array = np.ndarray
WORLD = World(players=8, skills=2, practices=8, tries=8, defenders=3)
WARM_UP = 500
BIAS, P_LARGEST, P_RMS = 0.005, 0.12, 0.04
R_HAT, ERRORS = 1.02, 4  # a bound stands when it is at least four Monte Carlo errors
FIGURES = ("share", "low", "high", "change", "change_low", "change_high", "p_below", "p_up")
PROBABILITIES = ("p_below", "p_up")


def figures_of(now: Array, start: Array, target: float) -> dict[str, Array]:
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


def compared(seed: int, chains: int, draws: int) -> pd.DataFrame:
    """Return one row for each standing of a season and each figure: ours, at the mode, and the sampler's."""
    players, rng = roster(WORLD), np.random.default_rng(seed)
    frame, skills = cells(simulate(rng, WORLD), players), catalogue(WORLD)
    ours = standings_of(frame, players, skills)
    with the_mode():
        at_the_mode = standings_of(frame, players, skills)
    density = SeasonDensity(frame, {player.id.bytes: str(player.position) for player in players})
    places = sample(density, density.starts(chains, rng), WARM_UP, draws, rng)
    ids, rows = {player.number: player.id.bytes for player in players}, []
    for one, other in zip(ours, at_the_mode, strict=True):
        now, start = density.shares(places, ids[one.player], one.skill)
        trusted = {
            "r_hat": max(r_hat(now), r_hat(now - start)),
            "size": min(effective_size(now), effective_size(now - start)),
        }
        for name, values in figures_of(now, start, one.target).items():
            rows.append({
                "season": seed, "figure": name, "gap": getattr(one, name) - values.mean(),
                "at_mode": getattr(other, name) - values.mean(),
                "error": values.std(ddof=1) / np.sqrt(chains), **trusted,
            })  # fmt: skip
    return pd.DataFrame(rows)


def largest(gap: pd.Series) -> float:
    """Return the value that is farthest from zero."""
    return float(gap.loc[gap.abs().idxmax()])


def told(rows: pd.DataFrame) -> None:
    """Print the differences, in points (hundredths)."""
    heads = ("mean", "rms", "largest", "MC error", "at the mode")
    print(f"{'ours minus the sampler, in points':36}" + "".join(f"{head:>13}" for head in heads))
    for name in FIGURES:
        mine = rows[rows["figure"] == name]
        gap = mine["gap"]
        values = (
            gap.mean(),
            np.sqrt(np.mean(gap**2)),
            largest(gap),
            mine["error"].max(),
            mine["at_mode"].mean(),
        )
        print(f"  {name:34}" + "".join(f"{100 * value:13.2f}" for value in values))
    by_season = rows[rows["figure"] == "share"].groupby("season")["gap"].mean()
    print("  mean of the shares, by season: " + ", ".join(f"{100 * gap:+.2f}" for gap in by_season))
    print(f"  R-hat at most {rows['r_hat'].max():.4f}, effective draws at least {rows['size'].min():.0f}")


def failures(rows: pd.DataFrame) -> list[str]:
    """Say what is beyond its bound."""
    share = rows[rows["figure"] == "share"]
    bias, rough = float(share["gap"].mean()), float(share["error"].mean())
    found = [f"the shares are {100 * bias:+.2f} points off in the mean"] if abs(bias) > BIAS else []
    # the errors of a season's shares go together at worst, those of seasons are independent
    if rough / np.sqrt(share["season"].nunique()) * ERRORS > BIAS:
        found.append(f"the sampler's shares are too rough: {100 * rough:.2f} points")
    for name in PROBABILITIES:
        mine = rows[rows["figure"] == name]
        worst, rms = float(mine["gap"].abs().max()), float(np.sqrt(np.mean(mine["gap"] ** 2)))
        found += [f"{name} is {worst:.3f} off, more than {P_LARGEST}"] if worst > P_LARGEST else []
        found += [f"{name} is {rms:.3f} off in the root mean square"] if rms > P_RMS else []
        if mine["error"].max() * ERRORS > P_RMS:
            found.append(f"the sampler's {name} is too rough: {mine['error'].max():.4f}")
    if rows["r_hat"].max() > R_HAT:
        found.append(f"the sampler's chains disagree: R-hat {rows['r_hat'].max():.4f}")
    return found


def main() -> None:
    """Compare, print, and end with 1 when something is beyond its bound."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=12)
    parser.add_argument("--first", type=int, default=0, help="seed of the first season, and of its sampler")
    parser.add_argument("--chains", type=int, default=32)
    parser.add_argument("--draws", type=int, default=1000, help="of each chain, after it has warmed up")
    known = parser.parse_args()
    seeds = range(known.first, known.first + known.seasons)
    rows = pd.concat([compared(seed, known.chains, known.draws) for seed in seeds], ignore_index=True)
    standings = len(rows) // len(FIGURES)
    print(f"{len(seeds)} seasons, {standings} standings, {known.chains} chains of {known.draws} draws each")
    told(rows)
    if found := failures(rows):
        sys.exit("\n".join(found))


if __name__ == "__main__":
    main()
