"""What the board by rep says of the rotation."""

from evaltrack.language import tr
from evaltrack.rink.drill import Slot
from evaltrack.rink.rotation.rotation import Rotation
from evaltrack.rink.rotation.rotation_fact import Change, RotationFact
from evaltrack.touch.board.tally_words import LEFT_EMPTY


def why_empty(slot: Slot, rotation: Rotation) -> str:
    """Return in words why nobody is in a slot."""
    if slot.key in rotation.closed:
        return tr(LEFT_EMPTY)
    return tr("no {position} waits", position=slot.position.word)


def change_in_words(change: RotationFact, slot: str, number: str | None) -> str:
    """Return what a change of the rotation was; ``slot`` is the name of its slot, ``number`` whose it is."""
    match change.change:
        case Change.SWAP:
            return tr("#{number} in {slot}", number=number, slot=slot)
        case Change.EMPTY:
            return tr("nobody in {slot}", slot=slot)
    return tr("next rep")
