"""The calendar in words."""

from evaltrack.rink.days import in_full
from evaltrack.rink.ice_time import IceTime
from evaltrack.words.plan_card import ICE
from evaltrack.words.wording import counted


def when_words(entry: IceTime) -> str:
    """Return ``Thursday 29 January 2026, 18:30``."""
    return ", ".join(filter(None, (in_full(entry.day), entry.start and f"{entry.start:%H:%M}")))


def ice_words(entry: IceTime) -> str:
    """Return ``60 minutes, full ice, Kettle Bay rink``."""
    return ", ".join(filter(None, (f"{entry.minutes} minutes", ICE[entry.surface], entry.place)))


def read_words(changed: int, dropped: int, found) -> str:
    """Return what became of a calendar that was read, a `Found` of ``intake.icalendar_file``."""
    parts = [f"{counted(len(found.entries), 'ice time')} read, {changed} of them new or changed"]
    if dropped:
        parts.append(f"{dropped} taken out, because cancelled")
    if found.odd:
        parts.append(
            f"{counted(found.odd, 'event')} left out: all day, or too short or too long for an ice time"
        )
    if found.once:
        parts.append(f"of {found.once} only the first, because they repeat neither by days nor by weeks")
    if found.over:
        parts.append(f"{found.over} left out: over already")
    return "; ".join(parts) + "."
