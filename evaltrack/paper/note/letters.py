"""Which letters no font has: they would be empty boxes on paper."""

import unicodedata
from collections.abc import Sequence
from functools import cache
from pathlib import Path

from fontTools.ttLib import TTFont, TTLibError

from evaltrack.device.added_fonts import added_fonts
from evaltrack.places import assets

_JOIN = "\u200c\u200d\ufe0e\ufe0f"  # they only say how their neighbours are drawn


def missing_letters(text: str) -> list[str]:
    """Return the letters of a text that neither our fonts nor those that the club added have, each once."""
    asked = {one for one in set(text) if not one.isspace() and one not in _JOIN}
    shipped = sorted((assets() / "fonts").glob("*.ttf"))
    fonts = [letters_in(font) for font in (*shipped, *added_fonts())]
    return sorted(one for one in asked if not _is_drawn(one, fonts))


def _is_drawn(letter: str, fonts: Sequence[frozenset[int]]) -> bool:
    if _is_in(letter, fonts):
        return True
    # typst takes a letter apart where a font has only its parts
    apart = unicodedata.normalize("NFD", letter)
    return len(apart) > 1 and all(_is_in(part, fonts) for part in apart)


def _is_in(letter: str, fonts: Sequence[frozenset[int]]) -> bool:
    return any(ord(letter) in letters for letters in fonts)


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
