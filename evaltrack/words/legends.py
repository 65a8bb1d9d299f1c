"""Legends and keys that speak of what is drawn, and of nothing else.

A share is drawn, with its interval, its target and its line, only where it is firm. Of everything else
there is the plain count in words: a dot at 2 of 2 would look like a share of all.
"""

from collections.abc import Iterable, Sequence

from evaltrack.analysis.standings.standing import Call, Seen, Standing
from evaltrack.language import mark, tr
from evaltrack.rink.player import BETWEEN
from evaltrack.words.wording import ENOUGH, call_words, count_words, counted, is_firm, short_date

_SHARES = (
    mark("Dot: the share now, allowing for harder steps, pressure and luck."),
    mark("Bar: where it very likely is (90 %, darker 50 %)."),
)
_TICK, _LINE = mark("Tick: the target."), mark("Line: the target.")
_CHARTS = (
    mark(
        "Line: the share from first seen to last seen, as this season's own observers see it, allowing for "
        "harder steps, pressure and luck. Dot: now."
    ),
    mark("Bands: where it very likely is, 90 % and 50 %."),
    mark("Rings: practices, larger with more tries."),
    mark("Mark at the right: the target."),
    mark("Tap a chart to read what moved its share."),
)
LIMITED = mark("limited, no contact")
_FIRST = mark(
    "Who plays in two positions has the share under the steps and pressure that the one named first gets."
)
NOT_WATCHED = mark("not watched yet")
WITHOUT_COLUMN = mark("Skills in which nobody was seen have no column; Coverage names them.")


def team_legend(shown: Iterable[Standing]) -> str:
    """Return the legend of a team board on which these standings are shown."""
    return _table_legend(list(shown), _TICK)


def skill_legend(shown: Iterable[Standing], limited: bool = False) -> str:
    """Return the legend of one skill's screen, on which a line through all of them is the target.

    With ``limited`` the mark of a limited player is told.
    """
    marked = tr("L: limited, no contact.") if limited else ""
    return "  ".join(filter(None, (_table_legend(list(shown), _LINE), marked)))


def _table_legend(shown: list[Standing], target: str) -> str:
    said = [tr("Counts: what was seen; not a grade.")] if shown else []
    shares = map(tr, (*_SHARES, target)) if any(map(is_firm, shown)) else ()
    return "  ".join([*said, *shares, *_grey(shown)])


def calls_shown(shown: Iterable[Standing]) -> tuple[Call, ...]:
    """Return the calls that these standings are marked with, each once, in the order of a key."""
    marked = {one.call for one in shown if call_words(one)}
    return tuple(call for call in (Call.WORK_ON, Call.IN_BETWEEN, Call.SOLID, Call.TOO_FEW) if call in marked)


def charts_legend(shown: Iterable[Standing]) -> str:
    """Return the legend of one player's charts of these standings."""
    shown = list(shown)
    said = [tr("Counts are what was seen, not every try; not a grade.")] if shown else []
    told = map(tr, _CHARTS) if any(map(is_firm, shown)) else ()
    return " ".join([*said, *told, *first_counts(shown), *_grey(shown)])


def first_counts(shown: Iterable[Standing]) -> list[str]:
    """Return by which steps the share goes of those who play in two position groups, if any stand there."""
    return [tr(_FIRST)] if any(BETWEEN in one.position and is_firm(one) for one in shown) else []


def practice_lines(seen: Iterable[Seen], most: int) -> list[str]:
    """Return the count of each practice, the last one first, in at most so many lines: ``6 Oct: 3 of 4``."""
    last_first = sorted((one for one in seen if one.tries), key=lambda one: one.on, reverse=True)
    lines = [
        tr("{day}: {count}", day=short_date(one.on), count=count_words(one.done, one.tries))
        for one in last_first
    ]
    if len(lines) <= most:
        return lines
    shown = lines[: max(most - 1, 0)]
    return [*shown, tr("and {practices}", practices=counted(len(lines) - len(shown), "earlier practice"))][
        :most
    ]


def _grey(shown: Sequence[Standing]) -> list[str]:
    few = [one.call is Call.TOO_FEW for one in shown if not is_firm(one)]
    if not few:
        return []
    if not any(few):
        return [tr("Grey: the plain count, with nothing allowed for.")]
    return [tr("Grey: the plain count, with nothing allowed for; a call needs {enough}.", enough=tr(ENOUGH))]
