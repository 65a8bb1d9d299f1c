"""How often what is said of the whole team is true, on simulated seasons whose truth is known.

Run from the top folder as ``python tests/bench/bench_team.py [--seasons 40] [--only WORDS]``. Season number s
of every world is drawn with seed s. The truth is worked out from the law (``tests/worlds/team_truth.py``).
The columns: how often the 90 % interval holds the team's share on the first, middle and last day and its
change; how wide the interval of the last day is, in points; how often a direction is said, and how often a
wrong one; how often the interval of the number of players at the target, of those who can be judged, holds
it, at the start and at the end; and how often those of what a step and what pressure costs do.
"""

import argparse
from collections.abc import Callable, Iterator
from datetime import date
from functools import cache

import at_home  # noqa: F401
import numpy as np
import pandas as pd
from season_world import DEFAULT, World
from simulated_season import SimulatedSeason, cells, roster, simulate
from team_truth import at_target, pressure_cost, step_costs, team_shares

from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.standing import Cause, PathPoint
from evaltrack.analysis.standings.standings import positions_of
from evaltrack.analysis.team.course import TeamCourse
from evaltrack.analysis.team.courses import team_courses

TARGET = 0.6
WORLDS = {
    "as designed, 20 tries": DEFAULT,
    "10 tries": World(tries=10),
    "40 tries, 3 observers": World(tries=40, observers=3),
    "nobody changes": World(sd_slope=0, team_slope=0),
    "4 join after a third, 4 are away at the end": World(joiners=4, absent=4),
    "10 players, 3 skills, 8 practices": World(players=10, skills=3, practices=8),
    "6 defenders, and a step of the forwards'": World(defenders=6, forwards_step=-0.5),
}
COLUMNS = ("first", "middle", "last", "change", "width", "said", "wrong", "then", "now", "steps", "pressure")


def judged(season: SimulatedSeason, world: World) -> Iterator[dict[str, float]]:
    """Give a row for each skill of a season: whether each interval holds what is true."""
    people = roster(world)
    frame = cells(season, people)
    fits = fit_season(frame, positions_of(people))
    targets = {f"s{n}": (TARGET,) for n in range(world.skills)}
    then, now = at_target(season, TARGET)
    true = cache(lambda day: team_shares(season, season.days.index(day)))
    for one in team_courses(frame, fits, people, targets):
        number, (reached,) = int(one.skill[1:]), one.reached
        row = _of_path(one, lambda day, number=number: float(true(day)[number]))
        row["then"] = reached.then_low <= then[number] <= reached.then_high
        row["now"] = reached.now_low <= now[number] <= reached.now_high
        yield row | _of_costs(one, step_costs(season, number), pressure_cost(season, number))


def _of_costs(one: TeamCourse, steps: dict[int, float], pressure: float) -> dict[str, float]:
    held: dict[Cause, list[bool]] = {Cause.STEP: [], Cause.PRESSURE: []}
    for cost in one.compared:
        true = steps[int(cost.named.rsplit(" ", 1)[1])] if cost.cause is Cause.STEP else pressure
        held[cost.cause].append(cost.low <= true <= cost.high)
    names = (("steps", Cause.STEP), ("pressure", Cause.PRESSURE))
    return {name: np.mean(held[cause]) if held[cause] else np.nan for name, cause in names}


def _of_path(one: TeamCourse, true_on: Callable[[date], float]) -> dict[str, float]:
    points = {"first": one.path[0], "middle": one.path[len(one.path) // 2], "last": one.path[-1]}
    true = {name: true_on(point.on) for name, point in points.items()}
    change, said = true["last"] - true["first"], one.trend != "no clear change"
    row = {name: _holds(point, true[name]) for name, point in points.items()}
    row["change"] = one.change_low <= change <= one.change_high
    row["width"] = 100 * (points["last"].high - points["last"].low)
    row["said"] = said
    row["wrong"] = said and one.trend != ("up" if change > 0 else "down" if change < 0 else "")
    return row


def _holds(point: PathPoint, true: float) -> bool:
    return point.low <= true <= point.high


def main() -> None:
    """Judge every world and print a line for each."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seasons", type=int, default=40)
    parser.add_argument("--only", default="", help="words in the names of the worlds")
    known = parser.parse_args()
    print(f"{'':46}" + "".join(f"{name:>10}" for name in COLUMNS))
    for name, world in WORLDS.items():
        if known.only in name:
            seasons = (simulate(np.random.default_rng(seed), world) for seed in range(known.seasons))
            rows = pd.DataFrame([row for season in seasons for row in judged(season, world)], dtype=float)
            print(f"{name:46}" + "".join(f"{rows[column].mean():10.3f}" for column in COLUMNS), flush=True)


if __name__ == "__main__":
    main()
