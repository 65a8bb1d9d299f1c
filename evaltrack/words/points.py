"""Points of share beside a direction that is named: what is shown never says otherwise than the direction.

A direction is named when it is sure enough. Rounded to whole points its interval could still begin at 0, or
a little on the other side where the direction is a bit less sure than the interval: ``up (0 to 21)`` reads
as if it were not clear. Then only the far end is told.
"""

from evaltrack.language import tr
from evaltrack.words.wording import counted


def points(share: float) -> int:
    """Return a share, or a difference of two, in whole points."""
    return round(100 * share)


def moved_words(by: float) -> str:
    """Return by how much, which is not nothing: ``8 points``, ``less than 1 point``."""
    whole = abs(points(by))
    return counted(whole, "point") if whole else tr("less than 1 point")


def clear_span(low: float, high: float) -> str:
    """Return between what a difference lies whose direction is named: ``2 to 21``, ``at most 21``.

    Both are counted in that direction.
    """
    least, most = points(low), max(points(high), 1)
    return tr("{low} to {high}", low=least, high=most) if least >= 1 else tr("at most {most}", most=most)


def sided_span(low: float, high: float, value: int) -> str:
    """Return the same with its signs: ``2 to 21``, ``above 0 to 21``, ``−21 to below 0``, ``−2 to 9``.

    ``value`` in whole points is what stands before it; the span is made to hold that.
    """
    least, most = min(points(low), value), max(points(high), value)
    first = tr("above 0") if low > 0 >= least else signed(least)
    last = tr("below 0") if high < 0 <= most else signed(most)
    return tr("{low} to {high}", low=first, high=last)


def signed(whole: int) -> str:
    """Return whole points with a true minus where they are below zero."""
    return f"−{-whole}" if whole < 0 else str(whole)
