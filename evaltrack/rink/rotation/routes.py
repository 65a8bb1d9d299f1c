"""The route through a step: from the queue into a slot, from slot to slot, and out."""

from dataclasses import dataclass
from functools import lru_cache

from evaltrack.rink.drill import Slot, Step


@dataclass(frozen=True, slots=True)
class Routes:
    """Where the slots of a step lead, by slot key, as far as they are open.

    ``onward`` has the slot to which a player moves for the next rep, or None for out. ``reps_left`` counts
    the reps until the player is out, the present one among them; ``slots_before`` the slots that were passed
    by then on the whole route. Slots that lead round in a circle never lead out: they count as one more than
    the step has slots.
    """

    slots: dict[str, Slot]
    onward: dict[str, str | None]
    reps_left: dict[str, int]
    slots_before: dict[str, int]

    def soonest_out(self, key: str) -> tuple[int, int, int]:
        """Sort key: the slot whose player is out first, of several the one with most slots before it."""
        return self.reps_left[key], -self.slots_before[key], list(self.slots).index(key)

    def first_in(self, key: str) -> tuple[int, int]:
        """Sort key: the slots at the beginning of a route first, in the order of the step."""
        return self.slots_before[key], list(self.slots).index(key)


@lru_cache(maxsize=64)
def routes(step: Step, closed: frozenset[str] = frozenset()) -> Routes:
    """Return the routes through a step. A closed slot is passed over: who would go there goes one further."""
    every = {slot.key: slot for slot in step.slots}
    slots = {key: slot for key, slot in every.items() if key not in closed}
    onward = {key: _onward(every, closed, key) for key in slots}
    before = {after: key for key, after in onward.items() if after}
    return Routes(
        slots,
        onward,
        {key: 1 + _count(onward, key) for key in slots},
        {key: _count(before, key) for key in slots},
    )


def _onward(every: dict[str, Slot], closed: frozenset[str], key: str) -> str | None:
    for _ in every:
        key = every[key].next
        if key not in every:
            return None
        if key not in closed:
            return key
    return None


def _count(following: dict[str, str | None], key: str) -> int:
    """Count how many slots follow; no more than there are, which is a circle."""
    count = 0
    while (key := following.get(key)) and count < len(following):
        count += 1
    return count
