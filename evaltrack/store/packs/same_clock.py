"""Which of two texts of one thing holds when nothing says that one is newer, on every tablet the same.

Values of a field have one clock and one tablet in three cases: a season set out from them, and a file of it
has other ones, because it was lent with less in it, or because a name was struck out; two tablets go by one
id. Facts that differ under one key do so for the last two. What a loan left out or kept back is never news.
"""

from collections.abc import Iterable, Iterator

from evaltrack.rink.name_pattern import KEPT_BACK, STRUCK

_VALUE = 5  # where the value stands in an edit


def weight(text: str) -> tuple:
    """Return by what a text is the greater of two: what a loan kept back loses, who was erased stays away.

    Else what says more is the greater: the whole name and not the first one alone, a year and not none.
    """
    return KEPT_BACK not in text, STRUCK in text, len(text.replace("null", "")), text


def heaviest(edits: Iterable[tuple]) -> Iterator[tuple]:
    """Yield edits, of those of one field, clock and tablet only the one that holds."""
    found: dict[tuple, str] = {}
    for row in edits:
        key, value = row[:_VALUE], row[_VALUE]
        found[key] = max(found.get(key, value), value, key=weight)
    return ((*key, value) for key, value in found.items())
