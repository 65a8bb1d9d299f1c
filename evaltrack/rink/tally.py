"""One observed try, and its withdrawal."""

from dataclasses import dataclass, field
from enum import StrEnum
from uuid import UUID

from evaltrack.language import mark
from evaltrack.rink.ident import new_id, now_ms


class Outcome(StrEnum):
    """What was seen. ``unseen`` is recorded too, and is not a try."""

    DONE = mark("done")
    MISSED = mark("missed")
    UNSEEN = mark("unseen")


@dataclass(frozen=True, slots=True)
class Tally:
    """One observed try: who, which skill, what came of it, where in the practice, by whom, when.

    ``pressure`` is None when it was not noted. ``skill_version`` is the version of the definition that
    the observer went by. ``at`` is the moment in milliseconds since 1970 in UTC by the clock of
    ``tablet``. ``slot`` is the slot in which the player stood, where the board had slots. The id orders a
    tablet's tallies as they were made, whatever its clock said, and makes adding one twice harmless.
    """

    practice: str
    player: UUID
    skill: str
    outcome: Outcome
    drill: str
    step: str
    observer: str
    pressure: bool | None = None
    skill_version: int = 1
    rep: UUID | None = None
    tablet: str = ""
    at: int = field(default_factory=now_ms)
    id: UUID = field(default_factory=new_id)
    slot: str | None = None


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """An undo or a correction: the tally it names no longer counts. The log itself only grows."""

    tally: UUID
    tablet: str = ""
    at: int = field(default_factory=now_ms)
