"""Which font a string is drawn in. Kivy has no fallback for single letters, so it is chosen per string."""

import re
from functools import lru_cache

from kivy.core.text import LabelBase

from evaltrack.device.added_fonts import added_fonts
from evaltrack.language import THIN
from evaltrack.places import assets
from evaltrack.touch.widgets import (
    right_to_left,  # noqa: F401  each line is turned where it must be
    words_measured,  # noqa: F401  and measured once
)

PLAIN, SEMIBOLD, BOLD = "EvPlain", "EvSemiBold", "EvBold"
FALLBACK, FALLBACK_BOLD = "EvWide", "EvWideBold"

# The code points of IBM Plex Sans Condensed that names and words need (a test holds this against the font).
_COVERED = (
    (0x20, 0x7E), (0xA0, 0x17F), (0x18F, 0x18F), (0x192, 0x192), (0x1A0, 0x1A1), (0x1AF, 0x1B0),
    (0x1CD, 0x1DC), (0x1FA, 0x1FF), (0x218, 0x21B), (0x1E80, 0x1E85), (0x1E9E, 0x1E9E), (0x1EA0, 0x1EF9),
    (0x2013, 0x2014), (0x2018, 0x201A), (0x201C, 0x201E), (0x2022, 0x2022), (0x2026, 0x2026),
    (0x2190, 0x2199), (0x2212, 0x2212), (0x2713, 0x2713),
)  # fmt: skip

# where the wide font has nothing: scripts of South and East Asia and of Ethiopia, and later planes
_BEYOND = re.compile(
    "[\u0700-\u07bf\u0800-\u0e7f\u0f00-\u109f\u1100-\u13ff\u1700-\u1cff\u3000-\ufaff\U00010000-\U0010ffff]"
)


def _register() -> None:
    """Make our fonts known to Kivy by name."""
    folder = assets() / "fonts"
    for name, stem in (
        (PLAIN, "IBMPlexSansCondensed-Regular"),
        (SEMIBOLD, "IBMPlexSansCondensed-SemiBold"),
        (BOLD, "IBMPlexSansCondensed-Bold"),
        (FALLBACK, "DejaVuSans"),
        (FALLBACK_BOLD, "DejaVuSans-Bold"),
    ):
        LabelBase.register(name, str(folder / f"{stem}.ttf"))


@lru_cache(maxsize=1024)
def font_for(text: str, font: str = PLAIN) -> str:
    """Return the font for a whole string: the asked one, or the fallback where it lacks a letter.

    Where the fallback has nothing for a script, it is a font that the club added and that has the most of it.
    """
    if all(map(_is_covered, text)):
        return font
    if _BEYOND.search(text) and (added := _added_for(text)):
        return added
    return FALLBACK if font == PLAIN else FALLBACK_BOLD


def _added_for(text: str) -> str:
    """Return the path of the added font with most of a text's letters; nothing where none has any."""
    if not (found := added_fonts()):
        return ""
    from evaltrack.paper.note.letters import letters_in  # reads fonts, which few teams need

    asked = set(map(ord, _BEYOND.findall(text)))
    best = max(found, key=lambda font: len(asked & letters_in(font)))
    return str(best) if asked & letters_in(best) else ""


def _is_covered(letter: str) -> bool:
    # the thin space of France is drawn as the no-break one
    return letter in ("\n", THIN) or any(low <= ord(letter) <= high for low, high in _COVERED)


_register()
