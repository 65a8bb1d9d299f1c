"""Which letters no font has: they would be empty boxes on paper."""

import unicodedata
from functools import cache
from pathlib import Path

from fontTools.ttLib import TTFont, TTLibError

from evaltrack.device.added_fonts import added_fonts
from evaltrack.places import assets

_JOIN = "\u200c\u200d\ufe0e\ufe0f"  # they only say how their neighbours are drawn


def missing_letters(text: str) -> list[str]:
    """Return the letters of a text that neither our fonts nor those that the club added have, each once."""
    asked = {one for one in text if not one.isspace() and one not in _JOIN}
    shipped = sorted((assets() / "fonts").glob("*.ttf"))
    had = frozenset().union(*map(letters_in, (*shipped, *added_fonts())))
    return sorted(one for one in asked if not _is_drawn(one, had))


def _is_drawn(letter: str, had: frozenset[int]) -> bool:
    # typst takes a letter apart where a font has only its parts
    apart = unicodedata.normalize("NFD", letter)
    return ord(letter) in had or (len(apart) > 1 and all(ord(part) in had for part in apart))


def letters_in(font: Path) -> frozenset[int]:
    """Return the code points of which a font file has letters; none when it is no font."""
    try:
        return _letters(font, font.stat().st_mtime_ns)
    except OSError:
        return frozenset()


@cache
def _letters(font: Path, _written: int) -> frozenset[int]:
    try:
        with TTFont(font, lazy=True) as opened:
            return frozenset(opened.getBestCmap() or ())
    except (TTLibError, OSError):
        return frozenset()
