"""Whole plans of random teams and wishes: minutes, players and stations add up in every one.

Run from the top folder as ``python tests/bench/bench_plan_sums.py [--plans 1000] [--first 0]``. A team has 1
to 24 players of any positions, some of them limited; what was tallied is nothing, little or a whole season;
any of them may be here; ice time, stations, coaches, surface, kind of groups, band and wishes are drawn too.
It stops at the first plan that does not add up, and prints its seed.
"""

import argparse
from time import perf_counter

import at_home  # noqa: F401
import numpy as np
from planned_seasons import SKILLS, assert_adds_up, known, tallied, team

from evaltrack.analysis.planning.known_season import KnownSeason
from evaltrack.analysis.planning.planner import plan_of
from evaltrack.rink.plan import Asked, Grouping, Wish, WishKind
from evaltrack.rink.practice import Surface

OF_ONE_SEASON = 20


def season_of(rng) -> KnownSeason:
    """Return a random team with what was tallied of it."""
    players = team("".join(rng.choice([*"DDDFFFFFGdf"], rng.integers(1, 25))))
    weeks = int(rng.choice([0, 1, 2, 6]))
    watched = [key for key in SKILLS if rng.random() < 0.7]
    shares = {key: float(rng.uniform(0.2, 0.95)) for key in watched} if weeks else {}
    return known(
        players, tallied(players, shares, weeks, int(rng.integers(1, 5)), int(rng.integers(99))), weeks
    )


def asked_of(rng, season: KnownSeason) -> Asked:
    """Return what a plan of this team may be asked for."""
    numbers = [player.number for player in season.roster]
    here = tuple(rng.permutation(numbers)[: rng.integers(1, len(numbers) + 1)].tolist())
    wishes = [
        Wish([*WishKind][rng.integers(3)], *map(str, rng.choice(numbers, 2, replace=False)))
        for _ in range(rng.integers(5) if len(numbers) > 1 else 0)
    ]
    low = float(rng.uniform(0.1, 0.8))
    return Asked(
        int(rng.integers(10, 121)),
        int(rng.integers(1, 9)),
        int(rng.integers(0, 6)),
        [*Surface][rng.integers(3)],
        here,
        [*Grouping][rng.integers(3)],
        (low, low + 0.15),
        tuple(wishes),
        (frozenset(numbers[::2]),),
    )


def main() -> None:
    """Make the plans."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--plans", type=int, default=1000)
    parser.add_argument("--first", type=int, default=0, help="seed of the first plan")
    words = parser.parse_args()
    seconds, season, unmet = [], None, 0
    for seed in range(words.first, words.first + words.plans):
        rng = np.random.default_rng(seed)
        if season is None or seed % OF_ONE_SEASON == 0:
            season = season_of(rng)
        asked = asked_of(rng, season)
        start = perf_counter()
        plan = plan_of(season, asked)
        seconds.append(perf_counter() - start)
        unmet += len(plan.unmet)
        try:
            assert_adds_up(plan, asked.here)
        except AssertionError:
            print(f"the plan of seed {seed} does not add up")
            raise
    print(f"{len(seconds)} plans add up; {unmet} wishes are not met; slowest {max(seconds):.2f} s")


if __name__ == "__main__":
    main()
