"""How the parts of a drawn screen look: keys, tiles, words, fields, shares, charts, numbers at them."""

from kivy.graphics import Color, InstructionGroup, Line, Rectangle, RoundedRectangle

from evaltrack.language import tr
from evaltrack.rink.board_grid import TAB_WIDTH, Rect, half_of, tab_of
from evaltrack.rink.tally import Outcome
from evaltrack.touch.help.sketch_rows import SketchItem, SketchRow, widths
from evaltrack.touch.tiles.marks import MARKS
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, draw, fitted, texture
from evaltrack.touch.widgets.outlines import ring, rounded
from evaltrack.touch.widgets.theme import theme

_RADIUS, _LETTERS, _PAD = 6, 14, 6  # in units of the drawing
_CURVE = (0.35, 0.3, 0.42, 0.4, 0.52, 0.5, 0.58, 0.62)  # how high a player's share is along a chart
_INTERVALS = ((0.1, 0.7), (0.3, 0.32))  # where the two bars of a share begin, and how wide they are
_SHARE, _TARGET = 0.44, 0.62


class SketchPen:
    """Draws into a group of instructions.

    Parameters
    ----------
    unit : pixels of a unit of the drawing.
    """

    def __init__(self, group: InstructionGroup, unit: float):
        self._group, self._unit = group, unit
        self._kinds = {
            "bar": self._bar_key,
            "keys": self._key,
            "tiles": self._tile,
            "words": self._words,
            "fields": self._field,
            "shares": self._share,
            "chart": self._chart,
        }

    def row(self, row: SketchRow, place: Rect, gap: float) -> None:
        """Draw a row, its parts beside one another."""
        in_bar = row.kind == "bar"
        if in_bar:
            self.box(place, theme.palette.bar, theme.palette.bar)
            place = place.inset(5 * self._unit)
        x = place.x
        for item, wide in zip(row.items, self._widths(row, place.width, gap), strict=True):
            spot = Rect(x, place.y, wide, place.height)
            x = spot.right + gap
            if item.bare:
                self._heading(spot, item, theme.palette.on_bar if in_bar else theme.palette.ink)
            elif item.words:
                self._kinds[row.kind](spot, item)
            if item.number:
                self._number(spot, item.number)

    def _widths(self, row: SketchRow, room: float, gap: float) -> list[float]:
        lines = [self._need(row.kind, [item.words]) for item in row.items]
        words = [self._need(row.kind, item.words.split()) for item in row.items]
        return widths(lines, words, room - gap * (len(row.items) - 1))

    def _need(self, kind: str, words: list[str]) -> float:
        """Return how wide a part of a row is that has the widest of these words in a line of its own."""
        size, font = round(_LETTERS * self._unit), fonts.BOLD if kind == "tiles" else fonts.SEMIBOLD
        wide = max((texture(each, size, font).width for each in words), default=0)
        return (wide + 2 * _PAD * self._unit + 1) / (TAB_WIDTH if kind == "tiles" else 1)

    def box(self, spot: Rect, ground, line) -> None:
        """Draw a box with round corners."""
        spot, radius = spot.on_pixels(), _RADIUS * self._unit
        self._colour(ground)
        self._add(RoundedRectangle(pos=(spot.x, spot.y), size=(spot.width, spot.height), radius=[radius]))
        self._colour(line)
        self._add(rounded(*spot, radius, self._unit))

    def _bar_key(self, spot: Rect, item: SketchItem) -> None:
        palette = theme.palette
        self._face(spot, item, (palette.bar, palette.bar_soft, palette.on_bar))

    def _key(self, spot: Rect, item: SketchItem) -> None:
        palette = theme.palette
        self._face(spot, item, (palette.tile, palette.line, palette.ink))

    def _face(self, spot: Rect, item: SketchItem, colours) -> None:
        palette = theme.palette
        ground, line, ink = (palette.fill, palette.fill, palette.on_fill) if item.chosen else colours
        self.box(spot, ground, line)
        self._write(spot, item.words, ink, "center", fonts.SEMIBOLD)

    def _heading(self, spot: Rect, item: SketchItem, tint) -> None:
        self._write(spot, item.words, tint, "left", fonts.SEMIBOLD)

    def _words(self, spot: Rect, item: SketchItem) -> None:
        self._write(spot, item.words, theme.palette.soft, "left")

    def _field(self, spot: Rect, item: SketchItem) -> None:
        self.box(spot, theme.palette.tile, theme.palette.fill)
        self._write(spot, item.words, theme.palette.soft, "left")

    def _tile(self, spot: Rect, item: SketchItem) -> None:
        palette, radius = theme.palette, _RADIUS * self._unit
        self.box(spot, palette.tile, palette.line)
        done, tab = half_of(spot, Outcome.DONE), tab_of(spot)
        self._colour(palette.fill)
        right = {"pos": (done.x, done.y), "size": (done.width, done.height)}
        self._add(RoundedRectangle(radius=[0, radius, radius, 0], **right))
        for outcome, tint in ((Outcome.MISSED, palette.ink), (Outcome.DONE, palette.on_fill)):
            self._half(half_of(spot, outcome), outcome, tint)
        self.box(tab, palette.ground, palette.line)
        self._write(tab, item.words, palette.ink, "center", fonts.BOLD)

    def _half(self, half: Rect, outcome: Outcome, tint) -> None:
        x, unit = half.x + half.width / 2, self._unit
        self._colour(tint)
        MARKS[outcome](self._group, x, half.y + half.height * 0.46, 11 * unit)
        draw(self._group, tr(outcome), x, half.y + 13 * unit, 13 * unit, tint, anchor="center")

    def _share(self, spot: Rect, item: SketchItem) -> None:
        """Draw a count with the bars of its intervals, its dot, and the tick of the target."""
        palette, unit = theme.palette, self._unit
        level, left, wide = spot.y + 9 * unit, spot.x + _PAD * unit, spot.width * 0.8
        upper = Rect(spot.x, level + 6 * unit, spot.width, spot.top - level - 6 * unit)
        self._write(upper, item.words, palette.ink, "left")
        for tint, (start, share) in zip((palette.band, palette.band50), _INTERVALS, strict=True):
            self._colour(tint)
            bar = Rect(left + start * wide, level - 4 * unit, share * wide, 8 * unit).on_pixels()
            self._add(Rectangle(pos=(bar.x, bar.y), size=(bar.width, bar.height)))
        dot, tick = left + _SHARE * wide, left + _TARGET * wide
        self._colour(palette.ink)
        self._add(Line(circle=(dot, level, 2 * unit), width=2 * unit))
        self._add(Line(points=(tick, level - 7 * unit, tick, level + 7 * unit), width=1.2 * unit))

    def _chart(self, spot: Rect, item: SketchItem) -> None:
        """Draw a share over a season: the line in its band, rings for practices, and the target's mark."""
        palette, unit = theme.palette, self._unit
        self.box(spot, palette.tile, palette.line)
        self._write(
            Rect(spot.x, spot.top - 24 * unit, spot.width, 24 * unit), item.words, palette.ink, "left"
        )
        field = spot.inset(12 * unit)
        step = field.width * 0.9 / (len(_CURVE) - 1)
        at = [(field.x + i * step, field.y + (share - 0.2) * field.height) for i, share in enumerate(_CURVE)]
        for tint, width in ((palette.band, 9), (palette.fill, 1.6)):
            self._colour(tint)
            self._add(Line(points=[part for point in at for part in point], width=width * unit, cap="none"))
        self._colour(palette.ink)
        for index, (x, y) in enumerate(at[1::2]):
            self._add(ring(x, y + (9 if index % 2 else -8) * unit, 5 * unit, 1.2 * unit))
        level = field.y + _TARGET * field.height
        self._add(Line(points=(field.right - 9 * unit, level, field.right, level), width=1.5 * unit))

    def _number(self, spot: Rect, number: int) -> None:
        palette, radius = theme.palette, 10 * self._unit
        x, y = spot.right - 0.6 * radius, spot.top - 0.4 * radius
        self._colour(palette.tile)
        self._add(
            RoundedRectangle(pos=(x - radius, y - radius), size=(2 * radius, 2 * radius), radius=[radius])
        )
        self._colour(palette.ink)
        self._add(ring(x, y, radius, 1.3 * self._unit))
        draw(self._group, str(number), x, y, 14 * self._unit, palette.ink, fonts.BOLD, "center")

    def _write(self, spot: Rect, words: str, tint, anchor: str, font: str = fonts.PLAIN) -> None:
        """Write words in the middle of a place: in two lines or a smaller type where they would not fit."""
        pad = _PAD * self._unit
        lines = [(words, round(_LETTERS * self._unit), font)]
        (drawn,) = fitted(lines, int(spot.width - 2 * pad), spot.height - pad, wraps=True, halign=anchor)
        x = spot.x + ((spot.width - drawn.width) / 2 if anchor == "center" else pad)
        add_texture(self._group, drawn, x, spot.y + (spot.height - drawn.height) / 2, tint)

    def _colour(self, tint) -> None:
        self._add(Color(*tint))

    def _add(self, instruction) -> None:
        self._group.add(instruction)
