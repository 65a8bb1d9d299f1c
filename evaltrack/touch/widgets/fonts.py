"""Which font a string is drawn in. Kivy has no fallback for single letters, so it is chosen per string."""

from functools import lru_cache

from kivy.core.text import LabelBase

from evaltrack.places import assets
from evaltrack.touch.widgets import right_to_left  # noqa: F401  each line is turned where it must be

PLAIN, SEMIBOLD, BOLD = "EvPlain", "EvSemiBold", "EvBold"
FALLBACK, FALLBACK_BOLD = "EvWide", "EvWideBold"

# The code points of IBM Plex Sans Condensed that names and words need (a test holds this against the font).
_COVERED = (
    (0x20, 0x7E), (0xA0, 0x17F), (0x18F, 0x18F), (0x192, 0x192), (0x1A0, 0x1A1), (0x1AF, 0x1B0),
    (0x1CD, 0x1DC), (0x1FA, 0x1FF), (0x218, 0x21B), (0x1E80, 0x1E85), (0x1E9E, 0x1E9E), (0x1EA0, 0x1EF9),
    (0x2013, 0x2014), (0x2018, 0x201A), (0x201C, 0x201E), (0x2022, 0x2022), (0x2026, 0x2026),
    (0x2190, 0x2199), (0x2212, 0x2212), (0x2713, 0x2713),
)  # fmt: skip


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
    """Return the font for a whole string: the asked one, or the fallback where it lacks a letter."""
    if all(map(_is_covered, text)):
        return font
    return FALLBACK if font == PLAIN else FALLBACK_BOLD


def _is_covered(letter: str) -> bool:
    return letter == "\n" or any(low <= ord(letter) <= high for low, high in _COVERED)


_register()
