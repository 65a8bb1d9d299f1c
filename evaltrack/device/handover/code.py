"""The short code that one tablet shows and another one types, and what wrong ones cost.

Six digits are one guess in a million for each try, since the exchange lets nobody try codes alone. A code
is good for three tries and three minutes; each code that was tried to death makes the next one wait longer. A
try is counted on disk before it is answered, so ending the app wins nothing. The wait uses no wall clock: it
counts from the last wrong try or from the start of the app.
"""

import secrets
from collections.abc import Callable
from math import ceil
from pathlib import Path
from time import monotonic

from evaltrack.device.handover.faults import HandoverError
from evaltrack.device.settings_file import one_window_at_a_time, read_settings, write_settings
from evaltrack.device.tablet import tablet_folder
from evaltrack.language import mark, tr

DIGITS, TRIES, SECONDS = 6, 3, 180
FIRST_WAIT, LONGEST_WAIT = 30, 15 * 60  # seconds
MOST_WRONG = 999_999
_NAME, _FILE = "wrong_handover_codes", "handover.json"
_NOT_COUNTED = mark(
    "tries of the code cannot be counted: make room on this tablet, and let evaltrack write its settings"
)


class NotCountedError(HandoverError):
    """A try cannot be counted, so no code may be tried on this tablet."""


def is_code(text: str) -> bool:
    """Say whether a text can be a code."""
    return len(text) == DIGITS and text.isascii() and text.isdigit()


def wait_after(wrong: int) -> int:
    """Return how many seconds the next code has to wait after so many wrong tries in a row."""
    dead = min(wrong // TRIES, 12)
    return min(FIRST_WAIT << (dead - 1), LONGEST_WAIT) if dead else 0


class Tries:
    """The wrong tries in a row of all codes of this tablet, kept on disk until a code fits.

    Parameters
    ----------
    clock : seconds that only go forward.
    """

    def __init__(self, folder: Path | None = None, clock: Callable[[], float] = monotonic):
        self._folder, self._clock = folder or tablet_folder(), clock
        self._since = clock()

    @property
    def wrong(self) -> int:
        """Return how many wrong tries came in a row."""
        found = read_settings(self._folder / _FILE).get(_NAME, 0)
        return found if type(found) is int and 0 <= found <= MOST_WRONG else MOST_WRONG

    def wait_left(self) -> int:
        """Return the seconds until there may be a new code."""
        return max(0, ceil(self._since + wait_after(self.wrong) - self._clock()))

    def count(self) -> None:
        """Count a try as wrong; NotCountedError when that is not on disk."""
        self._since = self._clock()
        self._keep(lambda wrong: min(wrong + 1, MOST_WRONG))

    def forget(self) -> None:
        """Count from none again: a code did fit."""
        self._keep(lambda _: 0)

    def _keep(self, change: Callable[[int], int]) -> None:
        with one_window_at_a_time(self._folder):
            if not write_settings(self._folder / _FILE, {_NAME: change(self.wrong)}, {}):
                raise NotCountedError(tr(_NOT_COUNTED))


class Code:
    """A code in use: its digits, until it is spent, dead or too old.

    Parameters
    ----------
    tries : where wrong ones are counted.
    clock : seconds that only go forward.
    """

    def __init__(self, tries: Tries, clock: Callable[[], float] = monotonic):
        self.digits = f"{secrets.randbelow(10**DIGITS):0{DIGITS}d}"
        self._tries, self._clock = tries, clock
        self._until, self.left = clock() + SECONDS, TRIES

    @property
    def missed(self) -> int:
        """Return how many of its tries were used up."""
        return TRIES - self.left

    def seconds_left(self) -> float:
        """Return how long it is still good for; 0 when it is spent or dead."""
        return max(0.0, self._until - self._clock()) if self.left else 0.0

    def use(self) -> bytes:
        """Count a try, and return the code for it; HandoverError when it is good for none any more."""
        if not self.seconds_left():
            raise HandoverError(tr("this code is not good any more; show a new one"))
        self._tries.count()
        self.left -= 1
        return self.digits.encode()

    def spend(self) -> None:
        """Let it be good for nothing any more: it did fit."""
        self.left = 0
        self._tries.forget()
