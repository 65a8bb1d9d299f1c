"""Each rule of the estimates by itself, before and after, on the same simulated seasons.

Run from the top folder as ``python tests/bench/bench_rules.py [--seasons 40] [--first 0] [--only WORDS]``;
``--only`` takes the rules whose names have these words in them. 40 seasons of all take about five minutes
of one core.

``after`` is what the house does. For ``before`` exactly one small function or constant of it is replaced by
what it was (``rules_before.py``); the line under each rule says which. Rule 1 has two such parts, and a
column for each alone. Each column is judged against the
share and the change that it names itself, except in the lines that say ``told - true``: these hold both
against what is true for the player under the kinds of try of their own group, over their own days.
"""

import argparse
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass

import at_home  # noqa: F401
import numpy as np
import pandas as pd
import rules_before
from bench_estimates import CLEAR, TARGET, covers, pairs, part_of, rmse, with_truth
from known_worlds import DESIGNED, HARD
from season_truth import NAMED, Estimand
from simulated_season import World, roster, simulate

Before = Callable[[], AbstractContextManager]
SMALL = World(players=8, skills=2, practices=8, tries=8)
LATE = next(world for world in HARD.values() if world.joiners)
DEFENDERS = next(world for world in HARD.values() if world.forwards_step)


def _moved(frame: pd.DataFrame) -> pd.Series:
    return frame["trend"] != "no clear change"


def _found_trend(frame: pd.DataFrame) -> float:
    right = frame["trend"] == np.where(frame["truly"] > 0, "up", "down")
    return part_of(right, frame["truly"].abs() >= CLEAR)


def _error(frame: pd.DataFrame, of: pd.Series | None = None, what: str = "share", true: str = "now") -> float:
    error = 100 * (frame[what] - frame[true])
    return float((error if of is None else error[of]).mean())


FIGURES: dict[str, Callable[[pd.DataFrame], float]] = {
    "truly below target: found": lambda f: part_of(f["call"] == "work on", f["now"] < TARGET),
    "wrong among work on": lambda f: part_of(f["now"] >= TARGET, f["call"] == "work on"),
    "truly at target: found": lambda f: part_of(f["call"] == "solid", f["now"] >= TARGET),
    "wrong among solid": lambda f: part_of(f["now"] < TARGET, f["call"] == "solid"),
    "truly changed by 15 points: found": _found_trend,
    "up or down, of those who do not change": lambda f: part_of(_moved(f), f["truly"] == 0),
    "share: 90 % interval covers": lambda f: covers(f, "now", "low", "high"),
    "share: RMSE, in points": lambda f: 100 * rmse(f["share"] - f["now"]),
    "share: mean error, in points": _error,
    "share of defenders: told - true, in points": lambda f: _error(f, f["defender"], true="own_now"),
    "share of forwards: told - true, in points": lambda f: _error(f, ~f["defender"], true="own_now"),
    "change: 90 % interval covers": lambda f: covers(f, "truly", "change_low", "change_high"),
    "change, joined late: told - true": lambda f: _error(f, f["joined"], "change", "own_truly"),
    "change, now away: told - true": lambda f: _error(f, f["away"], "change", "own_truly"),
    "change of these: told - true, RMSE": lambda f: 100 * rmse(
        (f["change"] - f["own_truly"])[f["joined"] | f["away"]]
    ),
    "share, now away: told - true": lambda f: _error(f, f["away"], true="own_now"),
}  # fmt: skip
CALLS = tuple(FIGURES)[:4]
SHARES = ("share: 90 % interval covers", "share: RMSE, in points", "share: mean error, in points")


@dataclass(frozen=True)
class Rule:
    """A rule: how it was, what the standings named then, where it matters, and what to look at."""

    before: dict[str, Before]
    named: Estimand
    worlds: dict[str, World]
    figures: tuple[str, ...]


RULES = {
    "1. calls from 10 tries at 3 practices, 7 % expected wrong": Rule(
        {
            "before": rules_before.calls_from_20_at_8,
            "from 20": rules_before.calls_from_20_tries,
            "8 %": rules_before.calls_at_8_percent,
        },
        NAMED,
        {"12 tries": World(tries=12), "20 tries": World()},
        CALLS,
    ),
    "2. trend words from .925": Rule(
        {"before": rules_before.trends_from_95},
        NAMED,
        {f"{tries} tries, half still": World(tries=tries, still=0.5) for tries in (20, 40, 80)}
        | {f"{tries} tries": World(tries=tries) for tries in (20, 40, 80)}
        | {"nobody changes": DESIGNED["nobody changes"]},
        ("truly changed by 15 points: found", "up or down, of those who do not change"),
    ),
    "3. as this season's observers see it": Rule(
        {"before": rules_before.average_observer},
        Estimand(own_observers=False),
        {"one observer": World(observers=1), "one strict of two, by .6": World(strict=0.6)},
        (*CALLS, *SHARES),
    ),
    "4. the mix of kinds of the player's group": Rule(
        {"before": rules_before.one_mix_for_all},
        Estimand(group_mix=False),
        {"a hard step for forwards only": DEFENDERS},
        (*CALLS, *SHARES, *(name for name in FIGURES if name.startswith("share of "))),
    ),
    "5. change over the player's own time": Rule(
        {"before": rules_before.the_skills_time},
        Estimand(own_days=False),
        {"4 of 18 join late, 4 are away": LATE},
        ("change: 90 % interval covers", "share: 90 % interval covers", *tuple(FIGURES)[-4:]),
    ),
    "6. the mean of the coefficients, not their mode": Rule(
        {"before": rules_before.the_mode},
        NAMED,
        {"8 players, 2 skills, 8 tries": SMALL, "20 tries": World()},
        SHARES,
    ),
}


def frame_of(world: World, seed: int, named: Estimand) -> pd.DataFrame:
    """Return what is said of one season, beside what is named, and what is true over a player's own days."""
    season = simulate(np.random.default_rng(seed), world)
    said = pairs(season, world, roster(world), True, named)
    true = with_truth(said, season)
    return said.assign(
        own_now=true["now"],
        own_truly=true["truly"],
        defender=season.defender[said["player"]],
        joined=said["player"] < world.joiners,
        away=said["player"].between(world.joiners, world.joiners + world.absent - 1),
    )


def judge(rule: Rule, name: str, world: World, seeds: range) -> None:
    """Print the rule's figures in one world, before and after."""
    ways = {way: (before, rule.named) for way, before in rule.before.items()}
    ways["after"] = (nullcontext, NAMED)
    columns = {}
    for way, (before, named) in ways.items():
        with before():
            frame = pd.concat([frame_of(world, seed, named) for seed in seeds], ignore_index=True)
        columns[way] = {figure: FIGURES[figure](frame) for figure in rule.figures}
    print(f"  {name + f'; {len(seeds)} seasons':46}" + "".join(f"{way:>9}" for way in ways))
    for figure in rule.figures:
        values = [column[figure] for column in columns.values()]
        if not np.isnan(values).all():
            print(f"    {figure:44}" + "".join(f"{value:9.3f}" for value in values), flush=True)


def main() -> None:
    """Judge every rule that is asked for."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=40)
    parser.add_argument("--first", type=int, default=0, help="seed of the first season")
    parser.add_argument("--only", default="", help="words in the names of the rules")
    known = parser.parse_args()
    seeds = range(known.first, known.first + known.seasons)
    for says, rule in RULES.items():
        if known.only in says:
            print(f"\n{says}")
            for way, before in rule.before.items():
                print(f"  {way}: {before.__doc__}")
            for name, world in rule.worlds.items():
                judge(rule, name, world, seeds)


if __name__ == "__main__":
    main()
