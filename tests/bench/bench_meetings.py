"""How long an evening of meetings takes to be worked out, and whether what is found is the best.

19 families at two tables with two pairs of brothers and sisters, ten wishes more and a break; then the same
with wishes that cannot all be met; then small evenings, each held against going through every way there is.

    python tests/bench/bench_meetings.py
"""

import sys
import time
from dataclasses import replace
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parents[1]), str(HERE.parent / "worlds")]

from hypothesis import HealthCheck, given, seed, settings
from invented_evenings import ByHand, large_evening, small_evenings, wish

from evaltrack.analysis.meetings.placing import placed
from evaltrack.analysis.meetings.rules import Place, cost_of

ALLOWED = 2.0  # seconds for the large evening
ROUNDS, SMALL = 5, 100


def timed(evening, families) -> tuple[float, object]:
    """Return the seconds of one working out, and what came of it."""
    start = time.perf_counter()
    found = placed(evening, families)
    return time.perf_counter() - start, found


def told(name: str, evening, families) -> float:
    """Print how long an evening takes, and return the longest."""
    runs = [timed(evening, families) for _ in range(ROUNDS)]
    times, found = sorted(seconds for seconds, _ in runs), runs[0][1]
    same = all(_times(one) == _times(found) for _, one in runs)
    print(
        f"{name}: median {1000 * times[ROUNDS // 2]:.0f} ms, longest {1000 * times[-1]:.0f} ms; "
        f"{len(found.unmet)} unmet, gap {found.gap:.2f}, {'proven' if found.proven else 'NOT proven'}"
        f"{'' if same else ', NOT the same each time'}"
    )
    return times[-1]


def _times(found) -> list:
    return [(one, slot.start, slot.table) for one, slot in found.evening.in_order()]


def compared() -> tuple[int, int]:
    """Return how many small evenings were gone through, and in how many a better way was found."""
    worse = []

    @seed(2026)
    @settings(max_examples=SMALL, deadline=None, database=None, suppress_health_check=list(HealthCheck))
    @given(small_evenings(4))
    def look(one):
        evening, families = one
        by_hand, found = ByHand(evening, families), placed(evening, [*ByHand(evening, families).who])
        where = [
            Place(
                by_hand.grid.rounds.index(found.evening.slots[who].start), found.evening.slots[who].table - 1
            )
            for who in by_hand.who
        ]
        unmet = {one.wish for one in found.unmet}
        kept = frozenset(n for n, rule in enumerate(by_hand.rules) if not unmet & set(rule.wishes))
        fewest, least = by_hand.best()[0], by_hand.cost(kept)
        worse.append(len(by_hand.rules) - len(kept) > fewest or cost_of(where, by_hand.grid.tables) > least)

    look()
    return len(worse), sum(worse)


def main() -> None:
    """Print the times and the comparison; exit 1 where either is not as it must be."""
    evening, families = large_evening()
    placed(evening, families[:2])  # imports and first use are not the evening's
    longest = told("19 families, 2 tables, 12 wishes", evening, families)
    clash = [
        wish("not with", 3, 12),
        wish("at", 7, evening.start),
        wish("at", 8, evening.start),
        wish("table", 8, 1),
    ]
    clash += [wish("table", 7, 1)]
    longest = max(
        longest,
        told("with wishes that clash", replace(evening, wishes=evening.wishes + tuple(clash)), families),
    )
    count, worse = compared()
    print(f"{count} small evenings against every way through them: {worse} with a better way")
    if longest > ALLOWED or worse:
        sys.exit(1)


if __name__ == "__main__":
    main()
