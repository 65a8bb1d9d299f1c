"""Rounded outlines and rings. Kivy draws a ring with 180 chords, which takes longer than a whole tile."""

from kivy.graphics import Line

_CHORDS = 8  # in the quarter of a ring: at the sizes of a board they stray a tenth of a pixel from round


def rounded(x: float, y: float, width: float, height: float, radius: float, line: float) -> Line:
    """Return the outline of a rectangle with round corners; all in pixels, ``line`` its own width."""
    return Line(rounded_rectangle=(x, y, width, height, radius, _CHORDS), width=line)


def ring(x: float, y: float, radius: float, line: float) -> Line:
    """Return a ring round a point; all in pixels, ``line`` its own width."""
    return Line(circle=(x, y, radius, 0, 360, 4 * _CHORDS), width=line)
