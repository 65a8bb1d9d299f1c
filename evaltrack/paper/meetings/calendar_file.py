"""An iCalendar file (RFC 5545) of an evening of meetings; written again, it changes the entries that it made.

Each entry keeps its identifier, which is random, and counts its changes (SEQUENCE), so that a calendar that
takes in the file again moves what it has. No child's name is in an identifier; in a title only if asked.
"""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta, tzinfo
from uuid import UUID

from evaltrack.language import mark, tr
from evaltrack.rink.placed_evening import Entry

TITLE, CANCELLED_TITLE = mark("Family meeting, no. {label}"), mark("Family meeting, no. {label}: not held")
_PRODUCT = "-//evaltrack//meetings//EN"
_TABLE = mark("table {table}")


def calendar_file(
    entries: Sequence[Entry],
    labels: Mapping[UUID, str],
    tables: int,
    stamp: datetime,
    zone: tzinfo | None = None,
) -> bytes:
    """Return the file.

    Parameters
    ----------
    labels : what stands for a family in its title: the number, or number and first name if that is asked.
    tables : how many there are; the table is told where there are several.
    stamp : when the file is made.
    zone : of the clock on the wall; None for that of this computer.
    """
    from icalendar import Calendar

    calendar = Calendar()
    for name, value in (("PRODID", _PRODUCT), ("VERSION", "2.0"), ("METHOD", "PUBLISH")):
        calendar.add(name, value)
    for entry in entries:
        calendar.add_component(_event(entry, labels.get(entry.player, "–"), tables, stamp, zone))
    return calendar.to_ical()


def _event(entry: Entry, label: str, tables: int, stamp: datetime, zone: tzinfo | None):
    from icalendar import Event

    event, begins = Event(), _in_utc(entry.begins, zone)
    event.add("UID", entry.uid)
    event.add("DTSTAMP", stamp.astimezone(UTC).replace(microsecond=0))
    event.add("SEQUENCE", entry.changes)
    event.add("DTSTART", begins)
    event.add("DTEND", begins + timedelta(minutes=entry.minutes))
    event.add("SUMMARY", tr(CANCELLED_TITLE if entry.cancelled else TITLE, label=label))
    where = [entry.place, tr(_TABLE, table=entry.table) if tables > 1 else ""]
    if place := ", ".join(filter(None, where)):
        event.add("LOCATION", place)
    event.add("STATUS", "CANCELLED" if entry.cancelled else "CONFIRMED")
    event.add("CLASS", "PRIVATE")
    return event


def _in_utc(moment: datetime, zone: tzinfo | None) -> datetime:
    return (moment.replace(tzinfo=zone) if zone else moment).astimezone(UTC)
