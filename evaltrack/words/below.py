"""How many players are below a target, in the same words for the form, the plan and the command line."""

from evaltrack.analysis.standings.targets import Below
from evaltrack.rink.plan import Need
from evaltrack.words.wording import ENOUGH, counted

NOBODY_JUDGED = "nobody can be judged in it yet"
WHO_IS_JUDGED = f"Those can be judged who have {ENOUGH}, once the season tells of the skill."
_SPELT = "no one two three four five six seven eight nine ten eleven twelve".split()


def below_words(one: Below) -> str:
    """Return ``about 6 of the 10 players who can be judged are below it (very likely 4 to 8)``.

    Where nobody can be judged, that is said.
    """
    if not one.of:
        return NOBODY_JUDGED
    return f"{_about(one.of, one.about)} below it ({likely_words(one.low, one.high)})"


def need_below_words(need: Need) -> str:
    """Return the same of a plan, whose players are those who will be here."""
    if not need.judged:
        return "nobody here can be judged in it yet"
    below = need.below
    low, high = round(below.low), round(below.high)
    said = _about(need.judged, round(below.value), " here")
    return f"{said} below the target ({likely_words(low, high)})"


def _about(of: int, about: int, where: str = "") -> str:
    whom = f"the {counted(of, 'player')}{where} who can be judged"
    return f"about {about} of {whom} {'is' if about == 1 else 'are'}"


def likely_words(low: int, high: int) -> str:
    """Return where a number of players very likely is: ``very likely 4 to 8``."""
    return f"very likely {low}" if low == high else f"very likely {low} to {high}"


def target_words(now: Below, then: Below) -> str:
    """Return how many a target puts below it, and how many more than the one in force where it is another.

    ``With 70 %, about 9 of the 10 players who can be judged are below it (very likely 7 to 10): three more
    than now.``
    """
    if not then.of:
        return f"{NOBODY_JUDGED.capitalize()}."
    if now.target == then.target:
        return f"Now {below_words(then)}."
    return f"With {100 * then.target:.3g} %, {change_words(now, then)}."


def change_words(now: Below, then: Below) -> str:
    """Return how many another target puts below it, and how many more than the one in force."""
    more = f": {_more(then.about - now.about)}" if then.of else ""
    return f"{below_words(then)}{more}"


def _more(by: int) -> str:
    if not by:
        return "as many as now"
    spelt = _SPELT[abs(by)] if abs(by) < len(_SPELT) else str(abs(by))
    return f"{spelt} {'more' if by > 0 else 'fewer'} than now"
