"""What the board by rep says of the rotation."""

from evaltrack.rink.drill import Slot
from evaltrack.rink.rotation.rotation import Rotation
from evaltrack.rink.rotation.rotation_fact import Change, RotationFact
from evaltrack.touch.board.tally_words import LEFT_EMPTY


def why_empty(slot: Slot, rotation: Rotation) -> str:
    """Return in words why nobody is in a slot."""
    return LEFT_EMPTY if slot.key in rotation.closed else f"no {slot.position.word} waits"


def change_in_words(change: RotationFact, slot: str, number: str | None) -> str:
    """Return what a change of the rotation was; ``slot`` is the name of its slot, ``number`` whose it is."""
    match change.change:
        case Change.SWAP:
            return f"#{number} in {slot}"
        case Change.EMPTY:
            return f"nobody in {slot}"
    return "next rep"
