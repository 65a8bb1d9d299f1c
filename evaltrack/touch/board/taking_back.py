"""Undo and redo on the board in front: one idea of going back, the same on every board."""

from evaltrack.device.tablet import BoardKind
from evaltrack.rink.tally import Tally
from evaltrack.touch.board.boards import Boards
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.desk.undone import Act

Redrawn = tuple[Tally | None, bool]  # the tally that came or went, and whether all is to be shown again


class TakingBack:
    """Takes the last act back, and back again; as often as there is one.

    An act is a tally. On the board by rep, which shows the rotation, the next rep and a slot that was put
    right are acts too: other boards do not show them, and leave them alone.
    """

    def __init__(self, desk: Desk, boards: Boards):
        self._desk, self._boards = desk, boards

    def would_undo(self, kind: str) -> Act | None:
        """Return what `undo` takes back on a board, None for nothing."""
        if kind == BoardKind.REP and (change := self._boards[kind].last_change):
            return Act(changes=(change,))
        last = self._desk.last(1)
        return Act(last[0]) if last else None

    def would_redo(self, kind: str) -> Act | None:
        """Return what `redo` brings back on a board, None for nothing."""
        act = self._desk.undone.last
        if act is None or not act.changes:
            return act
        shown = act.tally is not None or kind == BoardKind.REP
        return act if shown and self._boards[BoardKind.REP].can_redo(act) else None

    def undo(self, kind: str) -> Redrawn:
        """Take the last act back."""
        board = self._boards[kind]
        if kind == BoardKind.REP and board.last_change:
            board.back()
            return None, True
        tally = self._desk.undo()
        if tally and tally.rep and kind != BoardKind.REP:
            self._boards.tell_of_rep(tally)
        return tally, bool(tally and board.undone(tally))

    def redo(self, kind: str) -> Redrawn:
        """Bring the act back that was undone last: as new facts, since the log only grows."""
        act = self.would_redo(kind)
        if act is None:
            return None, False
        tally = None
        if act.changes:
            done = self._boards[BoardKind.REP].redo(act)
        else:
            done = tally = self._desk.tally_again(act.tally)
        if done:
            self._desk.undone.done_again()
        return tally, bool(act.changes)
