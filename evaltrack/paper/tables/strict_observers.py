"""Who is much stricter than the other observers: the team's counts with and without them."""

from collections.abc import Iterable
from textwrap import wrap

from evaltrack.analysis.standings.strict_observer import StrictObserver
from evaltrack.language import tr
from evaltrack.paper.tables.for_programs import plain_row
from evaltrack.words.observers import strict_words, with_and_without

_WIDE = 100  # characters of a line


def as_rows(strict: Iterable[StrictObserver]) -> list[dict]:
    """Return them for other programs, with the team's ``counts`` in each skill."""
    return [plain_row(one) for one in strict]


def as_table(strict: Iterable[StrictObserver]) -> str:
    """Return for each of them what to know and to do, and the team's counts; empty where there is nobody."""
    blocks = [[*wrap(strict_words(one), _WIDE), "", *_counts(one)] for one in strict]
    return "".join("\n" + "\n".join(block) + "\n" for block in blocks)


def _counts(strict: StrictObserver) -> list[str]:
    rows = [(tr("the team"), tr("with {name}", name=strict.observer), tr("without"))]
    rows += [(count.skill, *with_and_without(count)) for count in strict.counts]
    first, second, third = (max(map(len, column)) for column in zip(*rows, strict=True))
    return [f"  {skill:<{first}}  {both:>{second}}  {without:>{third}}" for skill, both, without in rows]
