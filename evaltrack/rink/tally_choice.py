"""Which tallies of a practice are meant: by player, skill, drill, observer, outcome, and time of day."""

from dataclasses import dataclass
from datetime import UTC, datetime, time
from uuid import UUID

from evaltrack.rink.ident import head_of
from evaltrack.rink.tally import Outcome, Tally

LOADED = "file"  # the tablet of tallies that were loaded from a file
_DAY, _NOON = 24 * 60 * 60 * 1000, 12 * 60 * 60 * 1000  # ms


def time_of(tally: Tally) -> datetime | None:
    """Return when a tally was made, by the clock of this computer's time zone.

    None for one that was loaded without a time: it stands at noon in UTC, which says nothing. Where the
    rink's clock did show that moment, as at 7 in the morning in Toronto, the id tells: it has the clock as
    it was written.
    """
    try:
        moment = datetime.fromtimestamp(tally.at / 1000)
    except (OverflowError, ValueError, OSError):
        return None
    if tally.tablet == LOADED and tally.at % _DAY == _NOON:
        clock = round(moment.replace(tzinfo=UTC).timestamp() * 1000)
        return moment if head_of(tally.id) == clock != tally.at else None
    return moment


@dataclass(frozen=True, slots=True)
class Choice:
    """What chosen tallies have in common; None where it does not matter.

    ``first`` and ``until`` are times of day, both included: a minute until its end. With ``until`` before
    ``first`` it is over midnight. ``only`` is a single tally.
    """

    player: UUID | None = None
    skill: str | None = None
    drill: str | None = None
    step: str | None = None
    observer: str | None = None
    outcome: Outcome | None = None
    first: time | None = None
    until: time | None = None
    only: UUID | None = None

    @property
    def by_time(self) -> bool:
        """Say whether it asks for the time."""
        return self.first is not None or self.until is not None

    def takes(self, tally: Tally) -> bool:
        """Say whether a tally is meant. One without a time is not, where a time is asked for."""
        names = ("player", "skill", "drill", "step", "observer", "outcome")
        alike = all(getattr(self, name) in (None, getattr(tally, name)) for name in names)
        return alike and self.only in (None, tally.id) and self._is_within(time_of(tally))

    def _is_within(self, moment: datetime | None) -> bool:
        if not self.by_time:
            return True
        if moment is None:
            return False
        clock, first, until = moment.time(), self.first or time.min, _whole(self.until or time.max)
        if first > until:
            return clock >= first or clock <= until
        return first <= clock <= until


def _whole(until: time) -> time:
    """Return the end of the second, and of the minute when no seconds were said."""
    return until.replace(second=until.second or 59, microsecond=999_999)
