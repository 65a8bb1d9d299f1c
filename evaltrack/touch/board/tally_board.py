"""The board: one widget that draws every tile and button on one canvas and finds the one under a finger."""

from collections.abc import Callable, Sequence

from kivy.graphics import InstructionGroup

from evaltrack.rink.board_grid import Rect, outcome_at
from evaltrack.rink.tally import Outcome
from evaltrack.touch.tiles.faces import ButtonFace, Face
from evaltrack.touch.tiles.placement import Cell, Placement
from evaltrack.touch.tiles.tile_drawing import draw_button, draw_focus, draw_tile
from evaltrack.touch.widgets.button import is_finger
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.redraw import Drawn


class TallyBoard(EventSource, Drawn):
    """Tiles whose left half is missed, whose right half is done and whose tab is unseen; and buttons.

    ``focus`` is the cell that the keyboard acts on, None while there is none.
    ``on_tally(place, outcome)`` and ``on_button(index)`` come on touch down. An empty place and a tile that
    is not here give none.
    """

    __events__ = ("on_button", "on_tally")

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.faces: list[Face | None] = []
        self.buttons: list[ButtonFace] = []
        self.layout = Placement(Rect(0, 0, 1, 1), ())
        self._lay_out: Callable[[Rect], Placement] = lambda area: Placement(area, ())
        self._groups: dict[tuple[str, int], InstructionGroup] = {}
        self._ring: tuple[int, Outcome] | None = None
        self.focus: Cell | None = None
        self._focus_group = InstructionGroup()
        self.bind(pos=self._arrange, size=self._arrange)

    def show(
        self,
        faces: Sequence[Face | None],
        buttons: Sequence[ButtonFace],
        lay_out: Callable[[Rect], Placement],
    ) -> None:
        """Show tiles and buttons where ``lay_out`` places them; a place without a face stays empty."""
        self.faces, self.buttons, self._lay_out = list(faces), list(buttons), lay_out
        self._arrange()

    def update(self, place: int, face: Face | None) -> None:
        """Show a new face at one place, and nothing else again."""
        self.faces[place] = face
        self._draw_tile(place)

    def ring(self, place: int | None, outcome: Outcome = Outcome.DONE) -> None:
        """Mark the part that was tallied last, or none."""
        before, self._ring = self._ring, None if place is None else (place, outcome)
        for index in {mark[0] for mark in (before, self._ring) if mark}:
            self._draw_tile(index)

    def on_touch_down(self, touch):
        """Count a finger the moment it comes down."""
        if not (self.collide_point(*touch.pos) and is_finger(touch)):
            return super().on_touch_down(touch)
        self.leave_focus()
        cell = self.layout.at(*touch.pos)
        if cell and cell.button is not None:
            self._press(cell.button)
        elif cell and cell.tile is not None:
            self._tally(cell.tile, outcome_at(cell.rect, *touch.pos))
        return True

    def tally_in_focus(self, outcome: Outcome) -> None:
        """Take the tile in focus as touched in the part for an outcome; without one only show a focus.

        Nobody means a tile that they have not seen in focus. From a button it goes to the tile that follows.
        """
        if self.focus and self.focus.tile is not None:
            self._tally(self.focus.tile, outcome)
        else:
            self._focus_on(self._next_tile())

    def press_in_focus(self) -> None:
        """Take the button in focus as touched; without any focus only show one."""
        if self.focus and self.focus.button is not None:
            self._press(self.focus.button)
        elif not self.focus and self.layout.rows:
            self._focus_on(self.layout.beside(None, 0, 0))

    def _tally(self, place: int, outcome: Outcome) -> None:
        face = self._face(place)
        if face and face.here:
            self.dispatch("on_tally", place, outcome)

    def _press(self, index: int) -> None:
        if index < len(self.buttons):
            self.dispatch("on_button", index)

    def move_focus(self, right: int, down: int) -> None:
        """Move the focus of the keyboard by one cell, and show it."""
        if self.layout.rows:
            cell = self.layout.beside(self.focus, right, down)
            self._focus_on(self.focus if self._is_blank(cell) else cell)

    def _is_blank(self, cell: Cell) -> bool:
        if cell.tile is not None:
            return not self._face(cell.tile)
        return cell.button not in range(len(self.buttons))

    def _focus_on(self, cell: Cell | None) -> None:
        self.focus = cell
        self._draw_focus()

    def _next_tile(self) -> Cell | None:
        """Return the first tile behind the button in focus, or of the board; None where there is none."""
        cells = [cell for row in self.layout.rows for cell in row]
        start = cells.index(self.focus) if self.focus in cells else 0
        return next(
            (
                cell
                for cell in cells[start:] + cells[:start]
                if cell.tile is not None and self._face(cell.tile)
            ),
            None,
        )

    def leave_focus(self) -> None:
        """Show no focus any more: a finger, or a key beside the board, has taken over."""
        if self.focus:
            self._focus_on(None)

    def _face(self, place: int) -> Face | None:
        return self.faces[place] if place < len(self.faces) else None

    def _arrange(self, *_) -> None:
        """Lay the cells out at once, so that a finger finds them; draw them once before the next frame."""
        # a widget has no height at all before it is laid out
        self.layout = self._lay_out(Rect(self.x, self.y, max(self.width, 1), max(self.height, 1)))
        self._groups = {}  # what is drawn has the old places, and is not drawn in until all is drawn again
        if self.focus:
            x, y = (
                self.focus.rect.x + self.focus.rect.width / 2,
                self.focus.rect.y + self.focus.rect.height / 2,
            )
            self.focus = self.layout.at(x, y)
        self.redraw()

    def draw(self, group: InstructionGroup) -> None:
        """Draw every tile and button in a group of its own, which is drawn again by itself."""
        self._groups = {}
        if min(self.size) <= 100:  # the size of a widget that is not laid out yet
            return
        for place in self.layout.tiles:
            self._groups["tile", place] = InstructionGroup()
            self._draw_tile(place)
        for index, rect in self.layout.buttons.items():
            own = self._groups["button", index] = InstructionGroup()
            if index < len(self.buttons):
                draw_button(own, rect, self.buttons[index])
        for own in self._groups.values():
            group.add(own)
        group.add(self._focus_group)
        self._draw_focus()

    def _draw_tile(self, place: int) -> None:
        group, face = self._groups.get(("tile", place)), self._face(place)
        if group is None or place not in self.layout.tiles:  # laid out again, and not drawn yet
            return
        group.clear()
        if face:
            ringed = self._ring[1] if self._ring and self._ring[0] == place else None
            draw_tile(group, self.layout.tile(place), face, ringed)

    def _draw_focus(self) -> None:
        self._focus_group.clear()
        if self.focus:
            draw_focus(self._focus_group, self.focus.rect)
