"""An evening of meetings in words: times, wishes, what is not met, and what to keep in mind."""

from collections.abc import Mapping
from datetime import time
from uuid import UUID

from evaltrack.language import mark, tr
from evaltrack.rink.days import in_full
from evaltrack.rink.meeting_evening import Evening, MeetingSlot, MeetingWish, MeetingWishKind
from evaltrack.rink.placed_evening import PlacedEvening, UnmetMeeting
from evaltrack.words.wording import clock_time, counted

WISHES = {
    MeetingWishKind.NOT_BEFORE: mark("{player} not before {value}"),
    MeetingWishKind.NOT_AFTER: mark("{player} not after {value}"),
    MeetingWishKind.AT: mark("{player} at {value}"),
    MeetingWishKind.TABLE: mark("{player} at table {value}"),
    MeetingWishKind.SIBLING: mark("{player} and {value} one straight after the other"),
    MeetingWishKind.NOT_WITH: mark("{player} and {value} not at the same time"),
    MeetingWishKind.NOT_COMING: mark("{player} does not come"),
}
# common practice; the club's own rules are asked for first, and never replaced
GUIDANCE = (
    mark(
        "Two adults of the staff at each table, and a parent or guardian present: nobody is "
        "alone with a child."
    ),
    mark("What goes well comes first, then one or two things to work on. Speak of this child alone."),
    mark("Your club's own safeguarding rules come first."),
)
COACHES_ONLY = mark("For coaches only: not for families, and not to be left lying about.")
NOT_PROVEN = mark("Time was too short to prove that no better evening exists.")
_UNMET_BY_WISHES = mark("Not met: {wish}. It does not go with: {others}.")
_UNMET_AT_ALL = mark("Not met: {wish}. No time or table of this evening is as it asks.")


def clock_words(moment: time) -> str:
    """Return ``18:30``, in Canada's French ``18 h 30``."""
    return clock_time(moment)


def evening_words(evening: Evening) -> str:
    """Return the day and the start: ``Tuesday 20 January 2026, 18:00``."""
    return tr("{day}, {time}", day=in_full(evening.day), time=clock_words(evening.start))


def summary_words(evening: Evening) -> str:
    """Return how many meetings there are, how long each is, and when all is over."""
    parts = [counted(len(evening.slots), "meeting"), tr("{minutes} minutes each", minutes=evening.minutes)]
    if evening.tables > 1:
        parts.append(tr("{tables} tables", tables=evening.tables))
    if evening.slots:
        over = max(evening.end_of(s.start) for s in evening.slots.values())
        parts.append(tr("over at {time}", time=clock_words(over)))
    return ", ".join(parts)


def slot_words(evening: Evening, slot: MeetingSlot) -> str:
    """Return ``18:00–18:12``, with the table where there are several: ``18:00–18:12, table 2``."""
    span = f"{clock_words(slot.start)}–{clock_words(evening.end_of(slot.start))}"
    return tr("{span}, table {table}", span=span, table=slot.table) if evening.tables > 1 else span


def wish_words(wish: MeetingWish, numbers: Mapping[UUID, str]) -> str:
    """Return ``14 not before 18:30``; ``numbers`` may have names with them, and a dash is for an unknown."""
    value = clock_words(wish.at) if wish.at else wish.table or numbers.get(wish.other, "–")
    return tr(WISHES[wish.kind], player=numbers.get(wish.player, "–"), value=value)


def unmet_words(unmet: UnmetMeeting, numbers: Mapping[UUID, str]) -> str:
    """Return which wish is not met, and what it cannot be met together with."""
    against = [wish_words(wish, numbers) for wish in unmet.against]
    against += [tr("{player} is locked", player=numbers.get(player, "–")) for player in unmet.locked]
    told = wish_words(unmet.wish, numbers)
    if against:
        return tr(_UNMET_BY_WISHES, wish=told, others="; ".join(against))
    return tr(_UNMET_AT_ALL, wish=told)


def let_go_words(player: UUID, numbers: Mapping[UUID, str]) -> str:
    """Return that a family is not locked any more."""
    return tr(
        "{player} was locked to a place that this evening does not have: it is free again.",
        player=numbers.get(player, "–"),
    )


def remarks_of(found: PlacedEvening, numbers: Mapping[UUID, str]) -> list[str]:
    """Return all that must be said of an evening that was worked out."""
    told = [unmet_words(one, numbers) for one in found.unmet]
    told += [let_go_words(player, numbers) for player in found.let_go]
    return told if found.proven else [*told, tr(NOT_PROVEN)]
