"""An evening worked out: the best of all that keep the wishes, or as many of them as go together.

Wishes that cannot be met together are named: of those that are kept, all are left out without which the one
that was given up still cannot be met. Nothing of what remains can be spared.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from time import monotonic
from uuid import UUID, uuid4

from evaltrack.analysis.meetings.programme import Found, Programme
from evaltrack.analysis.meetings.rules import Grid, Place, Rule, broken, cost_of, grid_of, rules_of
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.meeting_evening import Evening, MeetingSlot, MeetingWishKind
from evaltrack.rink.meeting_times import rounds_of
from evaltrack.rink.placed_evening import PlacedEvening, UnmetMeeting

SECONDS = 10.0  # for the best evening; what was found by then is taken, and told as not proven
LEAST_GAP = 1  # costs are whole numbers: what is less is rounding
LOOK_SECONDS = 2.0  # for one look whether wishes go together


def placed(evening: Evening, families: Sequence[UUID], seconds: float = SECONDS) -> PlacedEvening:
    """Return an evening worked out; families that are locked stay where they are.

    Parameters
    ----------
    families : the players in the order of their numbers, whoever of them is not coming.

    Raises
    ------
    EvaltrackError : there is not time for all of them.
    """
    coming = coming_of(evening, families)
    if not coming:
        raise EvaltrackError(tr("no family is to come: there is no meeting to place"))
    grid = grid_of(evening, rounds_of(evening, len(coming)))
    task = _Task(evening, coming, grid)
    found, given_up, fewest = task.best(seconds)
    kept = [rule for n, rule in enumerate(task.rules) if n not in given_up]
    if faults := broken(found.where, kept, task.held, grid):
        raise ArithmeticError(f"the evening that was found breaks rules: {'; '.join(faults)}")
    unmet = [one for n in sorted(given_up) for one in task.unmet(task.rules[n], kept)]
    gap = max(cost_of(found.where, grid.tables) - found.bound, 0.0)
    slots = task.slots(found.where)
    return PlacedEvening(
        replace(evening, slots=slots), tuple(unmet), gap, fewest and gap < LEAST_GAP, task.let_go
    )


def coming_of(evening: Evening, families: Sequence[UUID]) -> list[UUID]:
    """Return the families who come to an evening, in the order given."""
    without = {w.player for w in evening.wishes if w.kind is MeetingWishKind.NOT_COMING}
    return [one for one in families if one not in without]


class _Task:
    """What is to be placed: the rules of the wishes, and who is held where."""

    def __init__(self, evening: Evening, coming: Sequence[UUID], grid: Grid):
        self._evening, self._coming, self._grid = evening, list(coming), grid
        self.rules = rules_of(evening, coming, grid)
        self.held, self.let_go = _held(evening, self._coming, grid)

    def best(self, seconds: float) -> tuple[Found, frozenset[int], bool]:
        """Return the best evening, the rules that are given up for it, and whether these are the fewest."""
        until = monotonic() + seconds
        found = self._solved(self.rules, seconds)
        given_up, fewest = frozenset(), True
        if found.where is None and self.rules:
            given_up, fewest = self._given_up(max(until - monotonic(), LOOK_SECONDS))
            kept = [rule for n, rule in enumerate(self.rules) if n not in given_up]
            found = self._solved(kept, max(until - monotonic(), LOOK_SECONDS))
        if found.where is None:
            raise EvaltrackError(
                tr("no evening was found in time; take some wishes out, and work it out again")
            )
        return found, given_up, fewest

    def _solved(self, rules: Sequence[Rule], seconds: float) -> Found:
        programme = Programme(len(self._coming), self._grid, self.held)
        for rule in rules:
            programme.keep(rule)
        programme.aim()
        return programme.solve(seconds)

    def _given_up(self, seconds: float) -> tuple[frozenset[int], bool]:
        """Return the fewest rules without which the others go together; of as many, the later ones.

        Where time is too short for the fewest, some that will do, and False.
        """
        programme = Programme(len(self._coming), self._grid, self.held)
        count = len(self.rules)
        for n, rule in enumerate(self.rules):
            programme.keep(rule, n, float(count * count + count - n))
        found = programme.solve(seconds)
        cost = sum(count * count + count - n for n in found.given_up)
        return found.given_up, found.where is not None and cost - found.bound < LEAST_GAP

    def _goes(self, rules: Sequence[Rule], held: Mapping[int, Place]) -> bool:
        programme = Programme(len(self._coming), self._grid, held)
        for rule in rules:
            programme.keep(rule)
        return not programme.solve(LOOK_SECONDS).none

    def unmet(self, rule: Rule, kept: Sequence[Rule]) -> list[UnmetMeeting]:
        """Return the wishes of a rule that is given up, with a smallest set of what stands against it."""
        against = _needed(kept, lambda some: self._goes([rule, *some], self.held))
        held = _needed(list(self.held), lambda some: self._goes([rule, *against], self._only(some)))
        wishes = tuple(wish for one in against for wish in one.wishes)
        locked = tuple(self._coming[family] for family in held)
        return [UnmetMeeting(wish, wishes, locked) for wish in rule.wishes]

    def _only(self, families: Sequence[int]) -> dict[int, Place]:
        return {family: self.held[family] for family in families}

    def slots(self, where: Sequence[Place]) -> dict[UUID, MeetingSlot]:
        """Return the meetings; the entry of a family in calendars keeps its uid."""
        found = {}
        for n, (family, place) in enumerate(zip(self._coming, where, strict=True)):
            before = self._evening.slots.get(family)
            uid = before.uid if before and before.uid else str(uuid4())
            start = self._grid.rounds[place.round]
            found[family] = MeetingSlot(start, place.table + 1, n in self.held, uid)
        return found


def _needed(parts: Sequence, goes: Callable[[Sequence], bool]) -> list:
    """Return of parts with which something does not go a set that cannot be spared any of.

    Halves are left out before quarters, and single ones last: most parts have nothing to do with it.
    """
    needed, step = list(parts), max(len(parts), 1)
    while step:
        at = 0
        while at < len(needed):
            fewer = needed[:at] + needed[at + step :]
            if goes(fewer):
                at += step
            else:
                needed = fewer
        step //= 2
    return needed


def _held(evening: Evening, coming: list[UUID], grid: Grid) -> tuple[dict[int, Place], tuple[UUID, ...]]:
    """Return where locked families are held, and those whose place the evening does not have any more."""
    held: dict[int, Place] = {}
    let_go = []
    for family, slot in evening.in_order():
        if slot.locked and family in coming:
            place = _place_of(slot, grid)
            if place is None or place in held.values():
                let_go.append(family)
            else:
                held[coming.index(family)] = place
    return held, tuple(let_go)


def _place_of(slot: MeetingSlot, grid: Grid) -> Place | None:
    if slot.start not in grid.rounds or slot.table > grid.tables:
        return None
    return Place(grid.rounds.index(slot.start), slot.table - 1)
