"""The mixed-integer programme of an evening: a variable says of a family and a place if it is there."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from evaltrack.analysis.meetings.rules import Grid, Place, Rule, cost_at
from evaltrack.rink.meeting_evening import MeetingWishKind

INFEASIBLE = 2  # the status of scipy's milp
LEAST_SECONDS = 0.5


class Found(NamedTuple):
    """What a solver found: where each family is, and which of the rules that may be broken are.

    ``where`` is None without an answer; ``none`` says that there is none. None costs less than ``bound``.
    """

    where: tuple[Place, ...] | None
    given_up: frozenset[int]
    none: bool
    bound: float


class Programme:
    """Rows and costs; rules are added one by one, and may be given up at a cost."""

    def __init__(self, families: int, grid: Grid, held: Mapping[int, Place]):
        self._grid, self._families, self._places = grid, families, grid.places
        self._index = {place: n for n, place in enumerate(self._places)}
        self._costs = [0.0] * (families * len(self._places))
        self._most = [1.0] * len(self._costs)
        self._rows: list[tuple[dict[int, float], float, float]] = []
        self._slacks: dict[int, int] = {}  # the variable that says that a rule is given up, and its index
        for family in range(families):
            self._row({self._at(family, place): 1.0 for place in self._places}, 1, 1)
        for place in self._places:
            self._row({self._at(family, place): 1.0 for family in range(families)}, 0, 1)
        for family, own in held.items():
            self._keep_out(family, [place for place in self._places if place != own])

    def _at(self, family: int, place: Place) -> int:
        return family * len(self._places) + self._index[place]

    def _row(self, held: dict[int, float], low: float, high: float) -> None:
        self._rows.append((held, low, high))

    def _keep_out(self, family: int, places: Sequence[Place]) -> None:
        for place in places:
            self._most[self._at(family, place)] = 0.0

    def aim(self) -> None:
        """Set the costs of an evening that ends early and goes in the order of numbers."""
        for family in range(self._families):
            for place in self._places:
                self._costs[self._at(family, place)] = float(cost_at(family, place, self._grid.tables))

    def keep(self, rule: Rule, index: int = -1, cost: float | None = None) -> None:
        """Keep a rule; with a cost it may be given up for that, and is known by its index."""
        slack: dict[int, float] = {}
        if cost is not None:
            slack = {self._another(cost): -1.0}
            self._slacks |= dict.fromkeys(slack, index)
        if rule.kind is MeetingWishKind.SIBLING:
            self._next_to(rule, slack)
        elif rule.kind is MeetingWishKind.NOT_WITH:
            for r in range(len(self._grid.rounds)):
                both = [self._at(f, Place(r, t)) for f in rule.families for t in range(self._grid.tables)]
                self._row(dict.fromkeys(both, 1.0) | slack, -np.inf, 1)
        else:
            (family,) = rule.families
            barred = [self._at(family, place) for place in self._places if place not in rule.allowed]
            self._row(dict.fromkeys(barred, 1.0) | slack, -np.inf, 0)

    def _next_to(self, rule: Rule, slack: dict[int, float]) -> None:
        """Have a family's players in one run of places: each is only where the run that is chosen is."""
        runs = {self._another(0.0): run for run in self._grid.runs(len(rule.families))}
        self._row(dict.fromkeys(runs, 1.0), 0, 1)
        for place in self._places:
            over = {variable: -1.0 for variable, run in runs.items() if place in run}
            for family in rule.families:
                self._row({self._at(family, place): 1.0} | over | slack, -np.inf, 0)

    def _another(self, cost: float) -> int:
        self._costs.append(cost)
        self._most.append(1.0)
        return len(self._costs) - 1

    def solve(self, seconds: float) -> Found:
        """Return what is found within so many seconds."""
        entries = [
            (row, column, value)
            for row, (held, *_) in enumerate(self._rows)
            for column, value in held.items()
        ]
        rows, columns, values = (np.array(part) for part in zip(*entries, strict=True))
        matrix = csr_array((values, (rows, columns)), shape=(len(self._rows), len(self._costs)))
        low, high = (np.array([row[at] for row in self._rows], float) for at in (1, 2))
        found = milp(
            np.array(self._costs),
            integrality=np.ones(len(self._costs)),
            bounds=Bounds(0, np.array(self._most)),
            constraints=LinearConstraint(matrix, low, high),
            options={"time_limit": max(seconds, LEAST_SECONDS), "mip_rel_gap": 0.0},
        )
        return self._read(found)

    def _read(self, found) -> Found:
        if found.x is None:
            return Found(None, frozenset(), found.status == INFEASIBLE, -np.inf)
        shape = (self._families, len(self._places))
        chosen = found.x[: shape[0] * shape[1]].reshape(shape).argmax(1)
        given_up = frozenset(index for column, index in self._slacks.items() if found.x[column] > 0.5)
        bound = found.fun if found.mip_dual_bound is None else found.mip_dual_bound
        return Found(tuple(self._places[n] for n in chosen), given_up, False, float(bound))
