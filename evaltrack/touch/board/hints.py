"""Where on a board a tap goes, for whoever has not tapped there yet."""

from collections.abc import Collection

from evaltrack.device.tablet import BoardKind
from evaltrack.language import mark, tr
from evaltrack.rink.tally import Outcome

_HALVES = {Outcome.DONE: mark("Right half: done"), Outcome.MISSED: mark("Left half: missed")}
_TABS = {
    BoardKind.GROUP: mark("The name: not seen"),
    BoardKind.REP: mark("The skill's name: not seen"),
    BoardKind.PLAYER: mark("The skill's name: not seen"),
}
_PLATE = mark("The player's plate: another player, late, hurt")


def hint_for(kind: str, known: Collection[str]) -> str:
    """Return where on a board to tap for the outcomes that nobody has tapped yet.

    ``known`` are those that somebody has, on this tablet or in this practice. While there is one to learn,
    the board by rep says also what its plates are for.
    """
    parts = [
        words for outcome, words in (_HALVES | {Outcome.UNSEEN: _TABS[kind]}).items() if outcome not in known
    ]
    return ". ".join(map(tr, [*parts, _PLATE] if parts and kind == BoardKind.REP else parts))
