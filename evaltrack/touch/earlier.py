"""What the season file knows of a day on which a practice is about to start."""

from datetime import date
from typing import NamedTuple
from uuid import UUID

from evaltrack.rink.practice import Station

NOBODY = "Bench"  # who observes when nobody said so
_SEASON = 10  # months: nobody plays that long without a practice in one season


class Earlier(NamedTuple):
    """A practice of this day that was ended, and the one before it; None where there is none.

    ``here`` is who was here at its end, ``station`` what was watched, ``last`` the day of the one before.
    """

    here: frozenset[UUID] | None = None
    station: Station | None = None
    last: date | None = None


def earlier_than(desk, on: date) -> Earlier:
    """Return what the season file in hand knows of a day and of those before it."""
    practices = desk.season.practices
    known = practices.all()
    last = max((practice.held_on for practice in known if practice.held_on < on), default=None)
    today = [p for p in known if p.key == on.isoformat() and p.started_at is not None]
    if not today:  # or its tallies were loaded, and nobody said who else was there
        return Earlier(last=last)
    key = today[0].key
    here = frozenset(a.player for a in practices.attendance(key) if a.here)
    return Earlier(here, practices.station(key, desk.tablet.id), last)


def in_season(last: date | None, on: date) -> str:
    """Return a sentence when the last practice was so long ago that another season has begun, or nothing."""
    if last is None or 12 * (on.year - last.year) + on.month - last.month - (on.day < last.day) < _SEASON:
        return ""
    return (
        f"The last practice in this file was on {last.day} {last:%B %Y}. "
        "A new season gets a file of its own: evaltrack new."
    )


def named(observer: str) -> str:
    """Return a request for the observer's name while there is none, or nothing."""
    if observer.strip():
        return ""
    return f"Who observes? Two observers are told apart by name; without one it says {NOBODY}."
