"""The team board's table: one widget for the heads of the columns, one that draws all rows on one canvas."""

from dataclasses import dataclass

from kivy.graphics import Color, Ellipse, InstructionGroup, Line, Rectangle, RoundedRectangle
from kivy.metrics import dp
from kivy.properties import NumericProperty, ObjectProperty

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.rink.board_grid import Rect
from evaltrack.rink.skill import Skill
from evaltrack.touch.review.call_marks import call_width, draw_call
from evaltrack.touch.review.team_choice import Table
from evaltrack.touch.review.team_names import draw_person, name_size, two_lines, wide
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.button import is_finger
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.glyphs import draw
from evaltrack.touch.widgets.reachable import Reachable
from evaltrack.touch.widgets.redraw import Drawn
from evaltrack.touch.widgets.theme import theme
from evaltrack.words.wording import count_words, is_firm

LEAST_ROW, MOST_ROW = 30, 60  # dp
_LEAST_COLUMN, _MOST_COLUMN = 124, 190  # dp
_GUTTER = 12  # dp between two columns
_EDGE = 16  # dp left and right of the table
_SLIP = 16  # dp that a finger may move and still mean the row


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the columns lie in a table of this width, in pixels."""

    width: float
    skills: int = 1

    @property
    def names(self) -> float:
        """Return the width of the first column, which has number and name."""
        return dp(232) if self.width >= dp(1000) else dp(180)

    @property
    def most(self) -> int:
        """Return how many skills fit."""
        return max(1, int((self.width - self.names - dp(_EDGE)) // dp(_LEAST_COLUMN)))

    @property
    def each(self) -> float:
        """Return the width of a skill's column."""
        return min((self.width - self.names - dp(_EDGE)) / max(1, self.skills), dp(_MOST_COLUMN))

    def span(self, index: int) -> tuple[float, float]:
        """Return left and right of what is drawn for a skill, from the table's left."""
        left = self.names + index * self.each
        return left, left + self.each - dp(_GUTTER)


class _OfTable(Drawn):
    """A widget that draws a part of a table."""

    shows = ("table",)
    table = ObjectProperty(Table())

    @property
    def _columns(self) -> Columns:
        return Columns(self.width, len(self.table.skills))


class TeamHead(_OfTable):
    """The names of the skills above their columns, in two lines where one is too short."""

    def draw(self, group: InstructionGroup) -> None:
        """Draw the names and a rule below them."""
        columns = self._columns
        for index, skill in enumerate(self.table.skills):
            left, right = columns.span(index)
            lines = two_lines(skill.name, dp(15), right - left)
            for row, line in enumerate(reversed(lines)):
                y = self.y + dp(14 + 18 * row)
                draw(
                    group,
                    line,
                    self.x + left,
                    y,
                    dp(15),
                    theme.palette.ink,
                    fonts.SEMIBOLD,
                    width=right - left,
                )
        group.add(Color(*theme.palette.line))
        group.add(Rectangle(pos=(self.x + dp(_EDGE), self.y), size=(self.width - dp(2 * _EDGE), dp(1))))


class TeamTable(Reachable, EventSource, _OfTable):
    """The rows. ``on_player(number)`` comes when a finger leaves the row that it came down on."""

    __events__ = ("on_player",)
    room = NumericProperty(100)  # the height of the view that it stands in

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.size_hint_y = None
        self.bind(table=self._resize, room=self._resize)

    @property
    def row_height(self) -> float:
        """Return the height of a row in pixels: what the view allows, within bounds."""
        return min(max(self.room / max(1, len(self.table.players)), dp(LEAST_ROW)), dp(MOST_ROW))

    def row_at(self, y: float) -> int | None:
        """Return the row at a height; None below the last one."""
        row = int((self.top - y) // self.row_height)
        return row if 0 <= row < len(self.table.players) else None

    def row_center(self, row: int) -> tuple[float, float]:
        """Return the middle of a row."""
        return self.center_x, self.top - (row + 0.5) * self.row_height

    def spots(self) -> list[Rect]:
        """Return the rows."""
        high, rows = self.row_height, range(len(self.table.players))
        return [Rect(self.x, self.top - (row + 1) * high, self.width, high) for row in rows]

    def spot_name(self, index: int) -> str:
        """Return the number of the player in a row."""
        return self.table.players[index].number

    def press_spot(self, index: int) -> None:
        """Open the player of a row."""
        self.dispatch("on_player", self.table.players[index].number)

    def on_touch_down(self, touch):
        """Remember the row, and wait: the finger may scroll."""
        if not (self.collide_point(*touch.pos) and is_finger(touch)):
            return super().on_touch_down(touch)
        touch.grab(self)
        touch.ud[self] = self.row_at(touch.y)
        return True

    def on_touch_up(self, touch):
        """Open the player when the finger stayed where it was."""
        if touch.grab_current is not self:
            return super().on_touch_up(touch)
        touch.ungrab(self)
        row = touch.ud.get(self)
        still = abs(touch.x - touch.ox) < dp(_SLIP) and abs(touch.y - touch.oy) < dp(_SLIP)
        if row is not None and row < len(self.table.players) and still:
            self.dispatch("on_player", self.table.players[row].number)
        return True

    def _resize(self, *_) -> None:
        self.height = max(self.row_height * len(self.table.players), self.room)

    def draw(self, group: InstructionGroup) -> None:
        """Draw the rows: number and name, and a cell for each standing."""
        columns = self._columns
        first = Rect(0, 0, columns.names, self.row_height)
        size = name_size((player.name for player in self.table.players), first)
        for row, player in enumerate(self.table.players):
            middle = self.row_center(row)[1]
            self._draw_rule(group, row, middle)
            draw_person(group, player, self.x, first._replace(y=middle - self.row_height / 2), size)
            for index, skill in enumerate(self.table.skills):
                standing = self.table.cell(player, skill)
                if standing:
                    left, right = columns.span(index)
                    place = _Place(self.x + left, self.x + right, middle, self.row_height)
                    _draw_cell(group, place, standing, skill)

    def _draw_rule(self, group: InstructionGroup, row: int, middle: float) -> None:
        if row:
            group.add(Color(*(theme.palette.line if row % 5 == 0 else theme.palette.ground)))
            top = round(middle + self.row_height / 2)
            group.add(Rectangle(pos=(self.x + dp(_EDGE), top), size=(self.width - dp(2 * _EDGE), dp(1))))


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a cell is drawn."""

    left: float
    right: float
    middle: float
    height: float

    def x(self, share: float) -> float:
        return self.left + share * (self.right - self.left)


def count_size(text: str, font: str, room: float) -> float:
    """Return the largest of three sizes in which a count fits beside its call."""
    return next((dp(size) for size in (15, 13) if wide(text, dp(size), font) <= room), dp(12))


def _draw_cell(group: InstructionGroup, place: _Place, standing: Standing, skill: Skill) -> None:
    palette, firm = theme.palette, is_firm(standing)
    y = place.middle + (place.height * 0.17 if firm else 0)
    bold = standing.call is Call.WORK_ON
    text, font = count_words(standing.done, standing.tries), fonts.BOLD if bold else fonts.PLAIN
    room = place.right - place.left - call_width(standing.call, dp(12)) - dp(5)
    size = count_size(text, font, room)
    draw(group, text, place.left, y, size, palette.ink if firm else palette.soft, font)
    if firm:
        draw_call(group, standing.call, place.right, y, dp(12))
        _draw_interval(group, place, standing, skill.target)


def _draw_interval(group, place: _Place, standing: Standing, target: float) -> None:
    palette, y = theme.palette, round(place.middle - place.height * 0.29)
    group.add(Color(*palette.line))
    group.add(Rectangle(pos=(place.left, y), size=(place.right - place.left, dp(1))))
    _bar(group, place, y, standing.low, standing.high, palette.band)
    _bar(group, place, y, standing.low50, standing.high50, palette.band50)
    group.add(Color(*palette.ink))
    group.add(Line(points=(place.x(target), y - dp(4), place.x(target), y + dp(5)), width=1))
    group.add(Color(*palette.fill))
    radius = dp(4)
    group.add(
        Ellipse(pos=(place.x(standing.share) - radius, y + 0.5 - radius), size=(2 * radius, 2 * radius))
    )


def _bar(group: InstructionGroup, place: _Place, y: float, low: float, high: float, tint) -> None:
    half = dp(3)
    group.add(Color(*tint))
    size = max(place.x(high) - place.x(low), 2 * half), 2 * half + 1
    group.add(RoundedRectangle(pos=(place.x(low), y - half), size=size, radius=[half]))
