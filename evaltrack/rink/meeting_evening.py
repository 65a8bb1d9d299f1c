"""An evening of meetings with the families: when, at how many tables, what is wished, who sits where when."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from enum import StrEnum
from typing import NamedTuple
from uuid import UUID

from evaltrack.rink.plain_text import one_line

SHORTEST, LONGEST = 5, 60  # minutes of a meeting
MOST_TABLES = 8
MOST_WISHES = 200
MOST_BREAKS = 10


class MeetingWishKind(StrEnum):
    """What is wished of a family's meeting; a family goes by its player."""

    NOT_BEFORE = "not before"  # begins then or later
    NOT_AFTER = "not after"  # is over by then
    AT = "at"
    TABLE = "table"
    SIBLING = "sibling"  # two players of one family: one meeting straight after the other, at one table
    NOT_WITH = "not with"  # not at the same time as another family
    NOT_COMING = "not coming"


OF_A_TIME = (MeetingWishKind.NOT_BEFORE, MeetingWishKind.NOT_AFTER, MeetingWishKind.AT)
OF_ANOTHER = (MeetingWishKind.SIBLING, MeetingWishKind.NOT_WITH)


class Break(NamedTuple):
    """A break of the whole staff."""

    start: time
    end: time


@dataclass(frozen=True, slots=True)
class MeetingWish:
    """A wish. ``other`` is another player, ``at`` a time, ``table`` is from 1; each if the kind has it."""

    kind: MeetingWishKind
    player: UUID
    other: UUID | None = None
    at: time | None = None
    table: int | None = None

    def __post_init__(self):
        has = (self.other is not None, self.at is not None, self.table is not None)
        if has != (self.kind in OF_ANOTHER, self.kind in OF_A_TIME, self.kind is MeetingWishKind.TABLE):
            raise ValueError(f"a wish of the kind {self.kind} does not go with {has}")

    @property
    def players(self) -> frozenset[UUID]:
        """Return the players whom it is about."""
        return frozenset(filter(None, (self.player, self.other)))


@dataclass(frozen=True, slots=True)
class MeetingSlot:
    """When and at which table, from 1, a family's meeting is. ``uid`` is that of its entry in calendars.

    A family that is ``locked`` stays when the evening is worked out anew.
    """

    start: time
    table: int
    locked: bool = False
    uid: str = ""


@dataclass(frozen=True, slots=True)
class Evening:
    """One evening, as it was kept.

    Attributes
    ----------
    key : names the evening in the season file, through all its changes.
    minutes : of one meeting.
    until : when all must be over; None for as long as it takes.
    place : where it is, in the coach's words; may be empty.
    slots : by player.
    """

    key: str
    day: date
    start: time
    minutes: int = 12
    tables: int = 1
    breaks: tuple[Break, ...] = ()
    until: time | None = None
    place: str = ""
    wishes: tuple[MeetingWish, ...] = ()
    slots: Mapping[UUID, MeetingSlot] = field(default_factory=dict)

    def end_of(self, start: time) -> time:
        """Return when a meeting is over that begins at a time; midnight at the latest."""
        return clock_of(min(minute_of(start) + self.minutes, _LAST_MINUTE))

    def in_order(self) -> list[tuple[UUID, MeetingSlot]]:
        """Return the meetings in order of time, then of tables."""
        return sorted(self.slots.items(), key=lambda one: (one[1].start, one[1].table, one[0]))

    def begins(self, slot: MeetingSlot) -> datetime:
        """Return the moment of a meeting by the clock on the wall."""
        return datetime.combine(self.day, slot.start)


_LAST_MINUTE = 24 * 60 - 1


def minute_of(clock: time) -> int:
    """Return the minutes since midnight."""
    return 60 * clock.hour + clock.minute


def clock_of(minute: int) -> time:
    """Return the time of day so many minutes after midnight."""
    return time(*divmod(minute, 60))


def later(clock: time, minutes: int) -> time:
    """Return the time of day so many minutes later, within the same day."""
    return clock_of(max(0, min(minute_of(clock) + minutes, _LAST_MINUTE)))


def place_words(text: str) -> str:
    """Return what was typed of a place as it is kept."""
    return one_line(" ".join(text.split()))[:100].strip()
