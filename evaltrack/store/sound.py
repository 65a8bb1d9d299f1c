"""What a value from a season file must be to become one of ours.

A file may have been damaged, or made by somebody who means harm: SQLite looks at what is written, and not at
what it finds. So every value is looked at when it is read, and what we would not have written is damage, told
in one sentence. `what` names the value in that sentence: ``the name of a player``. It is looked up in the
user's language when the sentence is said, so that reading a log costs nothing for it.
"""

import sqlite3
from collections import Counter
from collections.abc import Callable, Container, Hashable, Iterable, Mapping
from datetime import date
from enum import StrEnum
from typing import TypeVar
from uuid import UUID

from evaltrack.errors import SeasonFileError
from evaltrack.language import tr
from evaltrack.rink.plain_text import one_line, printable

LONGEST_NAME, LONGEST_TEXT, LONGEST_LIST = 200, 2_000, 20_000  # characters
# rows, far above any season's: what is more would take memory and time without end
MOST_PLAYERS = MOST_IN_CATALOGUE = 1_000
MOST_SLOTS = 100  # of one step
MOST_OF_DRILLS = 5_000  # slots and steps, those that are not in use any more among them
MOST_PRACTICES = MOST_OBSERVERS = MOST_CORRECTIONS = MOST_CHANGES = 5_000
MOST_OF_PRACTICE = 100_000
MOST_NOTE_FACTS = 100_000  # what was done to families' pages, each change of a sentence among it
MOST_EVENINGS = 5_000  # of meetings, each change of one among them
MOST_CAME = 20_000  # marks of who came to one
MOST_CORRECTED = 300_000  # tallies, each as often as it was put right
MOST_FACTS = 10_000  # of one rotation since it was started
MOST_TURNS = 1_000_000  # of these, times the players in it: each fact keeps where all of them were
MOST_TALLIES = 3_000_000
MOST_CELLS = 300_000
_YEARS = range(1900, 3000)
# in ms, from the year 1 to the year 9999, without the days that are in no calendar of some time zone
FIRST_MOMENT, LAST_MOMENT = -62_135_423_999_000, 253_402_127_999_999

Kind = TypeVar("Kind", bound=StrEnum)
Value = TypeVar("Value")


def damaged(what: str) -> SeasonFileError:
    """Return the error that says what is damaged, and what to do."""
    return _damaged(tr(what))


def _damaged(said: str) -> SeasonFileError:
    sentence = tr("the season file is damaged: {what}; keep it as it is, and go back to a backup", what=said)
    return SeasonFileError(sentence)


def unlike(what: str) -> SeasonFileError:
    """Return the error for a value that we would not have written."""
    return _damaged(tr("{what} is not as evaltrack writes it", what=tr(what)))


def text(value: object, what: str) -> str:
    """Return a text, of one line or several, in which what hides is replaced."""
    if type(value) is not str or len(value) > LONGEST_TEXT:
        raise unlike(what)
    return printable(value)


def name(value: object, what: str, longest: int = LONGEST_NAME) -> str:
    """Return a name, on one line."""
    if type(value) is not str or len(value) > longest:
        raise unlike(what)
    return one_line(value)


def lines(value: object, what: str) -> tuple[str, ...]:
    """Return the lines of a text, none of an empty one."""
    if type(value) is not str or len(value) > LONGEST_LIST:
        raise unlike(what)
    return tuple(one_line(line) for line in value.split("\n")) if value else ()


def key(value: object, what: str) -> str:
    """Return a key: other rows name it, so nothing in it can be replaced."""
    fits = type(value) is str and 0 < len(value) <= LONGEST_NAME and value.isprintable() and " " not in value
    return value if fits else _refuse(what)


def keys(value: object, what: str) -> tuple[str, ...]:
    """Return keys that are separated by blanks."""
    if type(value) is not str or len(value) > LONGEST_LIST:
        raise unlike(what)
    return tuple(key(part, what) for part in value.split())


def digits(value: object, what: str) -> str:
    """Return a jersey number."""
    fits = type(value) is str and 0 < len(value) <= 9 and value.isascii() and value.isdigit()
    return value if fits else _refuse(what)


def ident(value: object, what: str) -> UUID:
    """Return an identifier from its 16 bytes."""
    return UUID(bytes=value) if type(value) is bytes and len(value) == 16 else _refuse(what)


def whole(value: object, what: str, low: int = 0, high: int = 1_000_000) -> int:
    """Return a whole number within bounds, both included."""
    return value if type(value) is int and low <= value <= high else _refuse(what)


def moment(value: object, what: str) -> int:
    """Return a moment that lies in a calendar."""
    return whole(value, what, FIRST_MOMENT, LAST_MOMENT)


def year(value: object, what: str) -> int:
    """Return a year of our time."""
    return whole(value, what, _YEARS.start, _YEARS.stop - 1)


def observer(value: object) -> str:
    """Return who observes, as somebody wrote it."""
    return name(value, "the name of an observer", LONGEST_TEXT)


def tablet(value: object) -> str:
    """Return the id of a tablet, or what stands in its place."""
    return name(value, "the id of a tablet")


def share(value: object, what: str) -> float:
    """Return a share between 0 and 1, neither of them."""
    return value if type(value) is float and 0 < value < 1 else _refuse(what)


def flag(value: object, what: str) -> bool:
    """Return a yes or no, which is kept as 1 or 0."""
    return bool(whole(value, what, 0, 1))


def day(value: object, what: str) -> date:
    """Return a day, written as 2025-09-04 and in no other way: days are compared as texts."""
    try:
        read = date.fromisoformat(value)
    except (TypeError, ValueError):
        raise unlike(what) from None
    return read if read.isoformat() == value and read.year in _YEARS else _refuse(what)


def word(kind: type[Kind], value: object, what: str) -> Kind:
    """Return the member of an enumeration with this value."""
    try:
        return kind(value)
    except ValueError:
        raise unlike(what) from None


def maybe(read: Callable[[object, str], Value], value: object, what: str) -> Value | None:
    """Return None for none, and else what the reader makes of it."""
    return None if value is None else read(value, what)


def among(known: Container, value: Hashable, what: str) -> Hashable:
    """Return a value that names something else in the file, which must be there."""
    return value if value in known else _refuse_unknown(what)


def of(known: Mapping[Hashable, Value], value: Hashable, what: str) -> Value:
    """Return what in the file a value names, which must be there."""
    return known[value] if value in known else _refuse_unknown(what)


def no_more_than(most: int, rows: sqlite3.Cursor, what: str) -> list[tuple]:
    """Return all rows, of which there are no more than a season can have."""
    found = rows.fetchmany(most + 1)
    if len(found) > most:
        raise _damaged(tr("it has more than {most} {what}", most=most, what=tr(what)))
    return found


def each_once(values: Iterable[Hashable], what: str) -> None:
    """Refuse values of which one stands there twice."""
    if any(count > 1 for count in Counter(values).values()):
        raise _damaged(tr("{what} stands there twice", what=tr(what)))


class Read(dict):
    """What values mean, each different one read once: in a log the same few stand in every row."""

    def __init__(self, read: Callable[[object], object]):
        super().__init__()
        self._read = read

    def __missing__(self, value: Hashable) -> object:
        meant = self[value] = self._read(value)
        return meant


def _refuse(what: str):
    raise unlike(what)


def _refuse_unknown(what: str):
    raise _damaged(tr("{what} names something that is not there", what=tr(what)))
