"""What a board says of taps: where they go, what the last one was, and why some go nowhere."""

from evaltrack.device.tablet import BoardKind
from evaltrack.rink.tally import Tally

_HALVES = "right half: done. left half: missed"

HINTS = {  # by kind of board; they stand where the last tallies will
    BoardKind.GROUP: f"{_HALVES}. the name: not seen",
    BoardKind.REP: f"{_HALVES}. the skill's name: not seen. the player's plate: another player, late, hurt",
    BoardKind.PLAYER: f"{_HALVES}. the skill's name: not seen",
}

LEFT_EMPTY = "left empty"


def in_words(tally: Tally, number: str, skill: str = "") -> str:
    """Return what a tally says: whose it is by number, what came of it, and how it was made.

    ``skill`` is its name, where it does not stand on the board anyway.
    """
    pressure = "under pressure" if tally.pressure else ""
    return ", ".join(filter(None, (f"{number} {tally.outcome}", pressure, skill)))
