"""How often the intervals of agreement hold the truth, on simulated observers whose agreement is known.

Run from the top folder as ``python tests/bench/bench_agreement.py [--times 2000]``. Two observers watch
``minutes`` minutes of 2 to 8 tries each. Each minute has an agreement and a share done of its own, drawn
from beta distributions, so that tries of one minute hang together; the truth is that of all minutes there
could be. Comparison number t of every world is drawn with seed t; nothing is left out. The columns:

covers     of the 90 % intervals that are given, the share that hold the truth
none       the share of comparisons that give no interval
p_below    where the truth is exactly what is asked for: how often p_below is under .05 and over .95

Then p_below as a probability: agreements drawn evenly from .6 to 1, and of the comparisons with a p_below
in each range, the share that truly are below.
"""

import argparse
from dataclasses import dataclass
from itertools import pairwise
from time import perf_counter

import at_home  # noqa: F401
import numpy as np

from evaltrack.analysis.agreement.agreement import (
    ENOUGH,
    cohen_kappa,
    done_difference,
    gwet_ac1,
    raw_share,
    row_of,
)

STATISTICS = {"share": raw_share, "kappa": cohen_kappa, "ac1": gwet_ac1, "difference": done_difference}
MINUTES = (8, 15, 30, 60)
TRIES = (2, 8)  # in a minute
RANGES = (0, 0.05, 0.2, 0.5, 0.8, 0.95, 1.0001)


@dataclass(frozen=True)
class Pair:
    """Two observers: how far they agree, and of the tries they split on, how many the first one saw done.

    ``within`` is the correlation of two tries of one minute.
    """

    agree: float = 0.8
    first: float = 0.5
    done: float = 0.6
    within: float = 0.1

    def truth(self) -> np.ndarray:
        """Return the table of shares over all minutes there could be."""
        return _cells(np.array(self.agree), np.array(self.done), self.first)

    def watch(self, rng: np.random.Generator, minutes: int) -> np.ndarray:
        """Return the tables of so many minutes."""
        agree, done = (_beta(rng, mean, self.within, minutes) for mean in (self.agree, self.done))
        tries = rng.integers(TRIES[0], TRIES[1] + 1, minutes)
        return rng.multinomial(tries, _cells(agree, done, self.first).reshape(-1, 4)).reshape(-1, 2, 2)


WORLDS = {
    "agree .70": Pair(0.7),
    "agree .80": Pair(),
    "agree .90": Pair(0.9),
    "agree .97": Pair(0.97),
    "agree .80, the first strict": Pair(first=0.15),
    "agree .80, nearly all done": Pair(done=0.85),
    "agree .80, minutes differ much": Pair(within=0.25),
}


def _beta(rng: np.random.Generator, mean: float, within: float, size: int) -> np.ndarray:
    strength = 1 / within - 1
    return rng.beta(mean * strength, (1 - mean) * strength, size)


def _cells(agree: np.ndarray, done: np.ndarray, first: float) -> np.ndarray:
    split = 1 - agree
    cells = [agree * done, split * first, split * (1 - first), agree * (1 - done)]
    return np.stack(cells, -1).reshape(*agree.shape, 2, 2)


def rows_of(pair: Pair, minutes: int, times: int) -> list:
    """Return the product's row of each of so many comparisons."""
    seeds = range(times)
    tables = (pair.watch(np.random.default_rng(seed), minutes) for seed in seeds)
    return [row_of(("Dev", "Marit"), "stop", table) for table in tables]


def covers(rows: list, name: str, truth: float) -> tuple[float, float]:
    """Return of the intervals given the share that hold the truth, and the share of rows without one."""
    ends = [(getattr(row, f"{name}_low"), getattr(row, f"{name}_high")) for row in rows]
    given = [(low, high) for low, high in ends if low is not None]
    held = np.mean([low <= truth <= high for low, high in given]) if given else float("nan")
    return float(held), 1 - len(given) / len(rows)


def coverage(times: int) -> None:
    """Print for each world and size how often each interval holds the truth."""
    print(f"{'':32}minutes  {'  '.join(f'{name:>10} none' for name in STATISTICS)}   p_below <.05 >.95")
    for name, pair in WORLDS.items():
        for minutes in MINUTES:
            rows = rows_of(pair, minutes, times)
            found = [covers(rows, key, float(of(pair.truth()))) for key, of in STATISTICS.items()]
            line = "  ".join(f"{held:10.3f} {none:4.2f}" for held, none in found)
            below = np.array([row.p_below for row in rows])
            tails = (
                f"{np.mean(below < 0.05):12.3f} {np.mean(below > 0.95):.3f}" if pair.agree == ENOUGH else ""
            )
            print(f"{name:32}{minutes:7}  {line}   {tails}", flush=True)


def probabilities(times: int) -> None:
    """Print of the comparisons in each range of p_below the share that truly agree too little."""
    rng = np.random.default_rng(0)
    print("\np_below, agreements drawn evenly from .6 to 1: truly below (comparisons)")
    for minutes in MINUTES:
        agrees = rng.uniform(0.6, 1, times)
        tables = [Pair(agree).watch(rng, minutes) for agree in agrees]
        said = np.array([row_of(("Dev", "Marit"), "stop", table).p_below for table in tables])
        line = f"{minutes:4} minutes"
        for low, high in pairwise(RANGES):
            inside = (said >= low) & (said < high)
            truly = np.mean(agrees[inside] < ENOUGH) if inside.any() else float("nan")
            line += f"   {low:.2f} to {min(high, 1):.2f}: {truly:.2f} ({inside.sum()})"
        print(line, flush=True)


def speed() -> None:
    """Print how long one row takes, of a long practice's minutes."""
    tables = Pair().watch(np.random.default_rng(0), 60)
    start = perf_counter()
    for _ in range(200):
        row_of(("Dev", "Marit"), "stop", tables)
    print(f"\none row of 60 minutes: {(perf_counter() - start) / 200 * 1000:.2f} ms")


def main() -> None:
    """Print coverage, probabilities and speed."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--times", type=int, default=2000)
    times = asked.parse_args().times
    coverage(times)
    probabilities(4 * times)
    speed()


if __name__ == "__main__":
    main()
