"""Which boards there are, what each of them can do, and those of the practice in hand."""

from typing import TYPE_CHECKING, Protocol
from uuid import UUID

from evaltrack.device.tablet import BoardKind
from evaltrack.rink.board_grid import Rect
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.desk.undone import Act
from evaltrack.touch.tiles.faces import ButtonFace, Face
from evaltrack.touch.tiles.placement import Placement

if TYPE_CHECKING:  # the first board has no rotation, and does not wait for one
    from evaltrack.rink.rotation.rotation_fact import RotationFact


class Board(Protocol):
    """What stands on the tiles and buttons of a board and where, and what a tap on one of them means."""

    def take_up(self) -> bool:
        """Read again who is here and what is watched; False when that cannot be read."""

    @property
    def words(self) -> tuple[str, str]:
        """Return what is watched, and more about it in a few words."""

    def name(self, player: UUID) -> str:
        """Return a player's name as it stands on the board."""

    def lay_out(self, area: Rect) -> Placement:
        """Place the tiles and the buttons."""

    def faces(self) -> list[Face | None]:
        """Return what each tile shows."""

    def face(self, place: int) -> Face | None:
        """Return what one tile shows."""

    def buttons(self) -> list[ButtonFace]:
        """Return what each button shows."""

    def place_of(self, tally: Tally) -> int | None:
        """Return the tile on which a tally counts, or None when it is on none."""

    def tally(self, place: int, outcome: Outcome) -> tuple[Tally | None, bool]:
        """Commit a tap; return its tally, and whether more than its tile is to be shown again."""

    def undone(self, tally: Tally) -> bool:
        """Follow a tally that was taken back; say whether more than its tile is to be shown again."""

    def press(self, index: int) -> None:
        """Take a button."""


class RotatingBoard(Board, Protocol):
    """A board on which reps follow one another."""

    @property
    def question(self) -> tuple[str, ...]:
        """Return what is asked in the place of `words`, and how to answer; nothing is asked: empty."""

    @property
    def following(self) -> list[tuple[str, str]]:
        """Return number and name of everyone who will be in the next rep, in order of the slots."""

    @property
    def last_change(self) -> "RotationFact | None":
        """Return the change of the rotation that was the last act; None where it was a tally, or none."""

    def next_rep(self) -> None:
        """Begin the next rep."""

    def back(self) -> None:
        """Take the last change of the rotation back."""

    def can_redo(self, act: Act) -> bool:
        """Say whether changes of the rotation that were undone can be made again."""

    def redo(self, act: Act) -> bool:
        """Make changes of the rotation again, and the tally that went with them."""

    def in_words(self, act: Act) -> str:
        """Return what the last change of the rotation in an act was."""


class Boards:
    """The boards of one practice, each made when somebody first asks for it."""

    def __init__(self, desk: Desk):
        self._desk = desk
        self._made: dict[BoardKind, Board] = {}

    def __getitem__(self, kind: BoardKind) -> Board:
        if kind not in self._made:
            self._made[kind] = _make(kind, self._desk)
        return self._made[kind]

    def tell_of_rep(self, tally: Tally) -> None:
        """Let the board by rep, which is not in front, take back the rep that began with a tally."""
        known = BoardKind.REP in self._made
        if known or self[BoardKind.REP].take_up():
            self[BoardKind.REP].undone(tally)
        else:
            del self._made[BoardKind.REP]


def _make(kind: BoardKind, desk: Desk) -> Board:
    # each is imported when it is wanted: the start waits for one of them only
    match kind:
        case BoardKind.GROUP:
            from evaltrack.touch.board.group_board import GroupBoard as Made
        case BoardKind.REP:
            from evaltrack.touch.board.rep_board import RepBoard as Made
        case BoardKind.PLAYER:
            from evaltrack.touch.board.player_board import PlayerBoard as Made
    return Made(desk)
