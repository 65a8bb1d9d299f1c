"""What a board shows when a finger comes down, and whether the finger means the same a moment later."""

from collections.abc import Sequence
from typing import NamedTuple

from evaltrack.touch.tiles.faces import ButtonFace, Face


class ShownBoard(NamedTuple):
    """What stands on the screen: the words, the last tally in words, the tiles and the buttons."""

    words: tuple[str, ...]
    undoes: str
    faces: Sequence[Face | None]
    buttons: Sequence[ButtonFace]

    def means(self, after: "ShownBoard", button: int = -1) -> bool:
        """Say whether a finger on what stands here, or on one ``button``, means the same ``after`` that."""
        same = (self.words, self.undoes, _readings(self.faces)) == (
            *(after.words, after.undoes),
            _readings(after.faces),
        )
        known = _readings(after.buttons)
        return same and button < len(known) and _readings(self.buttons)[: len(known)] == known


def _readings(faces: Sequence) -> list[tuple]:
    """Return the words on tiles or buttons: not their counts, nor which of them is chosen."""
    words = ("number", "name", "title", "caption", "small")
    return [tuple(getattr(face, name, "") for name in words) for face in faces]
