"""Names as short as a tile allows, on screen and on paper, and still different."""

from collections import Counter
from collections.abc import Iterable
from uuid import UUID

from evaltrack.rink.player import Player


def short_names(players: Iterable[Player]) -> dict[UUID, str]:
    """Return first names; where two share one, with as much of the last name as tells them apart."""
    players = list(players)
    shared = Counter(_first(player) for player in players)
    return {p.id: _first(p) if shared[_first(p)] == 1 else _with_last(p, players) for p in players}


def _first(player: Player) -> str:
    return player.name.split(" ")[0]


def _with_last(player: Player, players: list[Player]) -> str:
    first, _, last = player.name.partition(" ")
    others = [p.name.partition(" ")[2] for p in players if p is not player and _first(p) == first]
    for length in range(1, len(last)):
        if not any(other.startswith(last[:length]) for other in others):
            return f"{first} {last[:length]}."
    return player.name
