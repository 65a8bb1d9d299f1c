"""The team board's table: blocks of rows on one canvas, with headings that are keys."""

from kivy.clock import Clock
from kivy.graphics import Color, InstructionGroup, Rectangle
from kivy.metrics import dp, sp
from kivy.properties import NumericProperty, ObjectProperty

from evaltrack.language import tr
from evaltrack.rink.board_grid import Rect
from evaltrack.touch.review.table_keys import HeadingKey, RowKey
from evaltrack.touch.review.tapped_rows import TappedRows
from evaltrack.touch.review.team_cell import Place, draw_cell
from evaltrack.touch.review.team_choice import Table
from evaltrack.touch.review.team_layout import EDGE, HEAD, Columns, Rows
from evaltrack.touch.review.team_names import draw_person, name_size
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme
from evaltrack.words.legends import NOT_WATCHED
from evaltrack.words.wording import group_word

_LOOKS = 3  # rounds of the layout that change nothing


class DrawnRows(Drawn):
    """All that is drawn of the table: names, cells, and rules between the rows."""

    shows = ("rows",)
    rows = ObjectProperty(Rows(Table(), 100), force_dispatch=True)

    def draw(self, group: InstructionGroup) -> None:
        """Draw each block's name, and its rows with a cell for each standing."""
        rows = self.rows
        columns = Columns(self.width)
        each, first = rows.each, Rect(0, 0, columns.names, rows.each)
        size = name_size((player.name for player in rows.table.players), first)
        for block, top in rows.blocks():
            y = self.top - top - sp(HEAD) / 2
            ink = theme.palette.ink
            draw(group, group_word(block.group), self.x + dp(EDGE), y, sp(17), ink, fonts.BOLD)
            if not block.skills:
                x = self.x + columns.names
                draw(group, tr(NOT_WATCHED), x, y, sp(15), theme.palette.soft)
            self._draw_rule(group, self.top - top - sp(HEAD), theme.palette.line)
        for block, player, below in rows.rows():
            middle = self.top - below
            if player != block.players[0]:
                self._draw_rule(group, middle + each / 2, theme.palette.ground)
            draw_person(group, player, self.x, first._replace(y=middle - each / 2), size)
            self._draw_cells(group, block, player, middle)

    def _draw_cells(self, group: InstructionGroup, block, player, middle: float) -> None:
        columns = Columns(self.width, len(block.skills))
        for index, skill in enumerate(block.skills):
            standing = self.rows.table.cell(player, skill)
            if standing:
                left, right = columns.span(index)
                place = Place(self.x + left, self.x + right, middle, self.rows.each)
                draw_cell(group, place, standing, skill.target)

    def _draw_rule(self, group: InstructionGroup, y: float, tint) -> None:
        group.add(Color(*tint))
        group.add(
            Rectangle(pos=(self.x + dp(EDGE), round(y)), size=(self.width - dp(2 * EDGE), max(1, dp(1))))
        )


class TeamTable(TappedRows):
    """The whole table.

    ``on_skill(key)`` comes when a heading is pressed. ``room`` is the height of the view that it stands in.
    """

    __events__ = ("on_skill",)
    table = ObjectProperty(Table())
    room = NumericProperty(100)

    def __init__(self, **kwargs):
        super().__init__(size_hint_y=None, **kwargs)
        self.picture = DrawnRows()
        self.add_widget(self.picture)
        self._arrange_soon = Clock.create_trigger(self._arrange, -1)
        self._asked = None  # what the keys were made for
        self._seen, self._looks = None, 0  # where it lay, and how often since it lay there
        for name in ("table", "room", "pos", "size"):
            self.fbind(name, self._arrange_soon)

    @property
    def rows(self) -> Rows:
        """Return where headings and rows lie."""
        return Rows(self.table, self.room)

    @property
    def headings(self) -> list[HeadingKey]:
        """Return the keys of the headings, block by block."""
        return [key for key in self.children[::-1] if isinstance(key, HeadingKey)]

    def row_center(self, place: int) -> tuple[float, float]:
        """Return the middle of a row, counted over all blocks."""
        below = list(self.rows.rows())[place][2]
        return self.center_x, self.top - below

    def number_at(self, below: float) -> str | None:
        """Return the number of the player whose row lies so far below the top; None on headings."""
        player = self.rows.player_at(below)
        return player and player.number

    def _arrange(self, *_) -> None:
        rows = self.rows
        self.height = max(rows.height, self.room)
        if not self._lies_still():
            self._arrange_soon()
            return
        self.picture.pos, self.picture.size, self.picture.rows = self.pos, self.size, rows
        if self._asked != self.table.blocks:
            self._asked = self.table.blocks
            self._make_keys()
        self._place_keys(rows)

    def _lies_still(self) -> bool:
        """Say whether the layout around the table has come to rest: a drawing takes longer than all of it."""
        seen = (*self.pos, *self.size, self.room, id(self.table))
        self._looks = self._looks + 1 if seen == self._seen else 0
        self._seen = seen
        return self._looks >= _LOOKS

    def _make_keys(self) -> None:
        self.clear_widgets(self.children[:-1])
        for block in self.table.blocks:
            for skill in block.skills:
                self.add_widget(HeadingKey(skill, on_press=self._open_skill))
            for player in block.players:
                self.add_widget(RowKey(player.number, on_press=self._open_player))

    def _place_keys(self, rows: Rows) -> None:
        keys = iter(self.children[-2::-1])
        for block, top in rows.blocks():
            columns = Columns(self.width, len(block.skills))
            for index, _ in enumerate(block.skills):
                left, right = columns.span(index)
                key = next(keys)
                key.pos = self.x + left - dp(6), self.top - top - sp(HEAD) + dp(3)
                key.size = right - left + dp(2), sp(HEAD) - dp(5)
            for place, _ in enumerate(block.players, 1):
                key = next(keys)
                key.pos = self.x + dp(2), self.top - top - sp(HEAD) - place * rows.each
                key.size = self.width - dp(4), rows.each

    def _open_skill(self, key: HeadingKey) -> None:
        self.dispatch("on_skill", key.skill.key)

    def _open_player(self, key: RowKey) -> None:
        self.dispatch("on_player", key.number)
