"""Groups of the next practice: whether they are proven the best, and how long that takes.

Run from the top folder as ``python tests/bench/bench_plan_groups.py [--teams 200] [--each 10]``. Random
teams have every kind of groups made, with wishes of which some contradict each other, limited players,
stations with contact and stations without a slot for some position:

12 to 20   so many teams at three to five stations, with up to eight wishes
20 x 5     players and stations, ten wishes
40 x 8     twenty wishes

It fails when a group breaks a rule, when groups are not proven the best, or when the slowest takes longer
than 2 s (10 s for 40 x 8). ``slowest`` and ``usual`` (the median) are seconds for the groups and for what
cannot be met.
"""

import argparse
import sys
from collections.abc import Iterator
from time import perf_counter

import at_home  # noqa: F401
import numpy as np
from invented_groups import drawn_team

from evaltrack.analysis.planning.conflicts import met_and_unmet
from evaltrack.analysis.planning.group_rules import broken_rules
from evaltrack.analysis.planning.grouping import grouped
from evaltrack.rink.plan import Grouping

LONGEST = {"12 to 20": 2.0, "20 x 5": 2.0, "40 x 8": 10.0}


def teams(kind: str, count: int) -> Iterator[tuple]:
    """Yield members, stations and wishes of random teams of one kind."""
    for seed in range(count):
        rng = np.random.default_rng([seed, len(kind)])
        if kind == "12 to 20":
            yield drawn_team(
                rng, *(int(n) for n in (rng.integers(12, 21), rng.integers(3, 6), rng.integers(9)))
            )
        else:
            yield drawn_team(rng, *((20, 5, 10) if kind == "20 x 5" else (40, 8, 20)))


def judge(kind: str, count: int) -> bool:
    """Print what became of the teams of one kind, and return whether all of it is as promised."""
    seconds, proven, unmet, sound = [], 0, 0, True
    for members, places, wishes in teams(kind, count):
        for grouping in Grouping:
            start = perf_counter()
            kept, given_up = met_and_unmet(members, places, wishes)
            found = grouped(members, places, grouping, kept)
            seconds.append(perf_counter() - start)
            proven += found.proven
            unmet += len(given_up)
            sound = sound and not broken_rules(found.station, members, places, kept)
    usual, slowest = np.median(seconds), max(seconds)
    print(f"{kind:10}{count:6}{proven:7} of {len(seconds)}{usual:9.3f}{slowest:9.3f}{unmet:7}")
    return sound and proven == len(seconds) and slowest <= LONGEST[kind]


def main() -> None:
    """Make groups of every kind of team."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--teams", type=int, default=200, help="of 12 to 20 players")
    parser.add_argument("--each", type=int, default=10, help="teams of each larger size")
    known = parser.parse_args()
    print(f"{'':10}{'teams':>6}{'proven':>14}{'usual':>9}{'slowest':>9}{'unmet':>7}")
    counts = {"12 to 20": known.teams, "20 x 5": known.each, "40 x 8": known.each}
    if not all([judge(kind, count) for kind, count in counts.items()]):
        sys.exit("groups are not as promised")


if __name__ == "__main__":
    main()
