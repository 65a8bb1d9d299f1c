"""Whether so many more tries make a share known well enough, on simulated seasons that go on.

Run from the top folder as ``python tests/bench/bench_more_tries.py [--seasons 12] [--first 0]``. A season is
asked, at a half and at a third of it, how many more tries bring each 90 % interval to 30 points across. Then
it goes on, everyone at their usual pace, until a player has that many more; all is fitted anew, and it
counts whether the interval is no wider than promised. Seasons have twice the practices of their world at the
same pace, as a season has about 48, and the changes of one season; ``twice the change`` lets players change
at the same rate for all that time.

told     how many of those with tries enough for a call are promised a number; ``known`` are already
kept     of those promised, and who made their tries within the season: the interval is as narrow
over     by how many points the intervals are wider than promised, on average
not told who would need more than as many tries again, and how many of them are known after that, or at the
         season's end
"""

import argparse
from collections import Counter
from dataclasses import replace

import at_home  # noqa: F401
import numpy as np
from simulated_season import World, catalogue, cells, roster, simulate

from evaltrack.analysis.season.precision import WANTED
from evaltrack.analysis.standings.standing import Standing
from evaltrack.analysis.standings.standings import standings_of

WORLDS = {
    "as designed, 20 tries": World(),
    "10 tries": World(tries=10),
    "a short season: 10 players, 3 skills, 8 practices": World(players=10, skills=3, practices=8),
}
GOAL = "0.40 to 0.60"


class SeasonThatGoesOn:
    """A simulated season, and its standings after any number of its practices."""

    def __init__(self, world: World, seed: int):
        self.players, self.skills = roster(world), catalogue(world)
        self._cells = cells(simulate(np.random.default_rng(seed), world), self.players)
        self._days = sorted(self._cells["held_on"].unique())
        self._known: dict[int, dict[tuple[str, str], Standing]] = {}

    def standings(self, practices: int) -> dict[tuple[str, str], Standing]:
        """Return the standings after so many practices, by player and skill."""
        if practices not in self._known:
            seen = self._cells[self._cells["held_on"] <= self._days[practices - 1]]
            found = standings_of(seen, self.players, self.skills)
            self._known[practices] = {(one.player, one.skill): one for one in found}
        return self._known[practices]

    def after(self, pair: tuple[str, str], asked: int, more: int) -> Standing | None:
        """Return a standing when its player has made so many more tries; None when the season ends before."""
        wanted = self.standings(asked)[pair].tries + more
        low, high = asked, len(self._days)
        if self.standings(high)[pair].tries < wanted:
            return None
        counts = self._tries(pair)
        return self.standings(int(np.searchsorted(counts, wanted)) + 1)[pair]

    def _tries(self, pair: tuple[str, str]) -> np.ndarray:
        one = self.standings(len(self._days))[pair]
        tries = Counter({seen.on: seen.tries for seen in one.seen})
        return np.cumsum([tries[day.date()] for day in self._days])


def width(one: Standing) -> float:
    """Return how many points the 90 % interval is across."""
    return one.high - one.low


def promises(world: World, seed: int, part: float, most: int) -> Counter:
    """Return what was told at a part of a season, and what came of it; of at most so many numbers."""
    season, found = SeasonThatGoesOn(world, seed), Counter()
    asked = round(world.practices * part)
    told = {pair: one for pair, one in season.standings(asked).items() if not any(one.missing)}
    numbers = [pair for pair, one in told.items() if one.to_go]
    found["asked"], found["known"] = len(told), sum(one.to_go == 0 for one in told.values())
    found["told"] = len(numbers)
    for place in np.random.default_rng(seed).permutation(len(numbers))[:most]:
        pair = numbers[place]
        then = season.after(pair, asked, told[pair].to_go)
        if then is not None:
            found.update(made=1, kept=int(width(then) <= WANTED), over=width(then) - WANTED)
    for pair, one in told.items():
        if one.to_go is None:
            then = season.after(pair, asked, one.tries) if False else season.standings(min(2 * asked, world.practices))[pair]
            found.update(none=1, reached=int(width(then) <= WANTED))
    return found


def judge(name: str, world: World, seeds: range, most: int) -> None:
    """Print what was promised in the seasons of a world, and how much of it was kept."""
    for part in (1 / 2, 1 / 3):
        found = sum((promises(world, seed, part, most) for seed in seeds), Counter())
        print(name,round(part,2),dict(found), 'kept',found['kept']/max(1,found['made']),'over',found['over']/max(1,found['made']),'reached',found['reached']/max(1,found['none']),flush=True)
