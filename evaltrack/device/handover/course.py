"""How far a hand-over is, as plain values for whoever shows it; and what it asks of a season."""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Protocol


class Stage(StrEnum):
    """What is going on."""

    WAITING = "waiting"  # for the other tablet
    GREETING = "greeting"
    GIVING = "giving"
    TAKING = "taking"
    COMPARING = "comparing"
    TOGETHER = "together"  # live
    ENDED = "ended"


@dataclass(slots=True, eq=False)  # each is another one, also when it has come as far
class Course:
    """What a hand-over has come to. Whoever shows it only reads it.

    Parameters
    ----------
    share : how much of what goes on has been done, 0 to 1.
    given, taken : tallies and withdrawals that were new, there and here.
    missed : how many wrong codes were typed on the other tablet.
    behind : ms by which the other tablet's clock is behind this one's; less than 0 when it is ahead.
    heard : when the other tablet was last heard, on a clock that never stops; None before.
    equal : whether both have the same facts, as the digests of all of them say; None while nobody knows.
    told : sentences about what came in.
    """

    stage: Stage = Stage.WAITING
    share: float = 0.0
    given: int = 0
    taken: int = 0
    missed: int = 0
    behind: int = 0
    heard: float | None = None
    equal: bool | None = None
    told: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Brought:
    """What a pack brought: tallies and withdrawals that were new, and sentences on what to look at."""

    tallies: int = 0
    told: tuple[str, ...] = ()


class Side(Protocol):
    """The season of this tablet. Whoever has it in hand decides on which thread it is read and written.

    ``season`` are the 32 hexadecimal digits of its id, ``made`` when its file was made; both say which it is.
    ``tablet`` is the id of this tablet.
    """

    season: str
    made: int
    tablet: str

    async def met(self, tablet: str) -> None:
        """Remember that the tablet with this id gets all that is noted here."""

    async def whole(self) -> bytes:
        """Return a pack of all there is."""

    async def news(self) -> bytes:
        """Return a pack of what the other tablet has not heard yet, empty when there is nothing."""

    async def told(self, pack: bytes) -> None:
        """Note that the other tablet has all that is in a pack of this one."""

    async def take_in(self, pack: bytes) -> Brought:
        """Take a pack in, all of it or nothing; EvaltrackError with a sentence when it is refused."""

    async def digest(self) -> str:
        """Return the SHA-256 of all facts that tablets share, in hexadecimal digits."""
