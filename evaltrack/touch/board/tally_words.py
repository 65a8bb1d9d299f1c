"""What a board says of taps: what the last one was, and why some go nowhere."""

from evaltrack.language import mark, tr
from evaltrack.rink.tally import Tally
from evaltrack.touch.tiles.marks import outcome_word

LEFT_EMPTY = mark("left empty")

_NAMED = 20  # letters at most of what is said of a tally with the name in it


def in_words(tally: Tally, number: str, skill: str = "", name: str = "") -> str:
    """Return what a tally says: whose it is, what came of it, and how it was made.

    ``skill`` is its name, where it does not stand on the board anyway; the player's ``name`` stands beside
    the number where there is room for it.
    """
    pressure = tr("under pressure") if tally.pressure else ""
    outcome = outcome_word(tally.outcome)
    named = f"#{number} {name} {outcome}"
    said = f"#{number} {outcome}" if not name or len(named) > _NAMED else named
    return ", ".join(filter(None, (said, pressure, skill)))


def nth_step(number: int, steps: int) -> str:
    """Return ``step 2 of 3``, or of the last one ``step 3, the last``; nothing where there is but one."""
    if steps == 1:
        return ""
    if number == steps:
        return tr("step {number}, the last", number=number)
    return tr("step {number} of {steps}", number=number, steps=steps)
