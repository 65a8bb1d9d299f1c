"""How good the estimates are on simulated seasons whose truth is known, beside what needs no model.

Run from the top folder as ``python tests/bench/bench_estimates.py [--seasons 40] [--first 0] [--worlds 5]``.
Season number s of every world is drawn with seed s; nothing is left out. The columns:

apart, shared  our estimates: a player's skills each for itself, or lending each other strength; the team's
               trend, pressure and SDs are fitted over all skills in either
raw            percentages and fixed cut-offs: ``work on`` below the target and ``solid`` from the target
               on, from 10 tries; ``up`` or ``down`` when the halves of the season differ by 10 points;
               Jeffreys' interval, and Newcombe's for the difference of the halves
plain          what a careful person would do: James and Stein's shares within each skill, the exact
               interval, calls by Benjamini and Hochberg's procedure at 10 % on exact tests, trends by Mann
               and Kendall's test at 5 % a side, changes by Theil's slope

Goals stand beside the figures of the first world.
"""

import argparse
from collections.abc import Iterator

import at_home  # noqa: F401
import numpy as np
import pandas as pd
from plain_judgement import by_percentages, by_plain_methods, seen
from simulated_season import SimulatedSeason, World, catalogue, cells, roster, simulate

from evaltrack.analysis.standings.standings import standings_of

WORLDS = {
    "as designed, 20 tries": World(),
    "10 tries": World(tries=10),
    "nobody changes": World(sd_slope=0.0, team_slope=0.0),
    "skills differ in their SDs": World(sd_spread=0.4),
    "a short season: 10 players, 3 skills, 8 practices": World(players=10, skills=3, practices=8),
}
TARGET = 0.6
WAYS = ("apart", "shared", "raw", "plain")
GOALS = {
    "share now: 90 % interval covers": "0.88 to 0.92",
    "change: 90 % interval covers": "0.88 to 0.92",
    "share now: RMSE, against raw": "<= 0.82 apart, 0.77 shared",
    "wrong among work on": "<= 0.10",
    "up or down, of those who do not change": "<= 0.05",
}


def pairs(season: SimulatedSeason, world: World, players, shared: bool) -> pd.DataFrame:
    """Return one row for each player and skill with a standing: what was said, and what is true."""
    standings = standings_of(cells(season, players), players, catalogue(world), shared=shared)
    names = "share low high change change_low change_high tries done call trend".split()
    frame = pd.DataFrame([[getattr(one, name) for name in names] for one in standings], columns=names)
    frame["player"] = [int(one.player) - 1 for one in standings]
    frame["skill"] = [int(one.skill[1:]) for one in standings]
    return with_truth(frame, season)


def with_truth(frame: pd.DataFrame, season: SimulatedSeason) -> pd.DataFrame:
    """Return the frame with the true share now and the true change of each row's player and skill."""
    at = frame["player"].to_numpy(), frame["skill"].to_numpy()
    return frame.assign(now=season.truth_now[at], truly=season.truth_change[at])


def judged(season: SimulatedSeason, world: World, players) -> dict[str, pd.DataFrame]:
    """Return what each way says of the same season, beside the truth."""
    counts = seen(season, world)
    return {
        "apart": pairs(season, world, players, shared=False),
        "shared": pairs(season, world, players, shared=True),
        "raw": with_truth(by_percentages(counts, TARGET), season),
        "plain": with_truth(by_plain_methods(counts, TARGET), season),
    }


def _share(part: pd.Series, of: pd.Series) -> float:
    return float((part & of).sum() / of.sum()) if of.any() else float("nan")


def _rmse(error: pd.Series) -> float:
    return float(np.sqrt(np.mean(error**2)))


def _covers(frame: pd.DataFrame, truth: str, low: str, high: str) -> float:
    known = frame[frame[low].notna()]
    return float(known[truth].between(known[low], known[high]).mean())


def figures(frame: pd.DataFrame, raw: pd.DataFrame) -> Iterator[tuple[str, float]]:
    """Give each figure of one way with its name; ``raw`` is the frame of raw percentages."""
    weak, error = frame["now"] < TARGET, frame["share"] - frame["now"]
    called = {call: frame["call"] == call for call in ("work on", "solid")}
    moved, every = frame["trend"] != "no clear change", frame["now"].notna()
    wrong_way = moved & (frame["trend"] != np.where(frame["truly"] > 0, "up", "down"))
    yield "share now: 90 % interval covers", _covers(frame, "now", "low", "high")
    yield "change: 90 % interval covers", _covers(frame, "truly", "change_low", "change_high")
    yield "share now: RMSE, against raw", _rmse(error) / _rmse(raw["share"] - raw["now"])
    yield "share now: RMSE, in points", 100 * _rmse(error)
    yield "  of its square, common to a skill's players", _common(frame.assign(error=error))
    change = _rmse(frame["change"] - frame["truly"]) / _rmse(raw["change"] - raw["truly"])
    yield "change: RMSE, against raw", change
    yield "wrong among work on", _share(~weak, called["work on"])
    yield "truly below target: found", _share(called["work on"], weak)
    yield (
        "  of those with 20 tries",
        _share(called["work on"], weak & (frame["tries"] >= 20)),
    )
    yield "wrong among solid", _share(weak, called["solid"])
    yield "truly at target: found", _share(called["solid"], ~weak)
    still = frame["truly"] == 0
    yield "up or down, and truly not so", _share(wrong_way | (moved & still), every)
    yield "up or down, of those who do not change", _share(moved, still)
    yield "truly changed by 15 points: found", _share(moved & ~wrong_way, frame["truly"].abs() >= 0.15)


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
    players, found = roster(world), {way: [] for way in WAYS}
    for seed in seeds:
        said = judged(simulate(np.random.default_rng(seed), world), world, players)
        for way, frame in said.items():
            found[way].append(frame.assign(season=seed))
    frames = {way: pd.concat(parts, ignore_index=True) for way, parts in found.items()}
    columns = {way: dict(figures(frame, frames["raw"])) for way, frame in frames.items()}
    print(f"\n{name}; {len(seeds)} seasons, {len(frames['raw'])} standings")
    print(f"  {'':46}" + "".join(f"{way:>8}" for way in WAYS) + ("   goal" if world == World() else ""))
    for what in columns["raw"]:
        values = "".join(_cell(columns[way][what]) for way in WAYS)
        goal = GOALS.get(what, "") if world == World() or what.endswith("do not change") else ""
        if values.strip("- "):
            print(f"  {what:46}{values}   {goal}".rstrip(), flush=True)


def _cell(value: float) -> str:
    return f"{'-':>8}" if np.isnan(value) else f"{value:8.3f}"


def main() -> None:
    """Judge every world."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=40)
    parser.add_argument("--first", type=int, default=0, help="seed of the first season")
    parser.add_argument("--worlds", type=int, default=len(WORLDS), help="how many of them, from the first")
    known = parser.parse_args()
    for name, world in list(WORLDS.items())[: known.worlds]:
        judge(name, world, range(known.first, known.first + known.seasons))


if __name__ == "__main__":
    main()
