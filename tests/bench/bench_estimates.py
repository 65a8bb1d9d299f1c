"""How good the estimates are on simulated seasons whose truth is known, beside what needs no model.

Run from the top folder as ``python tests/bench/bench_estimates.py [--seasons 40] [--first 0]
[--worlds designed|hard|all] [--only WORDS]``; ``--only`` takes the worlds whose names have these words in
them. 40 seasons of all worlds take about three minutes of one core.
Season number s of every world is drawn with seed s; nothing is left out. What is true is worked out from the
law that the tries follow (``tests/worlds/season_truth.py``), as a standing names it: as this season's
observers see it, under the kinds of try of the player's position group, over the player's own days. The
columns:

apart, shared  our estimates: a player's skills each for itself (in the worlds as designed only), or lending
               each other strength; the team's trend, pressure and SDs are fitted over all skills in either
raw            percentages and fixed cut-offs: ``work on`` below the target and ``solid`` from the target
               on, from 10 tries; ``up`` or ``down`` when the halves of the season differ by 10 points;
               Jeffreys' interval, and Newcombe's for the difference of the halves
plain          what a careful person would do: James and Stein's shares within each skill, the exact
               interval, calls by Benjamini and Hochberg's procedure at 10 % on exact tests, trends by Mann
               and Kendall's test at 5 % a side, changes by Theil's slope

Goals stand beside the figures of the first world, and everywhere beside those that hold in every world.
"""

import argparse
from collections.abc import Iterator

import at_home  # noqa: F401
import numpy as np
import pandas as pd
from known_worlds import DESIGNED, HARD
from plain_judgement import by_percentages, by_plain_methods, seen
from season_truth import NAMED, Estimand
from season_world import DEFAULT
from simulated_season import SimulatedSeason, World, catalogue, cells, roster, simulate

from evaltrack.analysis.standings.standings import standings_of

TARGET = 0.6
WAYS = ("apart", "shared", "raw", "plain")
MANY, SOME = 20, 10
CLEAR = 0.15
GOALS = {
    "share now: 90 % interval covers": "0.88 to 0.92",
    "change: 90 % interval covers": "0.88 to 0.92",
    "share now: RMSE, against raw": "<= 0.82 apart, 0.74 shared",
    "wrong among work on": "<= 0.10",
    "truly below target: found": ">= 0.42",
    "up or down, of those who do not change": "<= 0.05",
}
EVERYWHERE = "up or down, of those who do not change"


def pairs(
    season: SimulatedSeason, world: World, players, shared: bool, estimand: Estimand = NAMED
) -> pd.DataFrame:
    """Return one row for each player and skill with a standing: what was said, and what is true."""
    standings = standings_of(cells(season, players), players, catalogue(world), shared=shared)
    names = "share low high change change_low change_high tries done call trend".split()
    frame = pd.DataFrame([[getattr(one, name) for name in names] for one in standings], columns=names)
    frame["player"] = [int(one.player) - 1 for one in standings]
    frame["skill"] = [int(one.skill[1:]) for one in standings]
    return with_truth(frame, season, estimand)


def with_truth(frame: pd.DataFrame, season: SimulatedSeason, estimand: Estimand = NAMED) -> pd.DataFrame:
    """Return the frame with the true share now and the true change of each row's player and skill."""
    at = frame["player"].to_numpy(), frame["skill"].to_numpy()
    now, change = season.truth(estimand)
    return frame.assign(now=now[at], truly=change[at])


def judged(
    season: SimulatedSeason, world: World, players, ways: tuple[str, ...] = WAYS
) -> dict[str, pd.DataFrame]:
    """Return what each way says of the same season, beside the truth."""
    counts = seen(season, world)
    says = {
        "apart": lambda: pairs(season, world, players, shared=False),
        "shared": lambda: pairs(season, world, players, shared=True),
        "raw": lambda: with_truth(by_percentages(counts, TARGET), season),
        "plain": lambda: with_truth(by_plain_methods(counts, TARGET), season),
    }
    return {way: says[way]() for way in ways}


def part_of(part: pd.Series, of: pd.Series) -> float:
    """Return which part of those is these too; not a number where there are none."""
    return float((part & of).sum() / of.sum()) if of.any() else float("nan")


def rmse(error: pd.Series) -> float:
    """Return the root of the mean square."""
    return float(np.sqrt(np.mean(error**2)))


def covers(frame: pd.DataFrame, truth: str, low: str, high: str) -> float:
    """Return which part of the intervals holds the truth."""
    known = frame[frame[low].notna()]
    return float(known[truth].between(known[low], known[high]).mean())


def figures(frame: pd.DataFrame, raw: pd.DataFrame) -> Iterator[tuple[str, float]]:
    """Give each figure of one way with its name; ``raw`` is the frame of raw percentages."""
    error = frame["share"] - frame["now"]
    yield "share now: 90 % interval covers", covers(frame, "now", "low", "high")
    yield "change: 90 % interval covers", covers(frame, "truly", "change_low", "change_high")
    yield "share now: RMSE, against raw", rmse(error) / rmse(raw["share"] - raw["now"])
    yield "share now: RMSE, in points", 100 * rmse(error)
    yield "share now: mean error, in points", 100 * float(error.mean())
    yield "  of its square, common to a skill's players", _common(frame.assign(error=error))
    change = rmse(frame["change"] - frame["truly"]) / rmse(raw["change"] - raw["truly"])
    yield "change: RMSE, against raw", change
    yield from _calls(frame)
    yield from _trends(frame)


def _calls(frame: pd.DataFrame) -> Iterator[tuple[str, float]]:
    weak, tries = frame["now"] < TARGET, frame["tries"]
    called = {call: frame["call"] == call for call in ("work on", "solid")}
    yield "wrong among work on", part_of(~weak, called["work on"])
    yield "truly below target: found", part_of(called["work on"], weak)
    yield f"  of those with {MANY} tries or more", part_of(called["work on"], weak & (tries >= MANY))
    some = f"with {SOME} to {MANY - 1} tries"
    yield f"  of those {some}", part_of(called["work on"], weak & tries.between(SOME, MANY - 1))
    yield f"wrong among work on, {some}", part_of(~weak, called["work on"] & tries.between(SOME, MANY - 1))
    yield "wrong among solid", part_of(weak, called["solid"])
    yield "truly at target: found", part_of(called["solid"], ~weak)


def _trends(frame: pd.DataFrame) -> Iterator[tuple[str, float]]:
    moved, every = frame["trend"] != "no clear change", frame["now"].notna()
    wrong_way = moved & (frame["trend"] != np.where(frame["truly"] > 0, "up", "down"))
    up, still = frame["trend"] == "up", frame["truly"] == 0
    yield "up or down, and truly not so", part_of(wrong_way | (moved & still), every)
    yield EVERYWHERE, part_of(moved, still)
    yield "wrong among up", part_of(frame["truly"] <= 0, up)
    yield "truly up by 15 points: found", part_of(up, frame["truly"] >= CLEAR)
    yield "truly changed by 15 points: found", part_of(moved & ~wrong_way, frame["truly"].abs() >= CLEAR)


def _common(frame: pd.DataFrame) -> float:
    """Return the part of the squared error that all players of a skill have in common in their season.

    A variance component: the mean error's square, less what the players' own errors leave in it.
    """
    groups = frame.groupby(["season", "skill"])["error"]
    count, mean, own = groups.size(), groups.mean(), groups.var()
    common = max(float(np.mean(mean**2 - own / count)), 0.0)
    return common / (common + float(own.mean()))


def judge(name: str, world: World, seeds: range) -> None:
    """Simulate the seasons, estimate in every way, and print the figures side by side."""
    ways = WAYS if world in DESIGNED.values() else WAYS[1:]
    players, found = roster(world), {way: [] for way in ways}
    for seed in seeds:
        said = judged(simulate(np.random.default_rng(seed), world), world, players, ways)
        for way, frame in said.items():
            found[way].append(frame.assign(season=seed))
    frames = {way: pd.concat(parts, ignore_index=True) for way, parts in found.items()}
    columns = {way: dict(figures(frame, frames["raw"])) for way, frame in frames.items()}
    print(f"\n{name}; {len(seeds)} seasons, {len(frames['raw'])} standings")
    print(f"  {'':46}" + "".join(f"{way:>8}" for way in ways) + "   goal")
    for what in columns["raw"]:
        values = "".join(_cell(columns[way][what]) for way in ways)
        goal = GOALS.get(what, "") if world == DEFAULT or what == EVERYWHERE else ""
        if values.strip("- "):
            print(f"  {what:46}{values}   {goal}".rstrip(), flush=True)


def _cell(value: float) -> str:
    return f"{'-':>8}" if np.isnan(value) else f"{value:8.3f}"


def main() -> None:
    """Judge the worlds that are asked for."""
    kinds = {"designed": DESIGNED, "hard": HARD, "all": DESIGNED | HARD}
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=40)
    parser.add_argument("--first", type=int, default=0, help="seed of the first season")
    parser.add_argument("--worlds", choices=kinds, default="all")
    parser.add_argument("--only", default="", help="words in the names of the worlds")
    known = parser.parse_args()
    for name, world in kinds[known.worlds].items():
        if known.only in name:
            judge(name, world, range(known.first, known.first + known.seasons))


if __name__ == "__main__":
    main()
