"""The board: one widget that draws every tile on one canvas and finds the tile under a finger."""

from dataclasses import dataclass

from kivy.clock import Clock
from kivy.graphics import Color, InstructionGroup, Line, RoundedRectangle
from kivy.metrics import dp
from kivy.uix.widget import Widget

from evaltrack.rink.board_grid import BoardLayout, Rect, lay_out
from evaltrack.rink.tally import Outcome
from evaltrack.touch import fonts
from evaltrack.touch.glyphs import draw
from evaltrack.touch.marks import add_check, add_ring
from evaltrack.touch.theme import is_finger, theme

_GAP = 8  # between two tiles, in dp; drawn only, the touch area has no gap


@dataclass(frozen=True, slots=True)
class Face:
    """What a tile shows. ``watched`` is False for a player who is not watched in this skill."""

    number: str
    name: str
    done: int = 0
    missed: int = 0
    watched: bool = True
    here: bool = True


class TallyBoard(Widget):
    """A tile for each player, its left half missed and its right half done.

    ``on_tally(place, outcome)`` comes on touch down. An empty place and a player who has left give none.
    """

    __events__ = ("on_tally",)

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.faces: list[Face | None] = []
        self.layout = BoardLayout(Rect(0, 0, 1, 1), 1, 1)
        self._tiles: list[InstructionGroup] = []
        self._ring: tuple[int, Outcome] | None = None
        self._redraw = Clock.create_trigger(self._draw, -1)
        self.bind(pos=self._arrange, size=self._arrange)
        theme.bind(palette=self._arrange)

    def show(self, faces: list[Face | None]) -> None:
        """Show a tile for each face; None leaves a place empty. Places do not move between calls."""
        self.faces = list(faces)
        self._arrange()

    def update(self, place: int, face: Face) -> None:
        """Show a new face at one place, and nothing else anew."""
        self.faces[place] = face
        if place < len(self._tiles):
            self._draw_tile(place)

    def ring(self, place: int | None, outcome: Outcome = Outcome.DONE) -> None:
        """Mark the half that was tallied last, or none."""
        before, self._ring = self._ring, None if place is None else (place, outcome)
        for index in {mark[0] for mark in (before, self._ring) if mark}:
            if index < len(self._tiles):
                self._draw_tile(index)

    def on_touch_down(self, touch):
        """Count a finger the moment it comes down."""
        if not (self.collide_point(*touch.pos) and is_finger(touch)):
            return super().on_touch_down(touch)
        hit = self.layout.hit(*touch.pos)
        face = self.faces[hit[0]] if hit and hit[0] < len(self.faces) else None
        if face and face.here:
            self.dispatch("on_tally", hit[0], Outcome.DONE if hit[1] else Outcome.MISSED)
        return True

    def on_tally(self, place: int, outcome: Outcome) -> None:
        """Do nothing: the screen listens."""

    def _arrange(self, *_) -> None:
        """Lay the tiles out at once, so that a finger finds them; draw them once before the next frame."""
        margin = dp(_GAP) / 2
        area = Rect(self.x + margin, self.y + margin, self.width - 2 * margin, self.height - 2 * margin)
        self.layout = lay_out(len(self.faces), area)
        self._redraw()

    def _draw(self, *_) -> None:
        self.canvas.clear()
        if min(self.size) <= 100:  # the size of a widget that is not laid out yet
            return
        self._tiles = [InstructionGroup() for _ in self.faces]
        for place, group in enumerate(self._tiles):
            self.canvas.add(group)
            self._draw_tile(place)

    def _draw_tile(self, place: int) -> None:
        group, face = self._tiles[place], self.faces[place]
        group.clear()
        if face is None:
            return
        rect = self.layout.tile(place).inset(dp(_GAP) / 2)
        if face.here:
            _draw_halves(group, rect, face)
        else:
            _draw_gone(group, rect, face)
        if self._ring and place == self._ring[0]:
            group.add(Color(*theme.palette.ring))
            group.add(_outline(_half(rect, self._ring[1]).inset(dp(3)), dp(3)))


def _half(rect: Rect, outcome: Outcome) -> Rect:
    """Return the half of a tile for an outcome; the whole tile for one that has no half."""
    width = rect.width / 2
    if outcome is Outcome.UNSEEN:
        return rect
    return Rect(rect.x + (width if outcome is Outcome.DONE else 0), rect.y, width, rect.height)


def _draw_halves(group: InstructionGroup, rect: Rect, face: Face) -> None:
    look, radius, half = theme.palette, dp(9), rect.width / 2
    group.add(Color(*look.tile))
    group.add(RoundedRectangle(pos=(rect.x, rect.y), size=(rect.width, rect.height), radius=[radius]))
    group.add(Color(*(look.fill if face.watched else look.dim)))
    right = RoundedRectangle(
        pos=(rect.x + half, rect.y), size=(half, rect.height), radius=[0, radius, radius, 0]
    )
    group.add(right)
    group.add(Color(*look.line))
    group.add(_outline(rect, dp(1)))
    on_right = look.on_fill if face.watched else look.ink
    _draw_person(group, rect, face, on_right)
    for x, count, word, tint, mark in (
        (rect.x, face.missed, "missed", look.ink, add_ring),
        (rect.x + half, face.done, "done", on_right, add_check),
    ):
        _draw_count(group, Rect(x, rect.y, half, rect.height), count, word, tint, mark)


def _draw_person(group: InstructionGroup, rect: Rect, face: Face, on_right) -> None:
    half, pad, top = rect.width / 2, dp(12), rect.y + rect.height
    size = min(rect.height * 0.42, half * 0.5)
    draw(group, face.number, rect.x + pad, top - dp(5) - size * 0.62, size, theme.palette.ink, fonts.BOLD)
    name_size = min(max(rect.height * 0.15, dp(15)), dp(24))
    right, y, width = rect.x + rect.width - pad, top - dp(8) - name_size * 0.7, half - 1.6 * pad
    draw(group, face.name, right, y, name_size, on_right, fonts.SEMIBOLD, "right", width)


def _draw_count(group, half: Rect, count: int, word: str, tint, mark) -> None:
    size = min(half.height * 0.27, half.width * 0.36)
    word_size = max(dp(13), min(half.height * 0.1, dp(18)))
    middle = half.y + dp(10) + word_size + size * 0.5
    group.add(Color(*tint))
    mark(group, half.x + half.width * 0.34, middle, size * 0.33)
    draw(group, str(count), half.x + half.width * 0.72, middle, size, tint, fonts.SEMIBOLD, "center")
    y = half.y + dp(7) + word_size * 0.5
    draw(group, word, half.x + half.width / 2, y, word_size, tint, anchor="center")


def _draw_gone(group: InstructionGroup, rect: Rect, face: Face) -> None:
    look = theme.palette
    group.add(Color(*look.line))
    group.add(_outline(rect, dp(1)))
    x, y, width = rect.x + rect.width / 2, rect.y + rect.height / 2, rect.width - dp(16)
    draw(
        group,
        f"{face.number}  {face.name}",
        x,
        y + dp(10),
        dp(18),
        look.soft,
        fonts.SEMIBOLD,
        "center",
        width,
    )
    draw(group, "not here now", x, y - dp(14), dp(14), look.soft, anchor="center")


def _outline(rect: Rect, width: float) -> Line:
    return Line(rounded_rectangle=(rect.x, rect.y, rect.width, rect.height, dp(9)), width=width)
