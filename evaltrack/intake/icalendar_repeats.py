"""The repeats of one event of an iCalendar file: by days or weeks, as a team's practices have them.

The clock on the wall repeats, and not the moment: a practice at 18:30 is at 18:30 in summer too. The rules
are read here: a general reader may look for the next day of a hostile one for ever.
"""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta, tzinfo

from evaltrack.intake.text import Complaints
from evaltrack.language import tr

YEARS = range(1990, 2200)
MOST_REPEATS = 400  # a rule repeats for ever unless somebody stops it
MOST_LOOKED_AT = 300_000  # repeats of all events of a file; a rule with a count is counted from its first day
_AHEAD = timedelta(days=400)
_PARTS = {"FREQ", "INTERVAL", "BYDAY", "COUNT", "UNTIL", "WKST"}  # of a rule that is read
_DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")


class Repeats:
    """Works the repeats of a file's events out, from a day on; ``complaints`` are where it is refused."""

    def __init__(self, since: date, complaints: Complaints):
        self._since, self._complaints, self._left = since, complaints, MOST_LOOKED_AT

    def of(self, event, start: datetime) -> list[datetime]:
        """Return the moments of an event that repeats by days or weeks; its own alone otherwise.

        Raises
        ------
        IntakeError : the events so far repeat more often than any team's.
        """
        rule = event.get("RRULE")
        if not is_read(rule):
            return [start]
        without = {_wall(one, start.tzinfo) for one in _left_out(event)}
        found: list[datetime] = []
        for day in self._days(rule, start):
            moment = datetime.combine(day, start.time())
            if day >= self._since - timedelta(1) and moment not in without:
                found.append(moment.replace(tzinfo=start.tzinfo))
            if len(found) == MOST_REPEATS:
                break
        return found

    def _days(self, rule: dict, start: datetime) -> Iterator[date]:
        """Yield the days on which a rule falls; those long before are left out where nobody counts them."""
        count, last = _first(rule, "COUNT"), _end(rule, start.tzinfo, self._since)
        begin = start.date() if count else max(start.date(), self._since - timedelta(1))
        found = 0
        for day in _days_of(rule, start.date(), begin):
            if datetime.combine(day, start.time()) > last or found == count:
                return
            self._left -= 1
            if not self._left:
                self._refuse()
            if day >= begin and _falls_on(rule, day):
                found += 1
                yield day

    def _refuse(self) -> None:
        raise self._complaints.refuse(
            0,
            tr(
                "its events repeat more than {number} times; save the season's part alone",
                number=MOST_LOOKED_AT,
            ),
        )


def is_read(rule: object) -> bool:
    """Say whether a rule is one of days or weeks, as a team's practices have."""
    if not isinstance(rule, dict) or not set(rule) <= _PARTS:
        return False
    named = {str(day) for day in rule.get("BYDAY", [])}
    every, count = _first(rule, "INTERVAL", 1), _first(rule, "COUNT", 1)
    return _first(rule, "FREQ") in ("DAILY", "WEEKLY") and named <= set(_DAYS) and every >= 1 and count >= 1


def _first(rule: dict, part: str, otherwise: int | None = None):
    return (rule.get(part) or [otherwise])[0]


def _end(rule: dict, zone: tzinfo | None, since: date) -> datetime:
    until = _first(rule, "UNTIL")
    horizon = datetime.combine(since + _AHEAD, time())
    return min(horizon, _wall(until, zone)) if isinstance(until, date) and until.year in YEARS else horizon


def _days_of(rule: dict, start: date, begin: date) -> Iterator[date]:
    """Yield days in order among which are all those of a rule that began at ``start``, from ``begin`` on."""
    every, weekly = int(_first(rule, "INTERVAL", 1)), rule["FREQ"][0] == "WEEKLY"
    named = sorted({_DAYS.index(str(one)) for one in rule.get("BYDAY", [])}) or [start.weekday()]
    first = start.toordinal() - (start.weekday() if weekly else 0)
    step = 7 * every if weekly else every
    at = first + max(0, begin.toordinal() - first) // step * step
    while at < date.max.toordinal() - 7:
        yield from (date.fromordinal(at + offset) for offset in (named if weekly else [0]))
        at += step


def _falls_on(rule: dict, day: date) -> bool:
    return "BYDAY" not in rule or _DAYS[day.weekday()] in rule["BYDAY"]


def _left_out(event) -> list[date]:
    given = event.get("EXDATE", [])
    each = given if isinstance(given, list) else [given]
    whole = [some for some in each if not isinstance(some, str)]  # what could not be read stays text
    moments = (one.dt for some in whole for one in some.dts)
    return [one for one in moments if isinstance(one, date) and one.year in YEARS]


def _wall(moment: date | datetime, zone: tzinfo | None) -> datetime:
    """Return what the clock on the wall says in a zone."""
    if not isinstance(moment, datetime):
        return datetime.combine(moment, time(23, 59))
    return (moment.astimezone(zone) if moment.tzinfo and zone else moment).replace(tzinfo=None)
