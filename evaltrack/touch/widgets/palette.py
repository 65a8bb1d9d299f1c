"""The colours of the screens as plain numbers; nothing here needs a window.

One blue, much white, dark ink. Done is filled and missed is hollow, so they differ in grey and in glare.
The amber ring marks what was tallied last, and nothing else.
"""

from typing import NamedTuple

Colour = tuple[float, float, float, float]


def colour(code: str) -> Colour:
    """Return red, green, blue and alpha from 0 to 1 for six hexadecimal digits."""
    return (*(int(code[i : i + 2], 16) / 255 for i in (0, 2, 4)), 1.0)


class Palette(NamedTuple):
    """Every colour a screen may use."""

    ground: Colour
    tile: Colour
    ink: Colour
    soft: Colour
    line: Colour
    fill: Colour
    on_fill: Colour
    dim: Colour  # a done half whose player is not watched in this skill
    band: Colour  # the 90 % interval
    band50: Colour  # the 50 % interval
    bar: Colour
    on_bar: Colour
    bar_soft: Colour
    bar_dim: Colour  # the edge of what cannot be pressed on a bar; no words
    ring: Colour


LIGHT = Palette(
    ground=colour("E9EEF2"),
    tile=colour("FFFFFF"),
    ink=colour("10202E"),
    soft=colour("3F505E"),
    line=colour("B9C6D0"),
    fill=colour("0B5C93"),
    on_fill=colour("FFFFFF"),
    dim=colour("D5DEE5"),
    band=colour("D3E4F0"),
    band50=colour("93BEDC"),
    bar=colour("10202E"),
    on_bar=colour("FFFFFF"),
    bar_soft=colour("B7C7D4"),
    bar_dim=colour("3F505E"),
    ring=colour("F2A541"),
)

DARK = Palette(
    ground=colour("0C151D"),
    tile=colour("16232E"),
    ink=colour("F1F6FA"),
    soft=colour("B4C4D1"),
    line=colour("33475A"),
    fill=colour("7CC0EE"),
    on_fill=colour("0A1620"),
    dim=colour("22313E"),
    band=colour("1D3B52"),
    band50=colour("2F6E99"),
    bar=colour("050B10"),
    on_bar=colour("FFFFFF"),
    bar_soft=colour("A9BAC8"),
    bar_dim=colour("33475A"),
    ring=colour("F2A541"),
)
