"""Numbers in words that claim no more than the numbers do.

A share is told as a frequency with its denominator, "26 of 37, about 7 in 10": readers of every schooling
take that in better than a percentage. A direction is named only when the standing's trend names it.
"""

from collections.abc import Sequence
from datetime import date, datetime, time
from math import ceil, floor

from evaltrack.analysis.standings.standing import (
    ENOUGH_PRACTICES,  # noqa: F401  asked for here
    ENOUGH_TRIES,  # noqa: F401
    Call,
    Coverage,
    Standing,
    Trend,
)
from evaltrack.language import (
    NO_BREAK,
    Language,
    decimal,
    language,
    mark,
    tr,
    tr_many,
)
from evaltrack.rink.days import long_date, month_name, short_date, short_month  # noqa: F401  asked for here
from evaltrack.rink.plain_text import capital
from evaltrack.rink.player import Position

DIRECTIONS = {
    Trend.UP: mark("going up"),
    Trend.DOWN: mark("going down"),
    Trend.NO_CLEAR_CHANGE: mark("no clear change yet"),
}

ENOUGH = mark("10 tries over 3 practices")  # as in ``analysis.standings.standing``
_GROUPS = {
    Position.DEFENCE: mark("Defenders"),
    Position.FORWARD: mark("Forwards"),
    Position.GOALIE: mark("Goalies"),
}

FRESH_DAYS = 14  # after which a share is told with its day and no longer with "now"


def in_percent(share: float, digits: int = 0) -> str:
    """Return ``72 %`` for 0.72."""
    return tr("{number} %", number=decimal(100 * share, digits))


def clock_time(when: time | datetime) -> str:
    """Return ``18:30``; in Canada's French ``18 h 30``, and ``18 h`` on the hour."""
    if language() is not Language.FRENCH_CANADA:
        return f"{when:%H:%M}"
    return f"{when.hour}{NO_BREAK}h" + (f"{NO_BREAK}{when:%M}" if when.minute else "")


def as_sentence(words: str) -> str:
    """Return words with a capital, and with a full stop where no other sign ends them."""
    return capital(words) + ("" if words.endswith((".", "?", ":")) else ".")


def listed(words: Sequence[str]) -> str:
    """Return ``a, b and c``; one word as it is, and nothing for none."""
    if len(words) < 2:
        return "".join(words)
    return tr("{others} and {last}", others=", ".join(words[:-1]), last=words[-1])


def either(words: Sequence[str]) -> str:
    """Return ``a, b or c``; one word as it is, and nothing for none."""
    if len(words) < 2:
        return "".join(words)
    return tr("{others} or {last}", others=", ".join(words[:-1]), last=words[-1])


def counted(number: int, noun: str, plural: str | None = None) -> str:
    """Return ``1 try``, ``3 tries``. The noun is a literal, to be found by the collector."""
    return tr_many(f"{{number}} {noun}", f"{{number}} {plural or noun + 's'}", number)


def sentence(words: str) -> str:
    """Return words with a capital and a full stop; of none nothing."""
    return words and words[:1].upper() + words[1:] + ("" if words.endswith((".", "?")) else ".")


def group_word(group: Position) -> str:
    """Return ``Defenders``."""
    return tr(_GROUPS[group])


def count_words(done: int, tries: int) -> str:
    """Return ``26 of 37``."""
    return tr("{done} of {tries}", done=done, tries=tries)


def share_words(done: int, tries: int) -> str:
    """Return the share done as a frequency in ten, rounded half up, without ever rounding to none or all."""
    if tries == 0:
        return tr("not seen yet")
    if done == 0:
        return tr("none yet")
    if done == tries:
        return tr("every one")
    tenths = (20 * done + tries) // (2 * tries)
    if tenths == 0:
        return tr("fewer than 1 in 10")
    return tr("more than 9 in 10") if tenths == 10 else tr("about {tenths} in 10", tenths=tenths)


def told(standing: Standing) -> str:
    """Return ``26 of 37, about 7 in 10``."""
    count = count_words(standing.done, standing.tries)
    return tr("{count}, {share}", count=count, share=share_words(standing.done, standing.tries))


def is_firm(standing: Standing) -> bool:
    """Say whether a level and a direction may be told at all: tries enough, and an estimate that stands.

    Only then is a share drawn; of all else the plain count is told, in words.
    """
    return standing.judged


def call_words(standing: Standing) -> str:
    """Return the call; empty where tries are enough but the estimate does not stand, so that none is made."""
    return tr(standing.call) if is_firm(standing) or standing.call is Call.TOO_FEW else ""


def missing_words(standing: Standing | Coverage) -> str:
    """Return what is missing until a call can be made: ``4 more tries, at 1 more practice``; or nothing."""
    tries, practices = standing.missing
    more = counted(tries, "more try", "more tries") if tries else ""
    if not practices:
        return more
    at = counted(practices, "more practice")
    return (
        tr("{tries}, at {practices}", tries=more, practices=at)
        if tries
        else tr("tries at {practices}", practices=at)
    )


def now_words(standing: Standing, last: date) -> str:
    """Return ``now``, or ``on 11 Nov`` when the skill was last watched long before the last practice."""
    watched = standing.path[-1].on if standing.path else last
    return tr("now") if (last - watched).days <= FRESH_DAYS else tr("on {day}", day=short_date(watched))


def state_words(standing: Standing, last: date) -> str:
    """Return the share with its 90 % interval, and where it is heading: ``now about 6 in 10 (4 to 8); ...``.

    ``last`` is the day of the last practice.
    """
    if not is_firm(standing):
        return direction_words(standing)
    return tr(
        "{when} {share} ({tenths}); {direction}",
        when=now_words(standing, last),
        share=about_words(standing.share),
        tenths=tenths_words(standing.low, standing.high),
        direction=direction_words(standing),
    )


def direction_words(standing: Standing) -> str:
    """Return where the share is heading, or why that cannot be said."""
    if standing.call is Call.TOO_FEW:
        return tr("too few yet: {missing}", missing=missing_words(standing))
    return tr("no clear reading yet") if standing.doubt else tr(DIRECTIONS[standing.trend])


def level_words(standing: Standing) -> str:
    """Return the 90 % interval of the share now, in tenths and rounded outward: ``5 to 8 in 10``.

    Empty when the estimate does not stand.
    """
    return span_words(standing.low, standing.high) if is_firm(standing) else ""


def span_words(low: float, high: float) -> str:
    """Return the bounds of a share in tenths, rounded outward: ``5 to 8 in 10``."""
    least, most = tenths_outward(low, high)
    return tr("{low} to {high} in 10", low=least, high=most)


def tenths_words(low: float, high: float) -> str:
    """Return the bounds of a share beside another share in tenths: ``5 to 8``."""
    least, most = tenths_outward(low, high)
    return tr("{low} to {high}", low=least, high=most)


def tenths_outward(low: float, high: float) -> tuple[int, int]:
    """Return the bounds of a share in tenths, rounded outward."""
    # nine decimals: a bound of 0.3 must not become 2 tenths or 4 by how floats are stored
    return floor(round(low * 10, 9)), ceil(round(high * 10, 9))


def about_words(share: float) -> str:
    """Return an estimated share as a frequency in ten: ``about 6 in 10``."""
    return share_words(min(max(round(1000 * share), 1), 999), 1000)


def chart_words(name: str, standing: Standing, level: str) -> str:
    """Return the chart in words, for those who do not see it. ``level`` may be empty."""
    said = tr(
        "{name}: done in {told}, at {practices}. Direction: {direction}.",
        name=name,
        told=told(standing),
        practices=counted(len(standing.seen), "practice"),
        direction=direction_words(standing),
    )
    return " ".join(filter(None, (said, level and tr("Very likely {level}.", level=level))))


COUNTS = mark("Counts are what coaches had time to write down, not every try. They are not a grade.")
CAUTION = mark(
    "After a knock or an injury: no practice, at home or on the ice, until licensed medical advice clears "
    "it. Where your local rules ask for more, they come first."
)
