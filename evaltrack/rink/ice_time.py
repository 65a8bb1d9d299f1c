"""An ice time to come: when, where, how long, on which surface."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, time
from uuid import uuid4

from evaltrack.rink.practice import Surface

SHORTEST, LONGEST = 10, 240  # minutes, as a plan can have


@dataclass(frozen=True, slots=True)
class IceTime:
    """An entry of the calendar.

    ``start`` is the time of day where the rink is, None where only the day is known. ``uid`` stays when the
    entry is changed; it tells nothing of anybody.
    """

    day: date
    start: time | None = None
    minutes: int = 60
    place: str = ""
    surface: Surface = Surface.FULL
    uid: str = field(default_factory=lambda: uuid4().hex)


def in_order(entries: Iterable[IceTime], since: date = date.min) -> list[IceTime]:
    """Return the ice times from a day on, in order of time."""
    coming = (one for one in entries if one.day >= since)
    return sorted(coming, key=lambda one: (one.day, one.start or time.min, one.uid))
