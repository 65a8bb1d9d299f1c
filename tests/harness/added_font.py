"""A font file with one letter, as a club may add one."""

from pathlib import Path

from fontTools.ttLib import TTFont

from evaltrack.places import assets


def added_font(file: Path, letter: str) -> None:
    """Make a font of another name than ours that has one letter, drawn as an A."""
    font = TTFont(assets() / "fonts" / "IBMPlexSansCondensed-Regular.ttf")
    for table in font["cmap"].tables:
        table.cmap = {ord(letter): table.cmap[ord("A")]} if table.isUnicode() else {}
    for record in font["name"].names:
        record.string = "Added" if record.nameID in (1, 16) else str(record)
    font.save(file)
