"""A practice, who was there, what an observer watched, and the reps of a step."""

from collections.abc import Collection
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum
from itertools import chain, count
from uuid import UUID

from evaltrack.rink.ident import new_id, now_ms

LEFT_AFTER = 3 * 60 * 60 * 1000  # ms without a fact; no ice time has such a pause
OVER_AFTER = 12 * 60 * 60 * 1000  # ms without a fact; whatever the day, that was another ice time


class Surface(StrEnum):
    """How much of the ice the team had. Shares on different surfaces are not comparable as they stand."""

    FULL = "full"
    HALF = "half"
    CROSS = "cross"

    @property
    def room(self) -> int:
        """Return how much there is of it, in sixths of the whole ice: one end is a third."""
        return {"full": 6, "half": 3, "cross": 2}[self]

    @property
    def need(self) -> int:
        """Return what a step needs that is planned on it, in sixths of the whole ice.

        Two steps from side to side fit into one end: six stations on the whole ice are common practice.
        """
        return {"full": 6, "half": 3, "cross": 1}[self]


@dataclass(frozen=True, slots=True)
class Practice:
    """One ice time.

    ``key`` is the date on which it was begun, with ``.2`` after it for a second ice time that day, so that
    two tablets name the same practice alike. It never changes; ``held_on`` does when the date was wrong.
    ``ended_at`` is None while it runs; moments are milliseconds since 1970, UTC. One that was set ``aside``
    counts for nothing until it is brought back.
    """

    key: str
    held_on: date
    surface: Surface = Surface.FULL
    started_at: int | None = None
    ended_at: int | None = None
    aside: bool = False


def key_for(day: date, taken: Collection[str]) -> str:
    """Return the key of another practice of a day, given the keys that are taken."""
    numbered = (f"{day.isoformat()}.{number}" for number in count(2))
    return next(key for key in chain((day.isoformat(),), numbered) if key not in taken)


def local_day(moment: int) -> date | None:
    """Return the day on which a moment was, by this computer's time zone; None for one in no calendar."""
    try:
        return datetime.fromtimestamp(moment / 1000).date()
    except (OverflowError, ValueError, OSError):
        return None


def is_left_open(last: int | None, now: int) -> bool:
    """Say whether a practice of which nothing was heard since a moment has most likely ended unnoticed.

    Its last fact is hours old and of an earlier day, or half a day old: a practice that runs past midnight
    is not meant.
    """
    if last is None or now - last < LEFT_AFTER:
        return False
    if now - last >= OVER_AFTER:
        return True
    was, today = local_day(last), local_day(now)
    return was is None or today is None or was < today


@dataclass(frozen=True, slots=True)
class Attendance:
    """Whether a player is here, and their place on the board, which is theirs all practice long."""

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

    ``tablet`` is the id of the tablet that keeps the rotation.
    """

    practice: str
    drill: str
    step: str
    slots: dict[str, UUID]
    tablet: str = ""
    at: int = field(default_factory=now_ms)
    id: UUID = field(default_factory=new_id, compare=False)


class Amendment(StrEnum):
    """How a practice is put right."""

    TO_DATE = "to_date"  # it was held on another day
    SET_ASIDE = "set_aside"  # nothing of it counts
    BRING_BACK = "bring_back"  # it counts again


@dataclass(frozen=True, slots=True)
class Correction:
    """A practice that was put right: what it was before, and what it is now. Both are the day it was held.

    A correction is a fact of its own; another one takes it back.
    """

    practice: str
    change: Amendment
    was: date
    becomes: date
    tablet: str = ""
    at: int = field(default_factory=now_ms)
