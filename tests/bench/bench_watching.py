"""Whom to watch next: what more tallies find when they go to whom a plan says, to fewest tries, or evenly.

Run from the top folder as ``python tests/bench/bench_watching.py [--seasons 40] [--first 0]``. A simulated
season is watched unevenly for 24 practices, of each player and skill from none to about 30 tries, 10 on
average. Then come 8 more practices at which 20 pairs of player and skill are watched, six tries each:

worth    as a plan says: those who are expected to bring the most right calls
fewest   the first of ``evaltrack coverage``: fewest tries first
gain     those whose next try narrows all intervals together the most, from the covariance of all shares
evenly   all pairs in turn
anybody  drawn evenly at random

Before and after all is fitted. ``right`` is how many calls of a season, ``work on`` or ``solid``, are right,
and ``more`` how many more that is than before, with its standard error over the seasons; ``wrong`` is the
part of the calls that is wrong. ``found`` is the part of those truly below the target who are called ``work
on``, and ``amiss`` the part of these calls that is wrong. Last stands how many more right calls the plan's
way makes than each other way in the same seasons.
"""

import argparse
from collections.abc import Sequence

import at_home  # noqa: F401
import numpy as np
import pandas as pd
from scipy.special import expit, logit
from simulated_season import World, catalogue, cells, roster, simulate

from evaltrack.analysis.planning.worth_watching import day_spread, looks_of
from evaltrack.analysis.season.effects import Effect
from evaltrack.analysis.season.precision import Z
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.coverage import coverage_by, coverage_of
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
        self.in_turn = self.rng.permutation(WORLD.players * WORLD.skills)

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

    def called(self) -> Array:
        """Return how many calls are right and wrong; truly below the target, called so, called so wrongly."""
        weak = self.season.only(self.noted).truth_now < TARGET
        standings = standings_of(self.cells, self.players, self.skills)
        low, high = ([bool(weak[_place(s.player, s.skill)]) for s in standings if s.call == call]
                     for call in ("work on", "solid"))  # fmt: skip
        right = sum(low) + len(high) - sum(high)
        return np.array([right, len(low) + len(high) - right, weak.sum(), sum(low), len(low) - sum(low)])


def _place(number: str, skill: str) -> tuple[int, int]:
    return int(number) - 1, int(skill[1:])


def worth(season: Watched) -> list[tuple[int, int]]:
    """Return the pairs whose tries are expected to bring the most right calls."""
    fits = fit_season(season.cells, positions_of(season.players))
    standings = standings_of(season.cells, season.players, season.skills, fit=lambda *_: fits)
    rows = coverage_by(season.cells, fits, standings, season.players, season.skills)
    looks = looks_of(rows, {s.key: s.target for s in season.skills}, day_spread(fits))
    return [_place(look.player, look.skill) for look in looks[:PAIRS]]


def evenly(season: Watched) -> list[tuple[int, int]]:
    """Return the pairs whose turn it is."""
    season.in_turn = np.roll(season.in_turn, -PAIRS)
    return [divmod(int(pair), WORLD.skills) for pair in season.in_turn[-PAIRS:]]


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


WAYS = {"worth": worth, "fewest": fewest, "gain": gain, "evenly": evenly, "anybody": anybody}


def judge(seeds: range, ways: Sequence[str]) -> None:
    """Print what is found before, and after in each way, in the same seasons."""
    counts = {way: [] for way in ("before", *ways)}
    for seed in seeds:
        counts["before"].append(Watched(seed).called())
        for way in ways:
            season = Watched(seed)
            for practice in range(BEFORE, BEFORE + AFTER):
                season.watch(WAYS[way](season), practice)
            counts[way].append(season.called())
    print(f"{len(seeds)} seasons, at most {AFTER * PAIRS * EACH} more tallies in each")
    print(f"{'':9}{'right':>7}{'more':>16}{'wrong':>7}{'found':>7}{'amiss':>7}")
    found = {way: np.array(rows) for way, rows in counts.items()}
    for way, rows in found.items():
        right, wrong, weak, low, amiss = rows.sum(0)
        more = _more(rows, found["before"]) if way != "before" else ""
        print(f"{way:9}{rows[:, 0].mean():7.1f}{more:>16}{wrong / max(right + wrong, 1):7.3f}"
              f"{low / weak:7.2f}{amiss / max(low + amiss, 1):7.3f}")  # fmt: skip
    for way in ways:
        if "worth" in ways and way != "worth":
            print(f"worth makes {_more(found['worth'], found[way])} more right calls than {way}")


def _more(rows: Array, than: Array) -> str:
    """Return by how much more right calls there are, and the standard error of that over the seasons."""
    more = rows[:, 0] - than[:, 0]
    return f"{more.mean():.1f} ± {more.std(ddof=1) / np.sqrt(len(more)):.1f}"


def main() -> None:
    """Watch the seasons in each way."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=40)
    parser.add_argument("--first", type=int, default=0, help="seed of the first season")
    parser.add_argument("--ways", default=",".join(WAYS), help="which of them, with commas between")
    known = parser.parse_args()
    judge(range(known.first, known.first + known.seasons), known.ways.split(","))


if __name__ == "__main__":
    main()
