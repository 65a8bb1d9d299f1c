"""An evening that was worked out, with the wishes that it does not meet; and what became of each entry."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from uuid import UUID

from evaltrack.rink.meeting_evening import Evening, MeetingSlot, MeetingWish


@dataclass(frozen=True, slots=True)
class UnmetMeeting:
    """A wish that is not met, and what it cannot be met together with: other wishes, and locked families.

    Both are empty where no place of the evening is as it asks.
    """

    wish: MeetingWish
    against: tuple[MeetingWish, ...] = ()
    locked: tuple[UUID, ...] = ()


@dataclass(frozen=True, slots=True)
class PlacedEvening:
    """An evening with its meetings; ``proven`` says that none is better, ``gap`` by how much one could be.

    ``let_go`` were locked to a place that this evening does not have.
    """

    evening: Evening
    unmet: tuple[UnmetMeeting, ...] = ()
    gap: float = 0.0
    proven: bool = True
    let_go: tuple[UUID, ...] = ()


@dataclass(frozen=True, slots=True)
class Entry:
    """A family's entry in calendars: as it is now, and how often it was changed since it was first made.

    ``cancelled`` says that the family has no meeting any more; the rest is as it was last.
    """

    uid: str
    player: UUID
    begins: datetime
    minutes: int
    table: int
    place: str
    changes: int = 0
    cancelled: bool = False


def entries_of(history: Sequence[Evening]) -> list[Entry]:
    """Return the entries of an evening in order of time, from all that was kept of it, first to last."""
    found: dict[str, Entry] = {}
    for evening in history:
        fresh = [_entry(evening, player, slot) for player, slot in evening.in_order() if slot.uid]
        here = {one.uid for one in fresh}
        gone = [replace(one, cancelled=True) for uid, one in found.items() if uid not in here]
        for one in (*fresh, *gone):
            before = found.get(one.uid)
            found[one.uid] = one if before is None else _changed(before, one)
    return sorted(found.values(), key=lambda one: (one.begins, one.table, one.uid))


def _entry(evening: Evening, player: UUID, slot: MeetingSlot) -> Entry:
    return Entry(slot.uid, player, evening.begins(slot), evening.minutes, slot.table, evening.place)


def _changed(before: Entry, now: Entry) -> Entry:
    same = replace(now, changes=before.changes)
    return same if same == before else replace(now, changes=before.changes + 1)


def swapped(evening: Evening, one: UUID, other: UUID) -> Evening:
    """Return an evening in which two families have each other's place and are locked there."""
    first, second = evening.slots[one], evening.slots[other]
    slots = dict(evening.slots)
    slots[one] = replace(second, uid=first.uid, locked=True)
    slots[other] = replace(first, uid=second.uid, locked=True)
    return replace(evening, slots=slots)


def locked(evening: Evening, player: UUID) -> Evening:
    """Return an evening in which a family is locked to its place, or free again."""
    slot = evening.slots[player]
    return replace(evening, slots=dict(evening.slots) | {player: replace(slot, locked=not slot.locked)})
