"""Whom to watch next: what more tallies find when they go to fewest tries, greatest gain, or anybody.

Run from the top folder as ``python tests/bench/bench_watching.py [--seasons 10] [--first 0]``. A simulated
season is watched unevenly for 24 practices, of each player and skill from none to about 30 tries, 10 on
average. Then come 8 more practices at which 20 pairs of player and skill are watched, six tries each:

fewest   the first of ``evaltrack coverage``: fewest tries first
gain     those whose next try narrows all intervals together the most, from the covariance of all shares
anybody  drawn evenly at random

Before and after all is fitted, and of those truly below the target it is counted how many are called ``work
on``, and how many of these calls are wrong.
"""

import argparse

import at_home  # noqa: F401
import numpy as np
import pandas as pd
from scipy.special import expit, logit
from simulated_season import World, catalogue, cells, roster, simulate

from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.precision import Z
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.coverage import coverage_of
from evaltrack.analysis.standings.standings import positions_of, standings_of
from evaltrack.analysis.standings.watching import whom_to_watch

BEFORE, AFTER, PAIRS, EACH = 24, 8, 20, 6
WORLD = World(practices=BEFORE + AFTER, tries=400)  # far more than anybody notes; what is watched is drawn
SEEN = 10
TARGET = 0.6
Array = np.ndarray


class Watched:
    """A season of which only some tries were noted."""

    def __init__(self, seed: int):
        self.rng = np.random.default_rng(seed)
        self.season = simulate(self.rng, WORLD)
        self.players, self.skills = roster(WORLD), catalogue(WORLD)
        self.noted = self._at_first()

    def _at_first(self) -> Array:
        uneven = self.rng.gamma(1.0, 1.0, (WORLD.players, WORLD.skills)).clip(max=3)
        usual = SEEN / (WORLD.tries * BEFORE / WORLD.practices)
        chance = (uneven / uneven.mean() * usual)[self.season.player, self.season.skill]
        return (self.rng.random(len(chance)) < chance) & (self.season.practice < BEFORE)

    def watch(self, pairs: list[tuple[int, int]], practice: int) -> None:
        """Note the first tries of these pairs of player and skill at a practice."""
        season = self.season
        for player, skill in pairs:
            own = (season.player == player) & (season.skill == skill) & (season.practice == practice)
            self.noted[np.flatnonzero(own)[:EACH]] = True

    @property
    def cells(self) -> pd.DataFrame:
        """The cells of the tries that were noted."""
        return cells(self.season.only(self.noted), self.players)

    def called(self) -> tuple[int, int, int]:
        """Return how many are truly below the target, how many of them are called, and how many wrongly."""
        weak = self.season.only(self.noted).truth_now < TARGET
        called = [one for one in standings_of(self.cells, self.players, self.skills) if one.call == "work on"]
        right = sum(bool(weak[_place(one.player, one.skill)]) for one in called)
        return int(weak.sum()), right, len(called) - right


def _place(number: str, skill: str) -> tuple[int, int]:
    return int(number) - 1, int(skill[1:])


def fewest(season: Watched) -> list[tuple[int, int]]:
    """Return the pairs that were seen least."""
    rows = whom_to_watch(coverage_of(season.cells, season.players, season.skills))
    return [_place(row.player, row.skill) for row in rows[:PAIRS]]


def anybody(season: Watched) -> list[tuple[int, int]]:
    """Return pairs drawn at random."""
    every = np.array(list(np.ndindex(WORLD.players, WORLD.skills)))
    return [tuple(pair) for pair in season.rng.choice(every, PAIRS, replace=False).tolist()]


def gain(season: Watched) -> list[tuple[int, int]]:
    """Return the pairs of which one more try narrows half the intervals of all most, added up."""
    pairs, middle, together, told = _shares(season)
    variance = np.diagonal(together)
    left = variance - together**2 * (told / (1 + told * variance))[:, None]
    slope = Z * expit(middle) * expit(-middle)
    gains = (np.sqrt(variance) - np.sqrt(np.maximum(left, 0.0))) @ slope
    return [pairs[place] for place in np.argsort(-gains)[:PAIRS]]


def _shares(season: Watched):
    """Return the pairs, their shares' logits, the covariance of all of them, and what a try tells of each.

    Whoever was never seen in a skill is alone: known as the team is, and telling nothing of others.
    """
    frame = season.cells
    fits = fit_season(frame, positions_of(season.players))
    number = {player.id.bytes: place for place, player in enumerate(season.players)}
    pairs, middles, gradients, told = [], [], [], []
    for key, fit in fits.items():
        middle, gradient = (part[:, 0] for part in fit.outlook.at(np.array([1.0])))
        whole = np.zeros((len(middle), len(fit.fit.posterior.mean)))
        players = fit.predictor.things(Effect.LEVEL)
        columns = fit.predictor.picked(players, fit.predictor.design.group[players])
        np.put_along_axis(whole, columns, gradient, axis=1)
        pairs += [(number[ident], int(key[1:])) for ident in fit.players]
        middles, gradients = [*middles, *middle], [*gradients, *whole]
        told += [_told(fit, each) for each in middle]
    together = _covariance(next(iter(fits.values())).fit.posterior, np.array(gradients))
    rows = coverage_of(frame, season.players, season.skills)
    alone = [row for row in rows if row.tries == 0]
    ends = logit(np.array([(row.low, row.high) for row in alone]).reshape(-1, 2))
    pairs += [_place(row.player, row.skill) for row in alone]
    apart = ((ends[:, 1] - ends[:, 0]) / (2 * Z)) ** 2
    middle = np.append(middles, ends.mean(1))
    told += [_told(fits[row.skill], at) for row, at in zip(alone, ends.mean(1), strict=True)]
    seen, size = len(together), len(pairs)
    whole = np.zeros((size, size))
    whole[:seen, :seen], whole[range(seen, size), range(seen, size)] = together, apart
    return pairs, middle, whole, np.array(told)


def _told(fit, middle: float) -> float:
    """Return what one more try tells of a logit, where ``EACH`` of them share a good or bad day."""
    plain = expit(middle) * expit(-middle)
    return plain / (1 + EACH * plain * fit.sd(Effect.PRACTICE) ** 2)


def _covariance(posterior, gradients: Array) -> Array:
    solved = np.array([posterior.factor.solve(row) for row in gradients])
    doubt = gradients @ posterior.sd_factor.T
    return gradients @ solved.T + doubt @ doubt.T


WAYS = {"fewest": fewest, "gain": gain, "anybody": anybody}


def judge(seeds: range) -> None:
    """Print what is found before, and after in each way, in the same seasons."""
    counts = {way: np.zeros(3, int) for way in ("before", *WAYS)}
    for seed in seeds:
        counts["before"] += Watched(seed).called()
        for way, choose in WAYS.items():
            season = Watched(seed)
            for practice in range(BEFORE, BEFORE + AFTER):
                season.watch(choose(season), practice)
            counts[way] += season.called()
    print(f"{len(seeds)} seasons, at most {AFTER * PAIRS * EACH} more tallies in each")
    print(f"{'':9}{'found':>7}{'wrong':>7}")
    for way, (weak, right, wrong) in counts.items():
        print(f"{way:9}{right / weak:7.2f}{wrong / max(right + wrong, 1):7.3f}")


def main() -> None:
    """Watch the seasons in each way."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=10)
    parser.add_argument("--first", type=int, default=0, help="seed of the first season")
    known = parser.parse_args()
    judge(range(known.first, known.first + known.seasons))


if __name__ == "__main__":
    main()
