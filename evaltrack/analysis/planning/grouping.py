"""Groups by an exact mixed-integer programme: the cheapest of all that keep the rules, or the gap.

One variable says of each member and station whether the one is at the other. Sizes, contact and wishes are
kept; positions and levels that are not spread evenly cost what ``group_rules`` says.
"""

from collections.abc import Iterable, Sequence
from time import monotonic

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from evaltrack.analysis.planning.group_rules import (
    Grouped,
    Member,
    Place,
    bounds,
    broken_rules,
    cost_of,
    single_costs,
    sizes,
    spread_rules,
)
from evaltrack.rink.plan import Grouping, Wish, WishKind

Array = np.ndarray
PROVEN = 1e-6  # of the cost: a smaller gap is rounding
INFEASIBLE = 2  # the status of scipy's milp
LEAST_SECONDS = 0.5


class Programme:
    """The rows and costs of a mixed-integer programme over who is where."""

    def __init__(self, members: Sequence[Member], places: Sequence[Place], contact: bool = True):
        self.members, self.places = members, places
        self.number = {one.number: at for at, one in enumerate(members)}
        shape = (len(members), len(places))
        self.costs = [0.0] * (shape[0] * shape[1])
        self.most = [1.0] * len(self.costs)
        self._rows: list[tuple[dict[int, float], float, float]] = []
        for at in range(shape[0]):
            self._rows.append(({self.at(at, s): 1.0 for s in range(shape[1])}, 1, 1))
        for s, (fewest, most) in enumerate(bounds(members, shape[1])):
            self._rows.append(({self.at(at, s): 1.0 for at in range(shape[0])}, fewest, most))
        self._hold()
        if contact:
            self.keep_from_contact(one.number for one in members)

    def at(self, member: int, station: int) -> int:
        """Return the variable of a member at a station."""
        return member * len(self.places) + station

    def _hold(self) -> None:
        for at, one in enumerate(self.members):
            for s in range(len(self.places)):
                if one.held not in (None, s):
                    self.most[self.at(at, s)] = 0.0

    def keep_from_contact(self, numbers: Iterable[str]) -> None:
        """Keep those of these players who are limited from stations with contact."""
        for number in numbers:
            at = self.number[number]
            for s, place in enumerate(self.places):
                if self.members[at].limited and place.contact:
                    self.most[self.at(at, s)] = 0.0

    def wish(self, wish: Wish, cost: float | None = None) -> int | None:
        """Keep a wish; with a cost it may be broken for that, and the variable that says so is returned."""
        slack = None if cost is None else self._another(cost)
        own, other = self.number[wish.player], self.number[wish.other]
        free = {} if slack is None else {slack: -1.0}
        for s in range(len(self.places)):
            one, two = self.at(own, s), self.at(other, s)
            if wish.kind is WishKind.TOGETHER:
                self._rows.append(({one: 1.0, two: -1.0} | free, -np.inf, 0))
                self._rows.append(({two: 1.0, one: -1.0} | free, -np.inf, 0))
            else:
                self._rows.append(({one: 1.0, two: 1.0} | free, -np.inf, 1))
        return slack

    def aim(self, grouping: Grouping) -> None:
        """Set the costs of the kind of groups that is asked for."""
        for at, row in enumerate(single_costs(self.members, self.places, grouping)):
            for s, cost in enumerate(row):
                self.costs[self.at(at, s)] = cost
        for who, over, each in spread_rules(self.members, self.places, grouping):
            fewest, most = sizes(len(who), len(over))
            for s in over:
                slack, held = self._another(each, np.inf), {self.at(at, s): 1.0 for at in who}
                self._rows.append((held | {slack: 1.0}, fewest, np.inf))
                self._rows.append((held | {slack: -1.0}, -np.inf, most))

    def _another(self, cost: float, most: float = 1.0) -> int:
        self.costs.append(cost)
        self.most.append(most)
        return len(self.costs) - 1

    def solve(self, seconds: float):
        """Return what scipy's milp finds within so many seconds."""
        whole = np.zeros(len(self.costs))
        whole[: len(self.members) * len(self.places)] = 1
        entries = [
            (row, column, value)
            for row, (held, *_) in enumerate(self._rows)
            for column, value in held.items()
        ]
        rows, columns, values = (np.array(part) for part in zip(*entries, strict=True))
        matrix = csr_array((values, (rows, columns)), shape=(len(self._rows), len(self.costs)))
        low, high = (np.array([row[at] for row in self._rows], float) for at in (1, 2))
        return milp(
            np.array(self.costs),
            integrality=whole,
            bounds=Bounds(0, np.array(self.most)),
            constraints=LinearConstraint(matrix, low, high),
            options={"time_limit": max(seconds, LEAST_SECONDS), "mip_rel_gap": 0.0},
        )

    def stations(self, found) -> tuple[int, ...]:
        """Return which station each member has in what was found."""
        shape = (len(self.members), len(self.places))
        return tuple(found.x[: shape[0] * shape[1]].reshape(shape).argmax(1).tolist())


def grouped(
    members: Sequence[Member],
    places: Sequence[Place],
    grouping: Grouping,
    wishes: Sequence[Wish] = (),
    contact: bool = True,
    seconds: float = 10.0,
) -> Grouped | None:
    """Return the cheapest groups that keep every rule; None where no groups keep them.

    Parameters
    ----------
    members, places : who is put where.
    wishes : together or apart; all of them are kept.
    contact : whether limited players are kept from stations with contact.
    seconds : after how long the best groups so far are taken. ``proven`` then says whether they are the best.
    """
    until = monotonic() + seconds
    programme = Programme(members, places, contact)
    for wish in wishes:
        programme.wish(wish)
    programme.aim(grouping)
    found = programme.solve(seconds)
    if found.status == INFEASIBLE:
        return None
    if found.x is None:  # nothing yet at the limit: any groups that keep the rules
        return _any_groups(members, places, grouping, wishes, contact, until)
    bound = found.fun if found.mip_dual_bound is None else found.mip_dual_bound
    return _checked(programme, found, grouping, wishes, contact, bound)


def _any_groups(members, places, grouping, wishes, contact, until: float) -> Grouped | None:
    programme = Programme(members, places, contact)
    for wish in wishes:
        programme.wish(wish)
    found = programme.solve(max(60.0, until - monotonic()))
    return None if found.x is None else _checked(programme, found, grouping, wishes, contact, 0.0)


def _checked(programme: Programme, found, grouping, wishes, contact: bool, bound: float) -> Grouped:
    """Return what was found, with every rule and the cost counted again in plain Python.

    Raises
    ------
    ArithmeticError : the solver called groups feasible that are not.
    """
    members, places = programme.members, programme.places
    stations = programme.stations(found)
    bound_places = places if contact else [Place(False, place.takes) for place in places]
    if broken := broken_rules(stations, members, bound_places, wishes):
        raise ArithmeticError(f"the groups that were found break rules: {'; '.join(broken)}")
    cost = cost_of(stations, members, places, grouping)
    gap = max(cost - bound, 0.0)
    return Grouped(stations, cost, gap, gap <= PROVEN * max(1.0, abs(cost)))
