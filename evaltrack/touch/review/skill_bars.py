"""Everyone's standing in one skill, one row below the other, on one scale from 0 to 10."""

from typing import NamedTuple

from kivy.clock import Clock
from kivy.graphics import Color, InstructionGroup, Line, Rectangle
from kivy.metrics import dp, sp
from kivy.properties import ListProperty, NumericProperty

from evaltrack.analysis.standings.standing import Standing
from evaltrack.rink.board_grid import Rect
from evaltrack.rink.player import Player
from evaltrack.touch.review.call_marks import call_width, draw_call
from evaltrack.touch.review.table_keys import RowKey
from evaltrack.touch.review.tapped_rows import TappedRows
from evaltrack.touch.review.team_cell import Place, draw_interval
from evaltrack.touch.review.team_names import draw_person, name_size, wide
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, draw, wrapped
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme
from evaltrack.touch.widgets.trend_geometry import RULES
from evaltrack.words.wording import call_words, is_firm

_AXIS = 30  # sp: the scale above the rows
_NAMES, _WORDS = 226, 312  # sp: the columns beside the bars
_BESIDE = 760  # sp: from which width on the bars have room beside the words
_LINE = 10  # sp: half of what lies between the two lines of words
_SIZE = 13  # sp: of the words


class SkillRow(NamedTuple):
    """A player, what can be said of them, None without a try, and the words beside the bar."""

    player: Player
    standing: Standing | None
    count: str
    words: str


class DrawnBars(Drawn):
    """The rows and the scale; ``target`` is drawn through all of them."""

    shows = ("rows", "target", "row")
    rows = ListProperty()
    target = NumericProperty(0.6)
    row = NumericProperty(44)  # the height of one, in pixels

    @property
    def beside(self) -> bool:
        """Say whether the bars stand beside the words, and not under them."""
        return self.width >= sp(_BESIDE)

    @property
    def bounds(self) -> tuple[float, float]:
        """Return between which heights a row may be, in pixels."""
        if not self.beside:
            return sp(74), sp(84)
        return (sp(62), sp(76)) if self._wrap else (sp(44), sp(64))

    @property
    def _wrap(self) -> bool:
        """Say whether words need two lines beside the bars."""
        return self.beside and any(wide(row.words, sp(_SIZE)) > sp(_WORDS - 24) for row in self.rows)

    def place(self, row: int) -> Place:
        """Return where the bar of a row lies."""
        middle = self.top - sp(_AXIS) - (row + 0.5) * self.row
        if self.beside:
            return Place(self.x + sp(_NAMES), self.right - sp(_WORDS), round(middle), self.row)
        return Place(self.x + sp(64), self.right - sp(24), round(middle - sp(24)), self.row)

    def draw(self, group: InstructionGroup) -> None:
        """Draw the scale, and a row for each player."""
        if not self.rows:
            return
        self._draw_scale(group)
        first = Rect(0, 0, sp(_NAMES), sp(24))
        size = name_size((row.player.name for row in self.rows), first)
        for number, row in enumerate(self.rows):
            self._draw_row(group, self.place(number), row, first, size)

    def _draw_scale(self, group: InstructionGroup) -> None:
        place, palette = self.place(0), theme.palette
        top = self.top - sp(_AXIS)
        for share, label in RULES:
            draw(group, label, place.x(share), top + sp(12), sp(13), palette.soft, anchor="center")
        for foot, head in self._spans(top):
            group.add(Color(*palette.line))
            for share, _ in RULES:
                group.add(Rectangle(pos=(round(place.x(share)), foot), size=(dp(1), head - foot)))
            group.add(Color(*palette.ink))
            group.add(Line(points=(place.x(self.target), foot, place.x(self.target), head), width=dp(1.1)))

    def _spans(self, top: float) -> list[tuple[float, float]]:
        """Return from where to where the scale's lines go: through all rows, or through each bar alone."""
        if self.beside:
            return [(top - len(self.rows) * self.row, top)]
        middles = (self.place(row).middle for row in range(len(self.rows)))
        return [(middle - sp(9), middle + sp(9)) for middle in middles]

    def _draw_row(self, group: InstructionGroup, place: Place, row: SkillRow, first: Rect, size: float):
        palette, line = theme.palette, sp(_LINE)
        middle = place.middle if self.beside else place.middle + sp(34)
        draw_person(group, row.player, self.x, first._replace(y=middle + line - first.height / 2), size)
        draw(group, row.count, self.x + sp(64), middle - line, sp(15), palette.soft)
        left = place.right + sp(16) if self.beside else self.x + sp(_NAMES)
        room = self.right - left - sp(8)
        line += sp(8) if self._wrap else 0
        self._draw_said(group, row, left, middle - (line if row.standing else 0), room)
        if row.standing is None:
            return
        if call_words(row.standing):
            width = call_width(row.standing.call, sp(14))
            draw_call(group, row.standing.call, left + width, middle + line, sp(14))
        if is_firm(row.standing):
            draw_interval(group, place, row.standing, half=dp(5))

    def _draw_said(self, group: InstructionGroup, row: SkillRow, x: float, y: float, room: float) -> None:
        """Draw the words, in two lines where one would be cut."""
        if not self._wrap or wide(row.words, sp(_SIZE)) <= room:
            draw(group, row.words, x, y, sp(_SIZE), theme.palette.soft, width=room, shrinks=True)
            return
        drawn = wrapped(row.words, sp(_SIZE), fonts.PLAIN, int(room), "left")
        add_texture(group, drawn, x, y + sp(8) - drawn.height / 2, theme.palette.soft)


class SkillBars(TappedRows):
    """The rows, and keys over them for whoever goes by keyboard."""

    rows = ListProperty()
    target = NumericProperty(0.6)
    room = NumericProperty(100)  # the height of the view that it stands in

    def __init__(self, **kwargs):
        super().__init__(size_hint_y=None, **kwargs)
        self.picture = DrawnBars()
        self.add_widget(self.picture)
        self._arrange_soon = Clock.create_trigger(self._arrange, -1)
        for name in ("rows", "target", "room", "pos", "size"):
            self.fbind(name, self._arrange_soon)

    def number_at(self, below: float) -> str | None:
        """Return the number of the player whose row lies so far below the top; None on the scale."""
        row = int((below - sp(_AXIS)) // self.picture.row)
        return self.rows[row].player.number if 0 <= row < len(self.rows) else None

    def row_center(self, row: int) -> tuple[float, float]:
        """Return the middle of a row."""
        return self.center_x, self.picture.place(row).middle

    def _arrange(self, *_) -> None:
        drawn, count = self.picture, len(self.rows)
        drawn.width, drawn.rows = self.width, self.rows
        least, most = drawn.bounds
        each = min(max((self.room - sp(_AXIS)) / max(1, count), least), most)
        self.height, drawn.row = sp(_AXIS) + count * each, each
        drawn.pos, drawn.size, drawn.target = self.pos, self.size, self.target
        keys = self.children[-2::-1]
        if [key.number for key in keys] != [row.player.number for row in self.rows]:
            self.clear_widgets(keys)
            for row in self.rows:
                key = RowKey(row.player.number)
                key.bind(on_press=lambda key: self.dispatch("on_player", key.number))
                self.add_widget(key)
        for place, key in enumerate(self.children[-2::-1], 1):
            key.pos = self.x, self.top - sp(_AXIS) - place * each
            key.size = self.width, each
