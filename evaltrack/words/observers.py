"""Who is much stricter than the other observers, or notes mostly failures, in sentences for the staff."""

from evaltrack.analysis.standings.strict_observer import StrictObserver, TeamCount
from evaltrack.language import mark, tr
from evaltrack.words.wording import count_words, in_percent, listed

WHAT_TO_DO = mark("Note every try of a player or none, and watch one station together to compare.")

NOBODY_STRICT = mark(
    "By the season's tries nobody is surely much stricter than the others. With one observer that cannot be "
    "seen."
)


def strict_title(strict: StrictObserver) -> str:
    """Return in one line who stands out: ``Marit is stricter than Ines, or notes mostly failures``."""
    return tr(
        "{observer} is much stricter than {others}, or notes mostly failures",
        observer=strict.observer,
        others=listed(strict.others),
    )


def strict_words(strict: StrictObserver) -> str:
    """Return who stands out, how likely that is, and what to do.

    Of two observers the counts cannot tell which is the odd one: that is said too.
    """
    chance = tr("over 99 %") if strict.p_strict > 0.99 else in_percent(strict.p_strict)
    said = {"who": strict_title(strict), "chance": chance, "what": tr(WHAT_TO_DO)}
    if len(strict.others) != 1:
        return tr("{who} (chance {chance}). {what}", **said)
    return tr(
        "{who} (chance {chance}); or {other} notes mostly what comes off, which counts alone cannot tell "
        "apart. {what}",
        other=strict.others[0],
        **said,
    )


def with_and_without(count: TeamCount) -> tuple[str, str]:
    """Return the team's count in a skill with the observer's tries and without: ``12 of 20, 60 %``."""
    return (_count(count.done, count.tries), _count(count.done_without, count.tries_without))


def _count(done: int, tries: int) -> str:
    return tr("{count}, {share}", count=count_words(done, tries), share=in_percent(done / tries))
