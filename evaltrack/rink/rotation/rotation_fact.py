"""What happens to a rotation, as facts that are kept."""

from dataclasses import dataclass, field
from enum import StrEnum
from uuid import UUID

from evaltrack.rink.ident import now_ms
from evaltrack.rink.player import Position


class Change(StrEnum):
    """What happened to a rotation."""

    FIRST = "first"  # lined up again: a rep begins
    NEXT = "next"  # a rep begins
    STEP = "step"  # a rep of another step begins, after one that was played
    SKIP = "skip"  # a rep of another step begins, in the place of one that was not played
    ARRIVE = "arrive"
    LEAVE = "leave"
    SWAP = "swap"
    EMPTY = "empty"
    BACK = "back"  # the last change was a mistake

    @property
    def begins_rep(self) -> bool:
        """Say whether a rep begins with this change."""
        return self in (Change.FIRST, Change.NEXT, Change.STEP, Change.SKIP)

    @property
    def needs(self) -> tuple[str, ...]:
        """Return what else a fact must say, to be played again."""
        return _NEEDS.get(self, ())


_NEEDS = {
    Change.ARRIVE: ("player", "group"),
    Change.LEAVE: ("player",),
    Change.SWAP: ("slot", "player"),
    Change.EMPTY: ("slot",),
}


@dataclass(frozen=True, slots=True)
class RotationFact:
    """One change of a rotation, with all that is needed to play it again.

    ``rep`` is the rep that begins with the change, or the one that runs when it is made. ``slot`` and
    ``player`` say which was corrected; ``group`` is where a player who arrives lines up. ``start`` has
    everyone who lined up, in order, with their group, when the rotation is started. ``nth`` is the number
    that the season file gave it, 0 for one that is not kept yet.
    """

    practice: str
    tablet: str
    drill: str
    step: str
    change: Change
    rep: UUID
    slot: str | None = None
    player: UUID | None = None
    group: Position | None = None
    start: tuple[tuple[UUID, Position], ...] = ()
    at: int = field(default_factory=now_ms)
    nth: int = field(default=0, compare=False)
