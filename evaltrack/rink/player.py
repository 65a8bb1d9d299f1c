"""A player on the roster."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from uuid import UUID

from evaltrack.rink.ident import new_id


class Position(StrEnum):
    """A position group."""

    DEFENCE = "D"
    FORWARD = "F"
    GOALIE = "G"

    @property
    def word(self) -> str:
        """Return what a player of this group is called: ``defender``, ``forward`` or ``goalie``."""
        return _WORDS[self]


_WORDS = {Position.DEFENCE: "defender", Position.FORWARD: "forward", Position.GOALIE: "goalie"}


class Status(StrEnum):
    """What a player may do: everything, no contact, not here for a while; or has left the team.

    Never a diagnosis. Who has left keeps their history, and their number may be another player's.
    """

    FULL = "full"
    LIMITED = "limited"
    AWAY = "away"
    LEFT = "left"


ON_TEAM = (Status.FULL, Status.LIMITED, Status.AWAY)


@dataclass(frozen=True, slots=True)
class Player:
    """One player: the jersey number as it is worn (so ``0`` and ``00`` differ), name, position group.

    ``birth_year`` is None when it was not given. Players are equal when what a coach sees of them is.
    """

    number: str
    name: str
    position: Position
    birth_year: int | None = None
    status: Status = Status.FULL
    id: UUID = field(default_factory=new_id, compare=False)


def by_number(player: Player) -> tuple[int, int]:
    """Sort key: 0, 00, 2, 10. Lists of players go by number, never by score."""
    return int(player.number), len(player.number)


def likely_present(players: Iterable[Player]) -> list[Player]:
    """Return the players who are not away and have not left, as a first guess at who is here."""
    return [player for player in players if player.status in (Status.FULL, Status.LIMITED)]
