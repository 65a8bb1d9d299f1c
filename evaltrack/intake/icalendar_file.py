"""An iCalendar file (RFC 5545): the ice times in it, each repeat by itself, by the clock of here."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, tzinfo
from hashlib import sha256
from pathlib import Path

from evaltrack.intake.icalendar_repeats import YEARS, Repeats, is_read
from evaltrack.intake.text import Complaints, read_bytes
from evaltrack.language import mark, tr
from evaltrack.rink.ice_time import LONGEST, SHORTEST, IceTime
from evaltrack.rink.plain_text import one_line

LARGEST = 2_000_000  # bytes; a year of a team takes a fifth
MOST_LINES = 150_000  # the library takes long over each, however short
MOST_EVENTS, MOST_ENTRIES = 5_000, 1_000
_LONGEST_PLACE = 100  # characters
_NOT_ONE = mark(
    "it is no iCalendar file; save the calendar as .ics in the program that has it, and read that"
)


@dataclass(frozen=True, slots=True)
class Found:
    """What a calendar has: ice times, and those that are ``cancelled``.

    ``odd`` counts events that cannot be ice times: they last all day, or too short or too long. ``over``
    counts those that are over.
    """

    entries: tuple[IceTime, ...]
    cancelled: tuple[IceTime, ...]
    odd: int
    over: int
    once: int


def read_icalendar(path: str | Path, since: date, only: str = "", zone: tzinfo | None = None) -> Found:
    """Return the ice times of a file from a day on, for a little more than a year.

    Parameters
    ----------
    since : the first day that is wanted.
    only : a word that the title of an event must have, in any case; empty for all of them.
    zone : of the rink; None for that of this computer. An event without a zone is of the rink's.

    Raises
    ------
    IntakeError : it is no iCalendar file, is too large, or has too many events.
    """
    complaints = Complaints(path)
    events = _events(path, complaints)
    changed = {_original(one, zone) for one in events if "RECURRENCE-ID" in one}
    reader = _Reader(since, zone, changed, complaints)
    for event in events:
        if only.casefold() in _text(event, "SUMMARY").casefold():
            reader.take(event)
            if max(len(reader.entries), len(reader.cancelled)) > MOST_ENTRIES:
                raise complaints.refuse(
                    0, tr("it has more than {number} ice times to come", number=MOST_ENTRIES)
                )
    return Found(
        tuple(reader.entries.values()), tuple(reader.cancelled), reader.odd, reader.over, reader.once
    )


def _events(path: str | Path, complaints: Complaints) -> list:
    from icalendar import Calendar

    content = read_bytes(Path(path), complaints, LARGEST)
    if b"BEGIN:VCALENDAR" not in content[:4_000].upper():
        raise complaints.refuse(0, tr(_NOT_ONE))
    if len(content.splitlines()) > MOST_LINES:
        raise complaints.refuse(0, _too_many_events())
    try:
        calendars = Calendar.from_ical(content, multiple=True)
        found = [event for one in calendars for event in one.walk("VEVENT")]
    except Exception as error:  # a library that reads what strangers wrote raises whatever comes up in it
        raise complaints.refuse(0, tr(_NOT_ONE)) from error
    if not calendars:
        raise complaints.refuse(0, tr(_NOT_ONE))
    if len(found) > MOST_EVENTS:
        raise complaints.refuse(0, _too_many_events())
    return found


def _too_many_events() -> str:
    return tr("it has more than {number} events; save the season's part alone", number=MOST_EVENTS)


class _Reader:
    """Turns events into ice times. ``changed`` are the repeats that have an event of their own."""

    def __init__(self, since: date, zone: tzinfo | None, changed: set[str], complaints: Complaints):
        self.since, self.zone, self.changed = since, zone, changed
        self.repeats = Repeats(since, complaints)
        self.entries: dict[str, IceTime] = {}
        self.cancelled: list[IceTime] = []
        self.odd = self.over = self.once = 0

    def take(self, event) -> None:
        """Take the ice times of an event."""
        start = _moment(event, "DTSTART")
        minutes = _minutes(event, start) if isinstance(start, datetime) else 0
        if not SHORTEST <= minutes <= LONGEST:
            self.odd += 1
            return
        own = "RECURRENCE-ID" in event
        self.once += "RRULE" in event and not is_read(event["RRULE"])
        for moment in [start] if own else self.repeats.of(event, start):
            uid = _original(event, self.zone) if own else _uid(event, _day(moment, self.zone))
            if own or uid not in self.changed:
                self._add(event, moment, minutes, uid)

    def _add(self, event, moment: datetime, minutes: int, uid: str) -> None:
        day = _day(moment, self.zone)
        if day < self.since:
            self.over += 1
            return
        place = one_line(_text(event, "LOCATION"))[:_LONGEST_PLACE].strip()
        entry = IceTime(day, _clock(moment, self.zone), minutes, place, uid=uid)
        if _text(event, "STATUS").upper() == "CANCELLED":
            self.cancelled.append(entry)
        else:
            self.entries[uid] = entry


def _text(event, name: str) -> str:
    """Return a text of an event; the first one where it stands there more than once."""
    found = event.get(name, "")
    return str(found[0] if isinstance(found, list) else found)


def _moment(event, name: str) -> date | datetime | None:
    """Return a moment of an event; None where it has none that can be read."""
    try:
        found = event.decoded(name)
    except (KeyError, ValueError, TypeError):
        return None
    return found if isinstance(found, date) and found.year in YEARS else None


def _minutes(event, start: datetime) -> int:
    """Return how long an event is; an hour where it does not say."""
    end = _moment(event, "DTEND")
    try:
        length = event.decoded("DURATION") if end is None else _plain(end) - _plain(start)
    except (KeyError, ValueError, TypeError):
        return 60
    return round(length.total_seconds() / 60) if isinstance(length, timedelta) else 0


def _plain(moment: date | datetime) -> datetime:
    if not isinstance(moment, datetime):
        return datetime.combine(moment, time())
    return moment.astimezone().replace(tzinfo=None) if moment.tzinfo else moment


def _here(moment: datetime, zone: tzinfo | None) -> datetime:
    return moment.astimezone(zone) if moment.tzinfo else moment


def _day(moment: date | datetime, zone: tzinfo | None) -> date:
    return _here(moment, zone).date() if isinstance(moment, datetime) else moment


def _clock(moment: datetime, zone: tzinfo | None) -> time:
    return _here(moment, zone).time().replace(second=0, microsecond=0, tzinfo=None)


def _original(event, zone: tzinfo | None) -> str:
    """Return the uid of the repeat in whose place an event stands."""
    moment = _moment(event, "RECURRENCE-ID") or date.min
    return _uid(event, _day(moment, zone))


def _uid(event, day: date) -> str:
    """Return an identifier of ours: what programs write into theirs may name somebody."""
    return sha256(f"{_text(event, 'UID')}/{day.isoformat()}".encode()).hexdigest()[:32]
