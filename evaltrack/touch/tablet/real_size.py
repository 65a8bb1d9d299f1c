"""Real millimetres from pixels: the bank card, the tiles that follow, and what a dp should be. No window.

A screen's own density is nominal: desktops say 96 dots per inch whatever the glass is. A bank card held
against a bar on the screen says how large a pixel is.
"""

from dataclasses import dataclass

from evaltrack.device.tablet import plausible
from evaltrack.language import tr
from evaltrack.rink.board_grid import TAB_HEIGHT, Rect, lay_out
from evaltrack.touch.widgets.bars import board_size
from evaltrack.words.wording import decimal

CARD_WIDTH, CARD_HEIGHT = 85.60, 53.98  # mm, a bank card: ISO/IEC 7810, format ID-1
LEAST_HALF = 19.0  # mm a side; MIL-STD-1472E asks it of keys for a finger in a trigger-finger mitten

_MM_PER_INCH = 25.4
_DP_PER_MM = 160 / _MM_PER_INCH  # a dp is a 160th of an inch by definition
_LEAST_SIDE = 800  # dp of the short side that the screens are drawn for


@dataclass(frozen=True, slots=True)
class Halves:
    """The halves of ``columns`` by ``rows`` tiles: ``width`` by ``height`` mm, clear of the name's tab."""

    columns: int
    rows: int
    width: float
    height: float

    @property
    def large_enough(self) -> bool:
        """Say whether a finger in a glove finds them."""
        return min(self.width, self.height) >= LEAST_HALF

    def __str__(self) -> str:
        return f"{int(self.width)} x {int(self.height)} mm"  # never more than there is


def halves(players: int, width: float, height: float, dp: float, px_per_mm: float) -> Halves:
    """Return the halves that a board for so many players has in a window.

    Parameters
    ----------
    players : tiles on the board.
    width, height : of the window in pixels.
    dp : pixels of one dp.
    px_per_mm : pixels of one real millimetre.
    """
    layout = lay_out(players, Rect(0, 0, *board_size(width, height, dp)))
    wide, high = layout.tile_size
    return Halves(layout.columns, layout.rows, wide / 2 / px_per_mm, high * (1 - TAB_HEIGHT) / px_per_mm)


def nominal(dots_per_inch: float) -> float:
    """Return the pixels of a millimetre that a screen claims to have."""
    return dots_per_inch / _MM_PER_INCH


def refusal(px_per_mm: float) -> str:
    """Return why no screen has so many pixels in a millimetre, or nothing when one can."""
    if plausible(px_per_mm):
        return ""
    found = decimal(px_per_mm)
    if px_per_mm < 10:
        return tr(
            "{found} pixels in a millimetre are coarser than any tablet or laptop has: match the card again",
            found=found,
        )
    return tr(
        "{found} pixels in a millimetre are finer than any tablet or laptop has: match the card again",
        found=found,
    )


def density_for(nominal_density: float, px_per_mm: float, short_side: float) -> float:
    """Return the pixels of a dp for a measured screen.

    It is raised to the real size of a dp where the system's own is smaller, so that bars and words can be
    hit and read on fine screens that call themselves coarse. It is never lowered: the system's scale may be
    the user's own wish. It is raised only as far as the short side of the window, in pixels, still has the
    800 dp that the screens are drawn for.
    """
    wanted = min(px_per_mm / _DP_PER_MM, short_side / _LEAST_SIDE)
    return max(nominal_density, wanted)
