"""Where on a board a tap goes, for whoever has not tapped there yet."""

from collections.abc import Collection

from evaltrack.device.tablet import BoardKind
from evaltrack.rink.tally import Outcome

_HALVES = {Outcome.DONE: "Right half: done", Outcome.MISSED: "Left half: missed"}
_TABS = {
    BoardKind.GROUP: "The name: not seen",
    BoardKind.REP: "The skill's name: not seen",
    BoardKind.PLAYER: "The skill's name: not seen",
}
_PLATE = "The player's plate: another player, late, hurt"


def hint_for(kind: str, known: Collection[str]) -> str:
    """Return where on a board to tap for the outcomes that nobody has tapped yet.

    ``known`` are those that somebody has, on this tablet or in this practice. While there is one to learn,
    the board by rep says also what its plates are for.
    """
    parts = [
        words for outcome, words in (_HALVES | {Outcome.UNSEEN: _TABS[kind]}).items() if outcome not in known
    ]
    return ". ".join([*parts, _PLATE] if parts and kind == BoardKind.REP else parts)
