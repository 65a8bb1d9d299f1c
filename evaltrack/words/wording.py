"""Numbers in words that claim no more than the numbers do.

A share is told as a frequency with its denominator, "26 of 37, about 7 in 10": readers of every schooling
take that in better than a percentage. A direction is named only when the standing's trend names it.
"""

from datetime import date
from math import ceil, floor

from evaltrack.analysis.standings.standing import (
    ENOUGH_PRACTICES,
    ENOUGH_TRIES,
    Call,
    Coverage,
    Standing,
    Trend,
)
from evaltrack.language import tr_many
from evaltrack.rink.player import Position

_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip

DIRECTIONS = {
    Trend.UP: "going up",
    Trend.DOWN: "going down",
    Trend.NO_CLEAR_CHANGE: "no clear change yet",
}

ENOUGH = f"{ENOUGH_TRIES} tries over {ENOUGH_PRACTICES} practices"
TOO_FEW = "too few yet"
FRESH_DAYS = 14  # after which a share is told with its day and no longer with "now"
NO_READING = "no clear reading yet"


def long_date(day: date) -> str:
    """Return ``12 January 2026``: no reader takes the day for the month."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def month_name(month: int) -> str:
    """Return ``January`` for 1."""
    return _MONTHS[month - 1]


def short_month(day: date) -> str:
    """Return ``Jan``."""
    return _MONTHS[day.month - 1][:3]


def short_date(day: date) -> str:
    """Return ``12 Jan``."""
    return f"{day.day} {short_month(day)}"


def counted(number: int, noun: str, plural: str | None = None) -> str:
    """Return ``1 try``, ``3 tries``. The noun is a literal, to be found by the collector."""
    return tr_many(f"{{number}} {noun}", f"{{number}} {plural or noun + 's'}", number)


def group_word(group: Position) -> str:
    """Return ``Defenders``."""
    return f"{group.word.capitalize()}s"


def count_words(done: int, tries: int) -> str:
    """Return ``26 of 37``."""
    return f"{done} of {tries}"


def share_words(done: int, tries: int) -> str:
    """Return the share done as a frequency in ten, rounded half up, without ever rounding to none or all."""
    if tries == 0:
        return "not seen yet"
    if done == 0:
        return "none yet"
    if done == tries:
        return "every one"
    tenths = (20 * done + tries) // (2 * tries)
    if tenths == 0:
        return "fewer than 1 in 10"
    return "more than 9 in 10" if tenths == 10 else f"about {tenths} in 10"


def told(standing: Standing) -> str:
    """Return ``26 of 37, about 7 in 10``."""
    count = count_words(standing.done, standing.tries)
    return f"{count}, {share_words(standing.done, standing.tries)}"


def is_firm(standing: Standing) -> bool:
    """Say whether a level and a direction may be told at all: tries enough, and an estimate that stands.

    Only then is a share drawn; of all else the plain count is told, in words.
    """
    return standing.judged


def call_words(standing: Standing) -> str:
    """Return the call; empty where tries are enough but the estimate does not stand, so that none is made."""
    return str(standing.call) if is_firm(standing) or standing.call is Call.TOO_FEW else ""


def missing_words(standing: Standing | Coverage) -> str:
    """Return what is missing until a call can be made: ``4 more tries, at 1 more practice``; or nothing."""
    tries, practices = standing.missing
    more = counted(tries, "more try", "more tries") + "," if tries else "tries"
    if practices:
        return f"{more} at {counted(practices, 'more practice')}"
    return more.removesuffix(",") if tries else ""


def now_words(standing: Standing, last: date) -> str:
    """Return ``now``, or ``on 11 Nov`` when the skill was last watched long before the last practice."""
    watched = standing.path[-1].on if standing.path else last
    return "now" if (last - watched).days <= FRESH_DAYS else f"on {short_date(watched)}"


def state_words(standing: Standing, last: date) -> str:
    """Return the share with its 90 % interval, and where it is heading: ``now about 6 in 10 (4 to 8); ...``.

    ``last`` is the day of the last practice.
    """
    if not is_firm(standing):
        return direction_words(standing)
    about = about_words(standing.share)
    span = level_words(standing).removesuffix(" in 10")
    return f"{now_words(standing, last)} {about} ({span}); {direction_words(standing)}"


def direction_words(standing: Standing) -> str:
    """Return where the share is heading, or why that cannot be said."""
    if standing.call is Call.TOO_FEW:
        return f"{TOO_FEW}: {missing_words(standing)}"
    return NO_READING if standing.doubt else DIRECTIONS[standing.trend]


def level_words(standing: Standing) -> str:
    """Return the 90 % interval of the share now, in tenths and rounded outward: ``5 to 8 in 10``.

    Empty when the estimate does not stand.
    """
    return span_words(standing.low, standing.high) if is_firm(standing) else ""


def span_words(low: float, high: float) -> str:
    """Return the bounds of a share in tenths, rounded outward: ``5 to 8 in 10``."""
    # nine decimals: a bound of 0.3 must not become 2 tenths or 4 by how floats are stored
    return f"{floor(round(low * 10, 9))} to {ceil(round(high * 10, 9))} in 10"


def about_words(share: float) -> str:
    """Return an estimated share as a frequency in ten: ``about 6 in 10``."""
    return share_words(min(max(round(1000 * share), 1), 999), 1000)


def chart_words(name: str, standing: Standing, level: str) -> str:
    """Return the chart in words, for those who do not see it. ``level`` may be empty."""
    now = f" Very likely {level}." if level else ""
    seen = counted(len(standing.seen), "practice")
    return f"{name}: done in {told(standing)}, at {seen}. Direction: {direction_words(standing)}.{now}"


COUNTS = "Counts are what coaches had time to write down, not every try. They are not a grade."
CAUTION = (
    "After a knock or an injury: no practice, at home or on the ice, until licensed medical advice clears "
    "it. Local rules come first."
)
