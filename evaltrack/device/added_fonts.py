"""Fonts that a club added on this tablet, for letters that the fonts that come with evaltrack lack."""

from pathlib import Path

from evaltrack.device.tablet import tablet_folder

_KINDS = (".ttf", ".otf")


def fonts_folder() -> Path:
    """Return the folder into which a club puts a font file; it need not be there."""
    return tablet_folder() / "fonts"


def added_fonts() -> tuple[Path, ...]:
    """Return the font files in that folder, in the order of their names."""
    try:
        found = sorted(fonts_folder().iterdir())
    except OSError:  # no folder, or one that may not be read: the usual fonts are enough for most
        return ()
    return tuple(font for font in found if font.suffix.casefold() in _KINDS and font.is_file())
