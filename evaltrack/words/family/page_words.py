"""The words that stand on every page whatever the counts, and how the page is read."""

from evaltrack.language import mark, tr
from evaltrack.words.family.sheet import AGREED, AT_HOME, COACH, GOING_WELL, NEXT, SEEN
from evaltrack.words.wording import CAUTION

HEADINGS = {
    SEEN: mark("What we watched"),
    GOING_WELL: mark("Going well"),
    NEXT: mark("Working on next"),
    AT_HOME: mark("To try at home"),
    COACH: mark("From the coach"),
    AGREED: mark("What we agreed"),
}

NO_GRADE = mark("The counts are not a grade.")
FOOTERS = (NO_GRADE, CAUTION)

NO_STRENGTH = mark("What the coach saw go well:")
NO_NEXT_STEP = mark("No skill stands out so far. Let us choose one together.")
TOO_LITTLE_SEEN = mark("We have not seen enough yet to name a skill. Let us choose one together.")

_CHARTS = mark(
    "Each chart runs from our first practice on the left to the last one on the right. A higher line means "
    "that it works more often. The dotted line is 5 in 10, and no mark to reach. The counts cover the whole "
    "time. The line evens out harder drills and luck, so it can differ."
)
_LEVEL = mark("“Maybe” tells how closely we know it, not good and bad days.")
_SOLID = mark(
    "Solid means that it likely works more often than the coach asks for. You can ask how often that is."
)


def how_to_read(drawn: bool, ranged: bool, solid: bool) -> str:
    """Return how a family reads its page, of which each part is there or not; empty where none is.

    Parameters
    ----------
    drawn : there are charts.
    ranged : some row tells a range.
    solid : something is called solid.
    """
    parts = ((_CHARTS, drawn), (_LEVEL, ranged), (_SOLID, solid))
    return " ".join(tr(words) for words, shown in parts if shown)
