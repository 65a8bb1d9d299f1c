"""How good the estimates are on simulated seasons whose truth is known.

Run from the top folder as ``python tests/bench/bench_estimates.py [--seasons 40] [--first 0]``.
Season number s of every world is drawn with seed s; nothing is left out. Beside each figure stands its
goal; those for coverage and error hold for the first world. ``raw`` is what the same seasons give by
percentages and a fixed cut-off: ``work on`` below the target from 10 tries, ``up`` or ``down`` when the
season's second half differs from the first by 10 points.
"""

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pandas as pd

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from simulated_season import SimulatedSeason, World, catalogue, cells, roster, simulate

from evaltrack.analysis.standings import standings_of

WORLDS = {
    "as designed, 20 tries": World(),
    "10 tries": World(tries=10),
    "nobody changes": World(sd_slope=0.0, team_slope=0.0),
    "skills differ in their SDs": World(sd_spread=0.4),
    "a short season: 10 players, 3 skills, 8 practices": World(players=10, skills=3, practices=8),
}
TARGET = 0.6
RAW_GAP = 0.1


def pairs(season: SimulatedSeason, world: World, players, shared: bool) -> pd.DataFrame:
    """Return one row for each player and skill with a standing: what was said, and what is true."""
    standings = standings_of(cells(season, players), players, catalogue(world), shared=shared)
    names = "share low high change change_low change_high tries done call trend".split()
    frame = pd.DataFrame([[getattr(one, name) for name in names] for one in standings], columns=names)
    frame["player"] = [int(one.player) - 1 for one in standings]
    frame["skill"] = [int(one.skill[1:]) for one in standings]
    frame["raw"] = frame["done"] / frame["tries"]
    frame["now"] = season.truth_now[frame["player"], frame["skill"]]
    frame["truly"] = season.truth_change[frame["player"], frame["skill"]]
    frame["raw_change"] = _raw_change(season, world)[frame["player"], frame["skill"]]
    return frame


def _raw_change(season: SimulatedSeason, world: World) -> np.ndarray:
    """Return the share done in the second half of the season minus that in the first."""
    late = season.practice >= world.practices / 2
    pair, size = season.player * world.skills + season.skill, world.players * world.skills
    shares = []
    for half in (late, ~late):
        tries = np.bincount(pair[half], minlength=size)
        shares.append(np.bincount(pair[half], season.done[half], size) / np.maximum(tries, 1))
    return (shares[0] - shares[1]).reshape(world.players, world.skills)


def _share(part: pd.Series, of: pd.Series) -> float:
    return float((part & of).sum() / max(of.sum(), 1))


def _rmse(error: pd.Series) -> float:
    return float(np.sqrt(np.mean(error**2)))


def figures(frame: pd.DataFrame, goals: tuple[str, str]) -> Iterator[tuple[str, float, str, float | None]]:
    """Give each figure with its name, its goal, and what raw percentages reach."""
    weak, work_on, raw_on = frame["now"] < TARGET, frame["call"] == "work on", _raw_work_on(frame)
    moved, raw_moved = frame["trend"] != "no clear change", frame["raw_change"].abs() >= RAW_GAP
    every = weak | ~weak
    still, (cover, gain) = frame["truly"] == 0, goals
    yield "share now: 90 % interval covers", _covers(frame, "now", "low", "high"), cover, None
    yield (
        "change: 90 % interval covers",
        _covers(frame, "truly", "change_low", "change_high"),
        cover,
        None,
    )
    ratio = _rmse(frame["share"] - frame["now"]) / _rmse(frame["raw"] - frame["now"])
    yield "share now: RMSE, against raw", ratio, gain, 1.0
    yield "wrong among work on", _share(~weak, work_on), "<= 0.10", _share(~weak, raw_on)
    yield "truly below target: found", _share(work_on, weak), "", _share(raw_on, weak)
    solid = frame["call"] == "solid"
    yield "wrong among solid", _share(weak, solid), "", None
    wrong, raw_wrong = _wrong_way(frame, moved, "change"), _wrong_way(frame, raw_moved, "raw_change")
    yield "up or down, and truly not so", _share(wrong, every), "", _share(raw_wrong, every)
    if still.any():
        yield (
            "up or down, of those who do not change",
            _share(moved, still),
            "<= 0.05",
            _share(raw_moved, still),
        )


def _raw_work_on(frame: pd.DataFrame) -> pd.Series:
    return (frame["raw"] < TARGET) & (frame["tries"] >= 10)


def _covers(frame: pd.DataFrame, truth: str, low: str, high: str) -> float:
    return float(frame[truth].between(frame[low], frame[high]).mean())


def _wrong_way(frame: pd.DataFrame, moved: pd.Series, change: str) -> pd.Series:
    return moved & (np.sign(frame[change]) != np.sign(frame["truly"]))


def judge(name: str, world: World, seeds: range, shared: bool) -> None:
    """Simulate the seasons, estimate, and print the figures."""
    players = roster(world)
    seasons = (simulate(np.random.default_rng(seed), world) for seed in seeds)
    frame = pd.concat([pairs(season, world, players, shared) for season in seasons])
    how = "strength shared between skills" if shared else "skills apart"
    print(f"\n{name}; {how}; {len(seeds)} seasons, {len(frame)} standings")
    goals = ("0.88 to 0.92", "<= 0.77" if shared else "<= 0.82") if world == World() else ("", "")
    for what, value, goal, raw in figures(frame, goals):
        beside = "" if raw is None else f"raw {raw:.3f}"
        print(f"  {what:40} {value:.3f}   {goal:14} {beside}".rstrip(), flush=True)


def main() -> None:
    """Judge every world, skills apart and with strength shared."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=40)
    parser.add_argument("--first", type=int, default=0, help="seed of the first season")
    known = parser.parse_args()
    for name, world in WORLDS.items():
        for shared in (False, True):
            judge(name, world, range(known.first, known.first + known.seasons), shared)


if __name__ == "__main__":
    main()
