"""Who is much stricter than the other observers, or notes mostly failures, in sentences for the staff."""

from evaltrack.analysis.standings.strict_observer import StrictObserver, TeamCount
from evaltrack.words.wording import count_words

WHAT_TO_DO = "Note every try of a player or none, and watch one station together to compare."

NOBODY_STRICT = (
    "By the season's tries nobody is surely much stricter than the others. With one observer that cannot be "
    "seen."
)


def strict_title(strict: StrictObserver) -> str:
    """Return in one line who stands out: ``Marit is stricter than Ines, or notes mostly failures``."""
    return f"{strict.observer} is much stricter than {_names(strict.others)}, or notes mostly failures"


def strict_words(strict: StrictObserver) -> str:
    """Return who stands out, how likely that is, and what to do.

    Of two observers the counts cannot tell which is the odd one: that is said too.
    """
    chance = "over 99 %" if strict.p_strict > 0.99 else f"{100 * strict.p_strict:.0f} %"
    said = f"{strict_title(strict)} (chance {chance})"
    if len(strict.others) == 1:
        said += f"; or {strict.others[0]} notes mostly what comes off, which counts alone cannot tell apart"
    return f"{said}. {WHAT_TO_DO}"


def with_and_without(count: TeamCount) -> tuple[str, str]:
    """Return the team's count in a skill with the observer's tries and without: ``12 of 20, 60 %``."""
    return (_count(count.done, count.tries), _count(count.done_without, count.tries_without))


def _count(done: int, tries: int) -> str:
    return f"{count_words(done, tries)}, {100 * done / tries:.0f} %"


def _names(names: tuple[str, ...]) -> str:
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]
