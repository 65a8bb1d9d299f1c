"""A practice that nobody has ended: when to ask whether it goes on, and in which words."""

import time
from collections.abc import Callable
from datetime import date, datetime

from evaltrack.language import tr
from evaltrack.rink.days import in_full
from evaltrack.rink.practice import LEFT_AFTER, is_left_open, local_day
from evaltrack.touch.desk.desk import Desk


def real_seconds() -> float:
    """Return seconds that no setting of a clock moves; where the system can tell, those asleep count too."""
    if hasattr(time, "CLOCK_BOOTTIME"):
        return time.clock_gettime(time.CLOCK_BOOTTIME)
    return time.monotonic()


class LongPause:
    """Listens to a desk, and knows how long nothing was written to the practice that it has taken up.

    It goes by real time: a clock that is put right in mid-practice throws nobody off the board.
    """

    def __init__(self, desk: Desk, elapsed: Callable[[], float] = real_seconds):
        self._desk = desk
        self._elapsed = elapsed
        self._heard_at = elapsed()
        desk.bind(changed=self._hear, practice=self._hear)

    def _hear(self, *_) -> None:
        self._heard_at = self._elapsed()

    def has_passed(self) -> bool:
        """Say whether the practice has most likely ended unnoticed, hours ago and on an earlier day."""
        if not self._desk.practice:
            return False
        passed = int(1000 * (self._elapsed() - self._heard_at))
        if passed < LEFT_AFTER:
            return False
        now = self._desk.now()
        return is_left_open(now - passed, now)


def question_about(desk: Desk) -> str:
    """Return what to ask about the practice that was left open, or nothing when there is none."""
    practice = desk.left_open
    if not practice:
        return ""
    tallies = desk.season.log.tallies(practice=practice.key)
    last = [tally.at for tally in tallies if tally.tablet == desk.tablet.id][-1:]
    day = in_full(practice.held_on)
    if not last:
        return tr("{day} was not ended: nothing was tallied in it. Is that practice still going on?", day=day)
    return tr(
        "{day} was not ended: the last tally is from {moment}. Is that practice still going on?",
        day=day,
        moment=_moment(*last, practice.held_on),
    )


def _moment(at: int, held_on: date) -> str:
    from evaltrack.words.wording import clock_time  # few starts ask, and the others do not wait for it

    day = local_day(at)
    if day is None:
        return tr("a moment that is in no calendar")
    clock = clock_time(datetime.fromtimestamp(at / 1000))
    return clock if day == held_on else tr("{clock} on {day}", clock=clock, day=in_full(day))
