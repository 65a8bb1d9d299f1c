"""Legends and keys that speak of what is drawn, and of nothing else.

A share is drawn, with its interval, its target and its line, only where it is firm. Of everything else
there is the plain count in words: a dot at 2 of 2 would look like a share of all.
"""

from collections.abc import Iterable, Sequence

from evaltrack.analysis.standings.standing import Call, Seen, Standing
from evaltrack.rink.player import BETWEEN
from evaltrack.words.wording import ENOUGH, call_words, count_words, counted, is_firm, short_date

_SHARES = (
    "Dot: the share now, allowing for harder steps, pressure and luck.",
    "Bar: where it very likely is (90 %, darker 50 %).",
)
_TICK, _LINE = "Tick: the target.", "Line: the target."
_CHARTS = (
    "Line: the share from first seen to last seen, as this season's own observers see it, allowing for "
    "harder steps, pressure and luck. Dot: now.",
    "Bands: where it very likely is, 90 % and 50 %.",
    "Rings: practices, larger with more tries.",
    "Mark at the right: the target.",
    "Tap a chart to read what moved its share.",
)
_PLAIN = "Grey: the plain count, with nothing allowed for"
_NEEDS = f"a call needs {ENOUGH}"
LIMITED = "limited, no contact"
_FIRST = (
    "Who plays in two positions has the share under the steps and pressure that the one named first gets."
)
NOT_WATCHED = "not watched yet"
WITHOUT_COLUMN = "Skills in which nobody was seen have no column; Coverage names them."


def team_legend(shown: Iterable[Standing]) -> str:
    """Return the legend of a team board on which these standings are shown."""
    return _table_legend(list(shown), _TICK)


def skill_legend(shown: Iterable[Standing], limited: bool = False) -> str:
    """Return the legend of one skill's screen, on which a line through all of them is the target.

    With ``limited`` the mark of a limited player is told.
    """
    marked = f"L: {LIMITED}." if limited else ""
    return "  ".join(filter(None, (_table_legend(list(shown), _LINE), marked)))


def _table_legend(shown: list[Standing], target: str) -> str:
    said = ["Counts: what was seen; not a grade."] if shown else []
    return "  ".join([*said, *((*_SHARES, target) if any(map(is_firm, shown)) else ()), *_grey(shown)])


def calls_shown(shown: Iterable[Standing]) -> tuple[Call, ...]:
    """Return the calls that these standings are marked with, each once, in the order of a key."""
    marked = {one.call for one in shown if call_words(one)}
    return tuple(call for call in (Call.WORK_ON, Call.IN_BETWEEN, Call.SOLID, Call.TOO_FEW) if call in marked)


def charts_legend(shown: Iterable[Standing]) -> str:
    """Return the legend of one player's charts of these standings."""
    shown = list(shown)
    said = ["Counts are what was seen, not every try; not a grade."] if shown else []
    told = _CHARTS if any(map(is_firm, shown)) else ()
    return " ".join([*said, *told, *first_counts(shown), *_grey(shown)])


def first_counts(shown: Iterable[Standing]) -> list[str]:
    """Return by which steps the share goes of those who play in two position groups, if any stand there."""
    return [_FIRST] if any(BETWEEN in one.position and is_firm(one) for one in shown) else []


def practice_lines(seen: Iterable[Seen], most: int) -> list[str]:
    """Return the count of each practice, the last one first, in at most so many lines: ``6 Oct: 3 of 4``."""
    last_first = sorted((one for one in seen if one.tries), key=lambda one: one.on, reverse=True)
    lines = [f"{short_date(one.on)}: {count_words(one.done, one.tries)}" for one in last_first]
    if len(lines) <= most:
        return lines
    shown = lines[: max(most - 1, 0)]
    return [*shown, f"and {counted(len(lines) - len(shown), 'earlier practice')}"][:most]


def _grey(shown: Sequence[Standing]) -> list[str]:
    few = [one.call is Call.TOO_FEW for one in shown if not is_firm(one)]
    if not few:
        return []
    return [f"{_PLAIN}; {_NEEDS}." if any(few) else f"{_PLAIN}."]
