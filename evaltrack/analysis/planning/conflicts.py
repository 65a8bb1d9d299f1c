"""Wishes that cannot all be met: as few as possible are given up, each told with what stands against it.

A deletion filter finds what stands against a wish: of the wishes that are kept, each is left out in turn,
and left out for good where the wish still cannot be met. Nothing of what remains can be spared.
"""

from collections.abc import Sequence

from evaltrack.analysis.planning.group_rules import Member, Place, in_force
from evaltrack.analysis.planning.grouping import INFEASIBLE, Programme
from evaltrack.rink.plan import Unmet, Wish

SECONDS = 2.0  # for one look whether wishes go together; what is not answered by then is taken to go
GIVEN_UP = 1.0


def met_and_unmet(
    members: Sequence[Member],
    places: Sequence[Place],
    wishes: Sequence[Wish],
    before: Sequence[frozenset[str]] = (),
    contact: bool = True,
) -> tuple[list[Wish], list[Unmet]]:
    """Return the wishes to be kept, as together or apart, and those that are given up.

    Wishes about somebody who is not here, and those that ask nothing now, are neither.

    Parameters
    ----------
    before : the groups of the last practice.
    contact : whether limited players are kept from stations with contact, which no wish changes.
    """
    here = {one.number for one in members}
    asked = [w for w in wishes if {w.player, w.other} <= here and w.player != w.other]
    active = [(wish, now) for wish in asked if (now := in_force(wish, before))]
    looks = _Looks(members, places, contact)
    broken = looks.broken([now for _, now in active])
    kept = [pair for at, pair in enumerate(active) if at not in broken]
    unmet = [_unmet(looks, active[at], kept) for at in sorted(broken)]
    return [now for _, now in kept], unmet


class _Looks:
    """Answers whether wishes go together."""

    def __init__(self, members: Sequence[Member], places: Sequence[Place], contact: bool):
        self.members, self.places = members, places
        reached = contact and any(place.contact for place in places)
        self.limited = [one.number for one in members if one.limited and reached]

    def go(self, wishes: Sequence[Wish], limited: Sequence[str]) -> bool:
        programme = self._programme(limited)
        for wish in wishes:
            programme.wish(wish)
        return programme.solve(SECONDS).status != INFEASIBLE

    def broken(self, wishes: Sequence[Wish]) -> set[int]:
        """Return which wishes are given up so that the others go together: as few as can be."""
        if not wishes or self.go(wishes, self.limited):
            return set()
        programme = self._programme(self.limited)
        slack = [programme.wish(wish, GIVEN_UP) for wish in wishes]
        found = programme.solve(SECONDS * 2)
        if found.x is None:
            return self._broken_in_turn(wishes)
        return {at for at, column in enumerate(slack) if found.x[column] > 0.5}

    def _broken_in_turn(self, wishes: Sequence[Wish]) -> set[int]:
        kept: list[Wish] = []
        given_up = set()
        for at, wish in enumerate(wishes):
            if self.go([*kept, wish], self.limited):
                kept.append(wish)
            else:
                given_up.add(at)
        return given_up

    def _programme(self, limited: Sequence[str]) -> Programme:
        programme = Programme(self.members, self.places, contact=False)
        programme.keep_from_contact(limited)
        return programme


def _unmet(looks: _Looks, pair: tuple[Wish, Wish], kept: Sequence[tuple[Wish, Wish]]) -> Unmet:
    """Return a wish that is given up with a smallest set of what it cannot be met together with."""
    wish, now = pair
    against, limited = list(kept), list(looks.limited)
    for one in kept:
        fewer = [other for other in against if other is not one]
        if not looks.go([now, *(other for _, other in fewer)], limited):
            against = fewer
    for number in looks.limited:
        fewer_limited = [other for other in limited if other != number]
        if not looks.go([now, *(other for _, other in against)], fewer_limited):
            limited = fewer_limited
    return Unmet(wish, tuple(asked for asked, _ in against), tuple(limited))
