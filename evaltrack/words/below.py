"""How many players are below a target, in the same words for the form, the plan and the command line."""

from evaltrack.analysis.standings.targets import Below
from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.plan import Need
from evaltrack.words.wording import counted, decimal

NOBODY_JUDGED = mark("nobody can be judged in it yet")
WHO_IS_JUDGED = mark(
    "Those can be judged who have 10 tries over 3 practices, once the season tells of the skill."
)
_SPELT = (
    "", mark("one"), mark("two"), mark("three"), mark("four"), mark("five"), mark("six"), mark("seven"),
    mark("eight"), mark("nine"), mark("ten"), mark("eleven"), mark("twelve"),
)  # fmt: skip


def below_words(one: Below) -> str:
    """Return ``about 6 of the 10 players who can be judged are below it (very likely 4 to 8)``.

    Where nobody can be judged, that is said.
    """
    if not one.of:
        return tr(NOBODY_JUDGED)
    return tr_many(
        "about {number} of the {players} who can be judged is below it ({likely})",
        "about {number} of the {players} who can be judged are below it ({likely})",
        one.about,
        players=counted(one.of, "player"),
        likely=likely_words(one.low, one.high),
    )


def need_below_words(need: Need) -> str:
    """Return the same of a plan, whose players are those who will be here."""
    if not need.judged:
        return tr("nobody here can be judged in it yet")
    below = need.below
    return tr_many(
        "about {number} of the {players} here who can be judged is below the target ({likely})",
        "about {number} of the {players} here who can be judged are below the target ({likely})",
        round(below.value),
        players=counted(need.judged, "player"),
        likely=likely_words(round(below.low), round(below.high)),
    )


def likely_words(low: int, high: int) -> str:
    """Return where a number of players very likely is: ``very likely 4 to 8``."""
    if low == high:
        return tr("very likely {players}", players=low)
    return tr("very likely {low} to {high}", low=low, high=high)


def target_words(now: Below, then: Below) -> str:
    """Return how many a target puts below it, and how many more than the one in force where it is another.

    ``With 70 %, about 9 of the 10 players who can be judged are below it (very likely 7 to 10): three more
    than now.``
    """
    if not then.of:
        return tr("Nobody can be judged in it yet.")
    if now.target == then.target:
        return tr("Now {below}.", below=below_words(then))
    share = decimal(100 * then.target, 1, trim=True)
    return tr("With {share} %, {below}.", share=share, below=change_words(now, then))


def change_words(now: Below, then: Below) -> str:
    """Return how many another target puts below it, and how many more than the one in force."""
    said = below_words(then)
    return tr("{below}: {more}", below=said, more=_more(then.about - now.about)) if then.of else said


def _more(by: int) -> str:
    if not by:
        return tr("as many as now")
    spelt = tr(_SPELT[abs(by)]) if abs(by) < len(_SPELT) else str(abs(by))
    return tr("{spelt} more than now", spelt=spelt) if by > 0 else tr("{spelt} fewer than now", spelt=spelt)
