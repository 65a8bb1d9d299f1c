"""What a widget says of itself so that the keyboard can come to it, whatever screen it stands in."""

from collections.abc import Sequence

from evaltrack.rink.board_grid import Rect


class Reachable:
    """A part of a widget that takes touches: the keyboard comes to its spots, one after the other.

    A button is one spot, a table has one for each row or cell. Of a spot the index in `spots` is used while
    it is in focus, and its name to find it again when the widget was filled anew.
    """

    def spots(self) -> Sequence[Rect]:
        """Return where the spots lie, in reading order and in the coordinates of the widget's own place."""
        return (Rect(*self.pos, *self.size),)

    def spot_name(self, index: int) -> str:
        """Return what tells a spot from the others, for as long as it means the same."""
        return str(index)

    def press_spot(self, index: int) -> None:
        """Do what a finger does that taps there."""
        raise NotImplementedError
