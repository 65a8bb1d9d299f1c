"""A practice, who was there, what an observer watched, and the reps of a step."""

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from uuid import UUID

from evaltrack.rink.ident import new_id, now_ms


class Surface(StrEnum):
    """How much of the ice the team had. Shares on different surfaces are not comparable as they stand."""

    FULL = "full"
    HALF = "half"
    CROSS = "cross"


@dataclass(frozen=True, slots=True)
class Practice:
    """One ice time.

    ``key`` is the date, or the date with ``.2`` for a second ice time that day, so that two tablets name
    the same practice alike. ``ended_at`` is None while it runs; moments are milliseconds since 1970, UTC.
    """

    key: str
    held_on: date
    surface: Surface = Surface.FULL
    started_at: int | None = None
    ended_at: int | None = None


@dataclass(frozen=True, slots=True)
class Attendance:
    """Whether a player is here, and his place on the board, which is his all practice long."""

    player: UUID
    here: bool
    place: int
    at: int = field(default_factory=now_ms)


@dataclass(frozen=True, slots=True)
class Station:
    """What one tablet watches from a moment on: drill, step, skill, pressure, and who observes."""

    practice: str
    drill: str
    step: str
    skill: str
    observer: str
    pressure: bool = False
    tablet: str = ""
    at: int = field(default_factory=now_ms)


@dataclass(frozen=True, slots=True)
class Rep:
    """One go through a step: which player was in which slot when it began (slot key to player id).

    ``tablet`` is the id of the tablet that keeps the line.
    """

    practice: str
    drill: str
    step: str
    slots: dict[str, UUID]
    tablet: str = ""
    at: int = field(default_factory=now_ms)
    id: UUID = field(default_factory=new_id, compare=False)
