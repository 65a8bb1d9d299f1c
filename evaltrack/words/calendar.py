"""The calendar in words."""

from evaltrack.language import tr, tr_many
from evaltrack.rink.days import in_full
from evaltrack.rink.ice_time import IceTime
from evaltrack.words.plan_card import ICE
from evaltrack.words.wording import clock_time, counted


def when_words(entry: IceTime) -> str:
    """Return ``Thursday 29 January 2026, 18:30``."""
    return ", ".join(filter(None, (in_full(entry.day), entry.start and clock_time(entry.start))))


def ice_words(entry: IceTime) -> str:
    """Return ``60 minutes, full ice, Kettle Bay rink``."""
    return ", ".join(filter(None, (counted(entry.minutes, "minute"), tr(ICE[entry.surface]), entry.place)))


def read_words(changed: int, dropped: int, found) -> str:
    """Return what became of a calendar that was read, a `Found` of ``intake.icalendar_file``."""
    read = counted(len(found.entries), "ice time")
    parts = [tr("{ice_times} read, {changed} of them new or changed", ice_times=read, changed=changed)]
    if dropped:
        parts.append(
            tr_many("{number} taken out, because cancelled", "{number} taken out, because cancelled", dropped)
        )
    if found.odd:
        parts.append(
            tr(
                "{events} left out: all day, or too short or too long for an ice time",
                events=counted(found.odd, "event"),
            )
        )
    if found.once:
        parts.append(
            tr(
                "of {number} only the first, because they repeat neither by days nor by weeks",
                number=found.once,
            )
        )
    if found.over:
        parts.append(
            tr_many("{number} left out: over already", "{number} left out: over already", found.over)
        )
    return "; ".join(parts) + "."
