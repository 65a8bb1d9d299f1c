"""What a board says of taps: what the last one was, and why some go nowhere."""

from evaltrack.rink.tally import Tally

LEFT_EMPTY = "left empty"


def in_words(tally: Tally, number: str, skill: str = "") -> str:
    """Return what a tally says: whose it is by number, what came of it, and how it was made.

    ``skill`` is its name, where it does not stand on the board anyway.
    """
    pressure = "under pressure" if tally.pressure else ""
    return ", ".join(filter(None, (f"{number} {tally.outcome}", pressure, skill)))
