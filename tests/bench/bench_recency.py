"""What the words for few recent tries stand beside, on simulated seasons that end in different ways.

Run from the top folder as ``python tests/bench/bench_recency.py [--seasons 12] [--first 0]``. In a third of
pairs of player and skill all tries are noted, in the others fewer in the last third of the season, down to
none. For those with tries enough for a call it prints, with the words and without: which part they are, how
many 90 % intervals hold the true share now, how far the shares are off in points, and how many ``work on``
calls are wrong. Where all change comes late the intervals are too narrow whether recent tries are few or not:
the tries cannot tell, and the words only say how few of them are recent.
"""

import argparse

import at_home  # noqa: F401
import numpy as np
import pandas as pd
from simulated_season import SimulatedSeason, World, catalogue, cells, roster, simulate

from evaltrack.analysis.standings.standings import standings_of
from evaltrack.words.recency import recency_words
from evaltrack.words.wording import is_firm

WORLDS = {"as designed": World(), "all change in the last third": World(change_from=2 / 3)}
TARGET = 0.6


def watched(seed: int, world: World) -> SimulatedSeason:
    """Return a season of which the last third was watched unevenly."""
    rng = np.random.default_rng(seed)
    season = simulate(rng, world)
    pairs = world.players, world.skills
    part = np.where(rng.random(pairs) < 1 / 3, 1.0, rng.random(pairs) * (rng.random(pairs) < 2 / 3))
    late = season.practice >= world.practices * 2 / 3
    return season.only(~late | (rng.random(len(late)) < part[season.player, season.skill]))


def rows(seed: int, world: World) -> list[tuple]:
    """Return of each firm standing whether its words say it is old, and how it does."""
    season, players = watched(seed, world), roster(world)
    found = []
    for one in filter(is_firm, standings_of(cells(season, players), players, catalogue(world))):
        now = season.truth_now[int(one.player) - 1, int(one.skill[1:])]
        called = one.call == "work on"
        holds = one.low <= now <= one.high
        found.append((bool(recency_words(one)), holds, one.share - now, called, called and now >= TARGET))
    return found


def judge(name: str, world: World, seeds: range) -> None:
    """Print the figures of a world."""
    every = [row for seed in seeds for row in rows(seed, world)]
    frame = pd.DataFrame(every, columns=["old", "holds", "off", "called", "wrong"])
    print(f"\n{name}; {len(seeds)} seasons, {len(frame)} standings")
    print(f"  {'':9}{'part':>7}{'covers':>8}{'error':>7}{'wrong':>7}")
    for words, part in (("words", frame[frame["old"]]), ("no words", frame[~frame["old"]])):
        error = np.sqrt(np.mean(part["off"] ** 2))
        wrong = part["wrong"].sum() / max(part["called"].sum(), 1)
        shown = f"{len(part) / len(frame):7.2f}{part['holds'].mean():8.3f}{100 * error:7.1f}{wrong:7.3f}"
        print(f"  {words:9}{shown}", flush=True)


def main() -> None:
    """Judge both worlds."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=12)
    parser.add_argument("--first", type=int, default=0, help="seed of the first season")
    known = parser.parse_args()
    for name, world in WORLDS.items():
        judge(name, world, range(known.first, known.first + known.seasons))


if __name__ == "__main__":
    main()
