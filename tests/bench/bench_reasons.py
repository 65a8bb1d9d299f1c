"""How often what is said of a move is true: its 90 % interval, and that of what a kind of try costs.

Run from the top folder as ``python tests/bench/bench_reasons.py [--seasons 40] [--worlds 7]``. Season
number s of every world is drawn with seed s. The true move of a cause is the same walk with the true
effects. The columns, for each cause: how many were said, the share of intervals that hold the true move (of
all, and of those of 2 points or more, which alone are told), how far the move is off (RMSE, points, and
that of saying "nothing moved it"), how often the sign of a told move is wrong, and the share of intervals
that hold the true cost of the kind that is named.
"""

import argparse
from collections.abc import Iterator

import at_home  # noqa: F401
import numpy as np
import pandas as pd
from known_moves import WALK, KnownSeason, MovesWorld, known_season

from evaltrack.analysis.standings.standing import Reason, Standing
from evaltrack.analysis.standings.standings import standings_of

WORLDS = {
    "as designed, 20 tries": MovesWorld(),
    "two observers, one strict by .6": MovesWorld(strict=0.6),
    "each of two observers keeps to his players, three times in four": MovesWorld(own=0.5),
    "steps drift, and defenders have their own": MovesWorld(apart=0.6),
    "10 tries": MovesWorld(tries=10),
    "three observers, 40 tries, steps as they come": MovesWorld(observers=3, tries=40, drift=False),
    "a short season: 10 players, 3 skills, 8 practices": MovesWorld(players=10, skills=3, practices=8),
}
TOLD = 0.02


def every(standing: Standing) -> Iterator[Reason]:
    """Give each cause of a standing by itself, those in the rest too."""
    for reason in standing.reasons:
        yield from reason.gathered or (reason,)


def said_and_true(season: KnownSeason) -> Iterator[dict]:
    """Give a row for each reason of a season: what is said, and what is true."""
    for one in standings_of(season.cells(), season.roster, season.catalogue()):
        where = int(one.skill[1:]), int(one.player) - 1
        true = season.moves(*where)
        for reason in every(one):
            row = {"cause": str(reason.cause), "moved": reason.moved, "true": true[reason.cause]}
            row |= {"low": reason.low, "high": reason.high, "held": np.nan}
            if reason.cost_high > reason.cost_low:
                cost = season.cost(*where, str(reason.cause), _number(reason))
                row["held"] = float(reason.cost_low <= cost <= reason.cost_high)
            yield row


def _number(reason: Reason) -> int:
    """Return the number in the season's law of the kind that a reason names."""
    if reason.cause == "pressure":
        return ("no", "yes").index(reason.named)
    return int(reason.named.removeprefix("d/").removeprefix("o"))


def judge(name: str, world: MovesWorld, seeds: range) -> None:
    """Print what the reasons of a world's seasons are worth."""
    rows = [row for s in seeds for row in said_and_true(known_season(np.random.default_rng(s), world))]
    frame = pd.DataFrame(rows)
    frame["covers"] = frame["true"].between(frame["low"] - 1e-12, frame["high"] + 1e-12)
    print(f"\n{name}; {len(seeds)} seasons")
    print(f"  {'':10}{'said':>7}{'covers':>8}{'told':>7}{'covers':>8}{'off':>7}{'as none':>9}", end="")
    print(f"{'sign':>7}{'cost':>8}")
    for cause in WALK:
        part = frame[(frame["cause"] == cause) & (frame["low"] < frame["high"])]
        if len(part):
            print(f"  {cause:10}{_figures(part)}", flush=True)


def _figures(part: pd.DataFrame) -> str:
    told = part[part["moved"].abs() >= TOLD]
    off = 100 * np.sqrt(np.mean((part["moved"] - part["true"]) ** 2))
    none = 100 * np.sqrt(np.mean(part["true"] ** 2))
    wrong = np.mean(np.sign(told["moved"]) != np.sign(told["true"])) if len(told) else np.nan
    return (
        f"{len(part):7d}{part['covers'].mean():8.3f}{len(told):7d}{told['covers'].mean():8.3f}"
        f"{off:7.2f}{none:9.2f}{wrong:7.3f}{part['held'].mean():8.3f}"
    )


def main() -> None:
    """Judge every world."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=40)
    parser.add_argument("--worlds", type=int, default=len(WORLDS), help="how many of them, from the first")
    known = parser.parse_args()
    for name, world in list(WORLDS.items())[: known.worlds]:
        judge(name, world, range(known.seasons))


if __name__ == "__main__":
    main()
