"""What was undone since the last new act, so that it can be done again."""

from typing import TYPE_CHECKING, NamedTuple
from uuid import UUID

from evaltrack.rink.tally import Tally

if TYPE_CHECKING:  # the first board has no rotation, and does not wait for one
    from evaltrack.rink.rotation.rotation_fact import RotationFact


class Act(NamedTuple):
    """A tally, changes of the rotation, or a tally and the changes that went with it; all of it undone.

    ``left`` is what undoing the changes has left, to be compared with what is there: only from there they
    can be made again.
    """

    tally: Tally | None = None
    changes: "tuple[RotationFact, ...]" = ()
    left: object = None


class UndoneActs:
    """The acts that were undone, the last one first to come back. A new act leaves none of them.

    An act comes back as new facts: the log only grows, and what was withdrawn stays withdrawn. A rep that
    comes back has an id of its own; ``rep_now`` knows it for the tallies that come back into it.
    """

    def __init__(self):
        self._acts: list[Act] = []
        self._became: dict[UUID, UUID] = {}

    @property
    def last(self) -> Act | None:
        """Return the act that was undone last, or None."""
        return self._acts[-1] if self._acts else None

    def note(self, act: Act) -> None:
        """Note an act that has just been undone."""
        self._acts.append(act)

    def note_changes(self, changes: "tuple[RotationFact, ...]", left: object) -> None:
        """Note that changes of the rotation went with the tally that has just been undone."""
        if self._acts:
            self._acts[-1] = self._acts[-1]._replace(changes=changes, left=left)

    def done_again(self) -> None:
        """Forget the act that was undone last: it has come back."""
        self._acts.pop()

    def forget(self) -> None:
        """Forget all of it: something new was done."""
        self._acts.clear()

    def rep_becomes(self, was: UUID, now: UUID) -> None:
        """Note under which id a rep that was undone comes back."""
        self._became[was] = now

    def rep_now(self, rep: UUID | None) -> UUID | None:
        """Return the id that a rep has by now."""
        while rep in self._became:
            rep = self._became[rep]
        return rep
