"""Names as short as a tile allows, on screen and on paper, and still different."""

from collections import Counter
from collections.abc import Callable, Iterable
from uuid import UUID

from evaltrack.rink.player import Player

_JOINTS = "-‐’'"  # of the parts of a double first name


def short_names(players: Iterable[Player]) -> dict[UUID, str]:
    """Return first names; where two share one, with as much of the last name as tells them apart."""
    players = list(players)
    shared = Counter(_first(player) for player in players)
    return {p.id: _first(p) if shared[_first(p)] == 1 else _with_last(p, players) for p in players}


def shorter_names(short: dict[UUID, str]) -> dict[UUID, str]:
    """Return the first part of the double names among short ones: ``Anna`` of ``Anna-Lena``, as ``Anna B.``.

    None that could be taken for another player's name, short or shorter.
    """
    halves = {ident: _half(name) for ident, name in short.items() if _half(name) != name}
    taken = Counter([*short.values(), *halves.values()])
    return {ident: half for ident, half in halves.items() if taken[half] == 1}


def name_within(forms: Iterable[str], fits: Callable[[str], bool]) -> str:
    """Return the first form of a name that fits; empty where none does, and the number stands alone."""
    return next((form for form in forms if form and fits(form)), "")


def _half(name: str) -> str:
    first, blank, initial = name.partition(" ")
    half = min((first.split(joint)[0] for joint in _JOINTS), key=len)
    return f"{half}{blank}{initial}" if len(half) > 1 else name


def _first(player: Player) -> str:
    return player.name.split(" ")[0]


def _with_last(player: Player, players: list[Player]) -> str:
    first, _, last = player.name.partition(" ")
    others = [p.name.partition(" ")[2] for p in players if p is not player and _first(p) == first]
    for length in range(1, len(last)):
        if not any(other.startswith(last[:length]) for other in others):
            return f"{first} {last[:length]}."
    return player.name
