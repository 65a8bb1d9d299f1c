"""In which line at the boards a player waits who plays both defence and forward."""

from collections import Counter
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from uuid import UUID

from evaltrack.rink.drill import Step
from evaltrack.rink.player import Player, Position

_NOBODY: Mapping[UUID, Position] = MappingProxyType({})


def lines_joined(
    step: Step, players: Iterable[Player], groups: Mapping[UUID, Position] = _NOBODY
) -> dict[UUID, Position]:
    """Return the line of each of these players, by id.

    Who plays in one group waits there. Whoever plays in two joins the shorter line when everybody else
    stands: the one in which fewer share each way into the step, so that turns come round soonest; of equal
    ones that of their first group. A line from which nobody gets into the step is the longest.

    Parameters
    ----------
    groups : the lines of those who are here already; of these players they do not count.
    """
    players = list(players)
    joined = {player.id: player.position for player in players}
    count = Counter(group for ident, group in groups.items() if ident not in joined)
    count.update(player.position for player in players if not player.also)
    ways = _ways_in(step)
    for player in (player for player in players if player.also):
        joined[player.id] = min(player.positions, key=lambda group: _share(count[group], ways[group]))
        count[joined[player.id]] += 1
    return joined


def _ways_in(step: Step) -> Counter[Position]:
    """Count the slots of each group into which nobody moves: those are filled from the line."""
    after = {slot.next for slot in step.slots}
    return Counter(slot.position for slot in step.slots if slot.key not in after)


def _share(players: int, ways: int) -> float:
    return players / ways if ways else float("inf")
