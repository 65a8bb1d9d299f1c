"""The controls above and below a board: those that it needs, on the side of the hand that taps."""

from collections.abc import Callable

from kivy.uix.boxlayout import BoxLayout

from evaltrack.device.tablet import BoardKind, Hand
from evaltrack.touch.board.boards import RotatingBoard
from evaltrack.touch.board.skill_chips import SkillChips
from evaltrack.touch.desk.desk import Desk


class BoardControls:
    """Puts controls into the rows of the screen that the kv rule names: ``head``, ``middle`` and ``foot``.

    Parameters
    ----------
    rows : the screen's widgets by their ids.
    next_rep : what the control of the board by rep does.
    """

    def __init__(self, desk: Desk, rows, next_rep: Callable[[], None]):
        self._desk, self._rows, self._next_rep = desk, rows, next_rep
        self._turned: set[str] = set()  # the rows whose sides are exchanged
        self._made: dict[str, BoxLayout] = {BoardKind.GROUP: rows.skills.__self__}
        self.chips = SkillChips(rows.skills, lambda key: desk.watch(skill=key))

    def show(self, kind: str) -> None:
        """Put into the head what a board needs there."""
        if kind == BoardKind.REP and kind not in self._made:
            self._made[kind] = self._make_for_reps()
        wanted = [self._made[kind]] if kind in self._made else []
        middle = self._rows.middle
        if middle.children != wanted:
            middle.clear_widgets()
            for controls in wanted:
                middle.add_widget(controls)

    def follow(self, board: RotatingBoard) -> None:
        """Say who will be in the next rep."""
        self._made[BoardKind.REP].following = board.following

    def fit(self, kind: str, landscape: bool) -> None:
        """Put the controls on the side of the hand that taps, and as many skills in a row as fit."""
        station = self._desk.station
        if station and kind == BoardKind.GROUP:
            self.chips.show(self._desk.watched_skills(), station.skill, landscape)
        left = self._desk.tablet.hand == Hand.LEFT
        for name, turned in (("controls", left), ("foot", left), ("head", left and landscape)):
            if turned != (name in self._turned):
                self._turned ^= {name}
                _mirror(self._rows[name])

    def _make_for_reps(self) -> BoxLayout:
        from evaltrack.touch.board.rep_controls import RepControls  # no other board waits for it

        controls = RepControls()
        controls.bind(on_next=lambda _: self._next_rep())
        return controls


def _mirror(row: BoxLayout) -> None:
    children = row.children[:]
    row.clear_widgets()
    for child in children:
        row.add_widget(child)
