"""The times at which meetings can begin: one after the other, and none into a break or past the end."""

from collections.abc import Sequence
from datetime import time

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr_many
from evaltrack.rink.meeting_evening import Break, Evening, clock_of, minute_of

SPARE = 2  # rounds beyond those that are needed, so that wishes have some room
_MIDNIGHT = 24 * 60


def starts_of(evening: Evening) -> tuple[time, ...]:
    """Return every time of an evening at which a meeting could begin, until its end or midnight."""
    return _starts(evening, _end(evening), _MIDNIGHT)


def rounds_of(evening: Evening, families: int) -> tuple[time, ...]:
    """Return when meetings can begin: all rounds until the end, or as many as are needed and two more.

    Raises
    ------
    EvaltrackError : the families do not all fit; it says what would help.
    """
    needed = -(-families // evening.tables)
    most = needed + SPARE if evening.until is None else _MIDNIGHT
    found = _starts(evening, _end(evening), most)
    if len(found) < needed:
        raise EvaltrackError(
            tr_many(
                "{families} families need {rounds} rounds of {minutes} minutes at one table, and there is "
                "time for {found}: begin earlier, make meetings shorter, take another table, or end later",
                "{families} families need {rounds} rounds of {minutes} minutes at {number} tables, and there "
                "is time for {found}: begin earlier, make meetings shorter, take another table, or end later",
                evening.tables,
                families=families,
                rounds=needed,
                minutes=evening.minutes,
                found=len(found),
            )
        )
    return found


def follows(rounds: Sequence[time], at: int, minutes: int) -> bool:
    """Say whether a round follows straight on the one before it, without a break between."""
    return at > 0 and minute_of(rounds[at]) - minute_of(rounds[at - 1]) == minutes


def _end(evening: Evening) -> int:
    return _MIDNIGHT - 1 if evening.until is None else minute_of(evening.until)


def _starts(evening: Evening, end: int, most: int) -> tuple[time, ...]:
    found, now = [], minute_of(evening.start)
    while now + evening.minutes <= end and len(found) < most:
        pause = _in_the_way(evening.breaks, now, now + evening.minutes)
        if pause:
            now = minute_of(pause.end)
        else:
            found.append(clock_of(now))
            now += evening.minutes
    return tuple(found)


def _in_the_way(breaks: Sequence[Break], start: int, end: int) -> Break | None:
    return next((one for one in breaks if minute_of(one.start) < end and start < minute_of(one.end)), None)
