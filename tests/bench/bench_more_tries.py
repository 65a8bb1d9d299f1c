"""Whether so many more tries make a share known well enough, on simulated seasons that go on.

Run from the top folder as ``python tests/bench/bench_more_tries.py [--seasons 4] [--first 0] [--most 30]``. A
season is asked, at a half and at a third of it, how many more tries bring each 90 % interval to 30 points
across. Then it goes on, everyone at their usual pace, until a player has that many more; all is fitted
anew, and the interval of the share then is measured. Seasons have twice the practices and tries of their
world, since a season has about 48 practices, and the changes of one season. The lines:

promised      of those with tries enough for a call how many got a number; some are known well enough already,
              the others were told that as many tries again may not be enough
kept          of the promised whose tries were made before the season's end, up to ``--most`` a season: how
              many intervals are as narrow, and by how many points they are wider on average
standing      the same for the number that would do if the season stood still meanwhile: what the tries so far
still         leave of doubt, and what a try tells of one unchanging share
not promised  how many of these are known when the season is twice as old
"""

import argparse
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from math import ceil

import at_home  # noqa: F401
import numpy as np
from scipy.optimize import brentq
from scipy.special import expit, logit
from simulated_season import World, catalogue, cells, roster, simulate

from evaltrack.analysis.season.precision import WANTED, Z
from evaltrack.analysis.standings.standing import Standing
from evaltrack.analysis.standings.standings import standings_of

WORLDS = {
    "as designed, 20 tries": World(),
    "10 tries": World(tries=10),
    "a short season: 10 players, 3 skills, 8 practices": World(players=10, skills=3, practices=8),
}
PARTS = {"half": 1 / 2, "third": 1 / 3}
GOAL = "0.40 to 0.60"
Pair = tuple[str, str]


class SeasonThatGoesOn:
    """A simulated season, and its standings after any number of its practices."""

    def __init__(self, world: World, seed: int):
        self.world, self._players, self._skills = world, roster(world), catalogue(world)
        self._cells = cells(simulate(np.random.default_rng(seed), world), self._players)
        self._days = sorted(self._cells["held_on"].unique())
        self.standings = cache(self._standings)

    def _standings(self, practices: int) -> dict[Pair, Standing]:
        seen = self._cells[self._cells["held_on"] <= self._days[practices - 1]]
        return {(one.player, one.skill): one for one in standings_of(seen, self._players, self._skills)}

    def when(self, pair: Pair, tries: int) -> Standing | None:
        """Return a standing after the practice at which its tries are so many; None when they never are."""
        on = {seen.on: seen.tries for seen in self.standings(len(self._days))[pair].seen}
        so_far = np.cumsum([on.get(day.date(), 0) for day in self._days])
        if so_far[-1] < tries:
            return None
        return self.standings(int(np.searchsorted(so_far, tries)) + 1)[pair]


def standing_still(one: Standing) -> int:
    """Return how many more tries would do if nothing changed meanwhile."""
    middle, sd = (logit(one.low) + logit(one.high)) / 2, (logit(one.high) - logit(one.low)) / (2 * Z)
    needed = brentq(lambda to: expit(middle + Z * to) - expit(middle - Z * to) - WANTED, 1e-3, 9)
    share = expit(middle)
    return ceil((needed**-2 - sd**-2) / (share * (1 - share)))


def kept(
    season: SeasonThatGoesOn, told: dict[Pair, Standing], more: Callable[[Standing], int]
) -> Iterator[float]:
    """Give by how much each interval is wider than promised, of those whose tries were made."""
    for pair, one in told.items():
        then = season.when(pair, one.tries + more(one))
        if then is not None:
            yield then.high - then.low - WANTED


def judge(name: str, world: World, seeds: range, most: int) -> None:
    """Print what was promised in the seasons of a world, and how much of it was kept."""
    print(f"\n{name}; {len(seeds)} seasons of {world.practices} practices")
    for part, times in PARTS.items():
        asked = round(world.practices * times)
        counts, over, still, reached = np.zeros(3, int), [], [], []
        for seed in seeds:
            season = SeasonThatGoesOn(world, seed)
            firm = {pair: one for pair, one in season.standings(asked).items() if not any(one.missing)}
            told = {pair: one for pair, one in firm.items() if one.to_go}
            never = [pair for pair, one in firm.items() if one.to_go is None]
            counts += len(told), len(firm) - len(told) - len(never), len(never)
            some = [list(told)[place] for place in np.random.default_rng(seed).permutation(len(told))[:most]]
            told = {pair: told[pair] for pair in some}
            over += kept(season, told, lambda one: one.to_go)
            still += kept(season, told, standing_still)
            later = season.standings(min(2 * asked, world.practices))
            reached += [later[pair].high - later[pair].low <= WANTED for pair in never]
        _print(part, counts, (over, still), reached)


def _print(part: str, counts, overs, reached) -> None:
    print(f"  asked at a {part}: promised {counts[0]}, known already {counts[1]}, not promised {counts[2]}")
    for words, over in zip((f"kept (goal {GOAL})", "standing still"), overs, strict=True):
        if over:
            share, wider = np.mean(np.array(over) <= 0), 100 * np.mean(over)
            print(f"    {words:27}{share:.2f} of {len(over)}, {wider:+.1f} points on average")
    if reached:
        print(f"    {'not promised, yet known':27}{np.mean(reached):.2f}", flush=True)


def main() -> None:
    """Judge every world; a smaller one with more seasons, to have as many standings."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=4)
    parser.add_argument("--first", type=int, default=0, help="seed of the first season")
    parser.add_argument("--most", type=int, default=30, help="promises of a season that are followed")
    known = parser.parse_args()
    for name, world in WORLDS.items():
        longer = replace(world, practices=2 * world.practices, tries=2 * world.tries)
        times = max(1, 8 // world.skills)
        judge(name, longer, range(known.first, known.first + times * known.seasons), known.most)


if __name__ == "__main__":
    main()
