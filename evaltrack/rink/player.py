"""A player on the roster."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from uuid import UUID

from evaltrack.language import mark, tr
from evaltrack.rink.ident import new_id


class Position(StrEnum):
    """A position group."""

    DEFENCE = "D"
    FORWARD = "F"
    GOALIE = "G"

    @property
    def word(self) -> str:
        """Return what a player of this group is called: ``defender``, ``forward`` or ``goalie``."""
        return tr(_WORDS[self])

    @property
    def plural(self) -> str:
        """Return what the players of this group are called: ``defenders``."""
        return tr(_PLURALS[self])


_WORDS = {
    Position.DEFENCE: mark("defender"),
    Position.FORWARD: mark("forward"),
    Position.GOALIE: mark("goalie"),
}
_PLURALS = {
    Position.DEFENCE: mark("defenders"),
    Position.FORWARD: mark("forwards"),
    Position.GOALIE: mark("goalies"),
}
_BOTH = {Position.DEFENCE, Position.FORWARD}  # a goalie plays nothing else
BETWEEN = "/"  # two position groups of one player, as in D/F


def may_be_both(first: Position, second: Position) -> bool:
    """Say whether one player may play in both position groups: defence and forward, in either order."""
    return {first, second} == _BOTH


def first_group(positions: str) -> Position:
    """Return the group that counts of what `Player.position_text` gave: ``D`` of ``D/F``."""
    return Position(positions.partition(BETWEEN)[0])


class Status(StrEnum):
    """What a player may do: everything, no contact, not here for a while; or has left the team.

    Never a diagnosis. Who has left keeps their history, and their number may be another player's.
    """

    FULL = "full"
    LIMITED = mark("limited")
    AWAY = mark("away")
    LEFT = mark("left")


_UNTIL = " until "  # between away and a day

ON_TEAM = (Status.FULL, Status.LIMITED, Status.AWAY)


@dataclass(frozen=True, slots=True)
class Player:
    """One player: the jersey number as it is worn (so ``0`` and ``00`` differ), name, position group.

    ``also`` is the second group of one who plays both defence and forward, None for everybody else. The
    first group is the one by which a share is worked out; skills are watched and slots filled of both.
    ``birth_year`` is None when it was not given, ``away_until`` the day on which one who is away is expected
    back, None when it is not known, and for everybody who is not away. Players are equal when what a coach
    sees of them is.
    """

    number: str
    name: str
    position: Position
    birth_year: int | None = None
    status: Status = Status.FULL
    id: UUID = field(default_factory=new_id, compare=False)
    away_until: date | None = None
    also: Position | None = None

    def __post_init__(self):
        if self.also and not may_be_both(self.position, self.also):
            raise ValueError(f"nobody plays both {self.position} and {self.also}")
        if self.away_until and self.status is not Status.AWAY:
            object.__setattr__(self, "away_until", None)  # whoever leaves or is back is expected no more

    @property
    def positions(self) -> tuple[Position, ...]:
        """Return the position groups, the one that counts first."""
        return (self.position, self.also) if self.also else (self.position,)

    @property
    def position_text(self) -> str:
        """Return the position as a roster.csv has it: ``D``, or ``D/F`` of a defender and forward."""
        return BETWEEN.join(self.positions)

    @property
    def position_words(self) -> str:
        """Return what the player is called: ``defender``, ``defender and forward``."""
        if self.also is None:
            return self.position.word
        return tr("{others} and {last}", others=self.position.word, last=self.also.word)

    def is_away(self, on: date | None = None) -> bool:
        """Say whether a player is away on a day, today if not said: before the day of coming back."""
        day = on or date.today()
        return self.status is Status.AWAY and (self.away_until is None or day < self.away_until)

    @property
    def status_text(self) -> str:
        """Return the status as a roster.csv has it: ``limited``, ``away until 2026-01-20``."""
        return f"{self.status}{_UNTIL}{self.away_until}" if self.away_until else str(self.status)


def by_number(player: Player) -> tuple[int, int]:
    """Sort key: 0, 00, 2, 10. Lists of players go by number, never by score."""
    return int(player.number), len(player.number)


def status_in(text: str) -> tuple[Status, date | None]:
    """Return the status that `Player.status_text` gave, and until when; ValueError for any other text."""
    word, _, day = text.partition(_UNTIL)
    if day and word != Status.AWAY:
        raise ValueError(text)
    return Status(word), date.fromisoformat(day) if day else None


def likely_present(players: Iterable[Player], on: date | None = None) -> list[Player]:
    """Return who is not away on a day, today if not said, and has not left: a first guess at who is here."""
    return [p for p in players if p.status is not Status.LEFT and not p.is_away(on)]
