"""Who was at which practice: a row for each player by number, a column for each practice."""

from collections.abc import Iterable

from kivy.graphics import Color, InstructionGroup, Mesh, Rectangle, RoundedRectangle
from kivy.metrics import dp, sp

from evaltrack.analysis.team.season_view import SeasonView
from evaltrack.language import tr
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, draw, texture, wrapped
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme
from evaltrack.words.practice_columns import month_columns
from evaltrack.words.season import attended_words

_PAD = 12  # dp
_ROW, _HEAD = 34, 30  # sp, the height of a row and of the months above
_NAMES, _COUNTS = 0.24, 0.12  # of the width
_SIZES = 16, 14, 12  # sp, of a name
_LARGEST = 20  # dp, the side of a cell

Box = tuple[float, float, float, float]


class Attendance(Drawn):
    """Draws who was there as a filled square and who was not as a short dash, on one canvas."""

    def __init__(self, view: SeasonView, **kwargs):
        rows = len(view.players) + 1
        super().__init__(size_hint_y=None, height=2 * dp(_PAD) + sp(_HEAD + rows * _ROW), **kwargs)
        self.view = view
        self.redraw()

    def draw(self, group: InstructionGroup) -> None:
        """Draw months, players, and at the foot how many were at each practice where there is room."""
        palette = theme.palette
        group.add(Color(*palette.tile))
        group.add(RoundedRectangle(pos=self.pos, size=self.size, radius=[dp(8)]))
        self._draw_months(group)
        there, not_there = [], []
        for row, player in enumerate(self.view.players):
            self._draw_player(group, row, player)
            for column, held in enumerate(self.view.practices):
                (there if player.id in held.there else not_there).append(self._cell(row, column))
        _add_boxes(group, there, palette.fill)
        _add_boxes(
            group, [(x, y + side / 2 - dp(1), side, dp(2)) for x, y, side, _ in not_there], palette.line
        )
        self._draw_sums(group)

    @property
    def _step(self) -> float:
        """The width of a column."""
        return self.width * (1 - _NAMES - _COUNTS) / max(len(self.view.practices), 1)

    def _left(self, column: int) -> float:
        return self.x + self.width * _NAMES + column * self._step

    def _middle(self, row: int) -> float:
        return self.top - dp(_PAD) - sp(_HEAD + (row + 0.5) * _ROW)

    def _cell(self, row: int, column: int) -> Box:
        side = min(0.8 * self._step, 0.7 * sp(_ROW), dp(_LARGEST))
        return self._left(column) + (self._step - side) / 2, self._middle(row) - side / 2, side, side

    def _draw_months(self, group: InstructionGroup) -> None:
        top, foot = self.top - dp(_PAD), self._middle(len(self.view.players)) + sp(_ROW / 2)
        for name, column in month_columns([one.practice.held_on for one in self.view.practices]):
            x = self._left(column)
            draw(group, name, x + dp(3), top - sp(_HEAD / 2), sp(14), theme.palette.soft)
            group.add(Color(*theme.palette.line))
            group.add(Rectangle(pos=(round(x), foot), size=(dp(1), top - foot)))

    def _draw_player(self, group: InstructionGroup, row: int, player) -> None:
        palette, y, left = theme.palette, self._middle(row), self.x + dp(_PAD)
        draw(group, player.number, left + sp(24), y, sp(17), palette.ink, fonts.SEMIBOLD, anchor="right")
        name = _in_room(player.name, self.width * _NAMES - dp(_PAD + 6) - sp(32))
        add_texture(group, name, left + sp(32), y - name.height / 2, palette.ink)
        words = _in_room(attended_words(self.view, player), self.width * _COUNTS - dp(_PAD))
        add_texture(group, words, self.right - dp(_PAD) - words.width, y - words.height / 2, palette.soft)

    def _draw_sums(self, group: InstructionGroup) -> None:
        row, palette = len(self.view.players), theme.palette
        words = tr("Players there")
        draw(group, words, self.x + dp(_PAD), self._middle(row), sp(14), palette.soft)
        if self._step < sp(18):
            return
        for column, held in enumerate(self.view.practices):
            x = self._left(column) + self._step / 2
            draw(group, str(len(held.there)), x, self._middle(row), sp(14), palette.soft, anchor="center")


def _in_room(text: str, room: float):
    """Return the texture of a text in the largest size in which one line of it fits, or else in two lines."""
    for size in _SIZES:
        drawn = texture(text, sp(size))
        if drawn.width <= room:
            return drawn
    return wrapped(text, sp(_SIZES[-1]), fonts.PLAIN, max(int(room), 1), "left")


def _add_boxes(group: InstructionGroup, boxes: Iterable[Box], colour) -> None:
    """Add many rectangles of one colour as one instruction."""
    vertices, indices = [], []
    for number, (x, y, width, height) in enumerate(boxes):
        vertices += [x, y, 0, 0, x + width, y, 0, 0, x + width, y + height, 0, 0, x, y + height, 0, 0]
        indices += [4 * number + corner for corner in (0, 1, 2, 2, 3, 0)]
    group.add(Color(*colour))
    group.add(Mesh(vertices=vertices, indices=indices, mode="triangles"))
