"""How a tile and a button of a board are drawn: instructions for one canvas, from what they show."""

from kivy.graphics import Color, Ellipse, InstructionGroup, Line, RoundedRectangle
from kivy.metrics import dp, sp

from evaltrack.rink.board_grid import AIM, Rect, aim_of, half_of, tab_of
from evaltrack.rink.tally import Outcome
from evaltrack.touch.tiles.faces import ButtonFace, Face
from evaltrack.touch.tiles.labels import Label, draw_flat, draw_label, draw_upright
from evaltrack.touch.tiles.marks import MARKS, outcome_word
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.glyphs import add_texture, draw, fitting, whole
from evaltrack.touch.widgets.outlines import ring, rounded
from evaltrack.touch.widgets.theme import theme

GAP = 8  # between two tiles, in dp; drawn only, the touch area has no gap
_RADIUS = 9
_RING_INSIDE = 10  # dp from the edge of a part to what the ring round it leaves free
_LETTERS = 3.6  # times its size is the width of the longer word, with some room
_INK = 0.4  # of a word's size: how far letters reach up and down from its middle
_FOCUS = 2.2  # dp, half of the frame's line
_CAPTION_SIZES = (18, 16, 15, 14, 13, 12)
_TWO_LINES, _SMALLEST = (14, 13, 12), (11, 10)  # of a caption that has no room in one line of these
_WORD = 12  # dp: the smallest size of the word in a half
_DIGIT = 0.57  # of a count's size: how wide one digit is
_MANY_DIGITS, _NARROWER = (
    2,
    0.8,
)  # more than the first one, from which a half has room for a smaller count only
_FLAT = 1.5  # times its height is the width of a key from which number and name stand side by side
_LIMIT_SIZES = (16, 15, 14, 13, 12, 11, 10, 9)


def draw_tile(group: InstructionGroup, tile: Rect, face: Face, ringed: Outcome | None) -> None:
    """Draw a tile: two halves, a ring round the part that was tallied last, and the tab above them."""
    rect, palette = tile.inset(dp(GAP) / 2).on_pixels(), theme.palette
    if not face.here:
        _draw_gone(group, rect, face)
        return
    band, caption = _caption_of(rect, face.caption)
    _draw_ground(group, rect, band, face.watched)
    if ringed in (Outcome.DONE, Outcome.MISSED):
        half = half_of(rect, ringed)
        _draw_ring(group, Rect(half.x, half.y + band, half.width, half.height - band))
    _draw_half(group, rect, band, Outcome.MISSED, face.missed, palette.ink)
    _draw_half(group, rect, band, Outcome.DONE, face.done, palette.on_fill if face.watched else palette.ink)
    if caption:
        x, y = rect.x + (rect.width - caption.width) / 2, rect.y + (band - caption.height) / 2
        add_texture(group, caption, x, y, palette.soft)
    tab = tab_of(tile).on_pixels()
    if face.limit:
        _draw_limit(group, rect, tab, face.limit)
    if face.first:
        _draw_first(group, rect, tab, palette.on_fill if face.watched else palette.ink)
    _draw_tab(group, Rect(tab.x, tab.y, tab.width, rect.top - tab.y), face, ringed is Outcome.UNSEEN)


def _draw_ground(group: InstructionGroup, rect: Rect, band: float, watched: bool) -> None:
    palette, radius, half = theme.palette, dp(_RADIUS), rect.width / 2
    _fill(group, rect, palette.tile)
    group.add(Color(*(palette.fill if watched else palette.dim)))
    corners = [0, radius, 0 if band else radius, 0]
    right = {"pos": (rect.x + half, rect.y + band), "size": (half, rect.height - band)}
    group.add(RoundedRectangle(radius=corners, **right))
    group.add(Color(*palette.line))
    group.add(outline(rect, dp(1)))


def _draw_half(group: InstructionGroup, rect: Rect, band: float, outcome: Outcome, count: int, tint) -> None:
    half = half_of(rect, outcome)
    size, low = _count_size(rect, bool(band)), half.y + band
    x, middle = aim_of(rect, outcome)
    _draw_count(group, outcome, count, (x, middle), size, tint)
    # the word stands between the ring round the half and the count above it, in low tiles just clear of both
    ring, count_ends = low + dp(_RING_INSIDE), rect.y + _count_ends(rect, bool(band))
    room = min((count_ends - ring) / (2 * _INK), half.width / _LETTERS)
    word = max(dp(_WORD), min(max(sp(14), half.height * 0.11), sp(22), room))
    y = max((low + middle - 0.5 * size) / 2, ring + _INK * word)
    draw(group, outcome_word(outcome), x, y, word, tint, anchor="center")


def _draw_count(group: InstructionGroup, outcome: Outcome, count: int, at, size: float, tint) -> None:
    """Draw the mark and the count beside it, apart by as much whatever the count, and both in the middle."""
    more = len(str(count)) - 1
    size *= 1 if more < _MANY_DIGITS else _NARROWER
    x, middle, aside = *at, _DIGIT / 2 * size * more
    group.add(Color(*tint))
    MARKS[outcome](group, x - size * 0.48 - aside, middle, size * 0.34)
    draw(group, str(count), x + size * 0.56, middle, size, tint, fonts.SEMIBOLD, "center")


def _caption_of(tile: Rect, caption: str):
    """Return the height of the band at a tile's foot, and its caption: in one line, in two, or not at all.

    It has two where the count and the word above it leave room for them. A caption that would have to be cut
    is left out: who or what the tile is for stands in its tab.
    """
    band, width = max(dp(22), tile.height * 0.13), tile.width - dp(12)
    drawn = whole(caption, fonts.PLAIN, width, band - dp(4), _CAPTION_SIZES) if caption else None
    if caption and not drawn:
        most = _count_ends(tile, True) - dp(_RING_INSIDE) - 2 * _INK * dp(_WORD)
        drawn = whole(caption, fonts.PLAIN, width, most, _TWO_LINES, wraps=True)
        band = max(band, drawn.height) if drawn else band
        drawn = drawn or whole(caption, fonts.PLAIN, width, band - dp(4), _SMALLEST)
    return (round(band), drawn) if drawn else (0, None)


def _count_size(tile: Rect, banded: bool) -> float:
    return min(tile.height * (0.27 if banded else 0.3), tile.width / 2 * 0.36)


def _count_ends(tile: Rect, banded: bool) -> float:
    """Return how far above a tile's foot the count in a half ends."""
    return AIM * tile.height - 0.42 * _count_size(tile, banded)


def _draw_limit(group: InstructionGroup, tile: Rect, tab: Rect, limit: str) -> None:
    """Draw in the corner beside the tab what a player may not do; it is the missed half there as before."""
    room = Rect(tile.x + dp(2), tab.y, tab.x - tile.x - dp(4), tile.top - tab.y - dp(3))
    drawn = fitting(limit, fonts.PLAIN, room.width, room.height, _LIMIT_SIZES, wraps=True)
    x, y = room.x + (room.width - drawn.width) / 2, room.y + (room.height - drawn.height) / 2
    add_texture(group, drawn, x, y, theme.palette.ink)


def _draw_first(group: InstructionGroup, tile: Rect, tab: Rect, tint) -> None:
    """Draw an eye in the other corner beside the tab: look here first. It is the done half as before."""
    room = tile.right - tab.right
    x, y, radius = tab.right + room / 2, (tab.y + tile.top) / 2, min(dp(7), room * 0.3)
    group.add(Color(*tint))
    group.add(ring(x, y, radius, dp(1.2)))
    group.add(Ellipse(pos=(x - radius * 0.4, y - radius * 0.4), size=(radius * 0.8, radius * 0.8)))


def _draw_tab(group: InstructionGroup, tab: Rect, face: Face, ringed: bool) -> None:
    palette, radius = theme.palette, dp(_RADIUS)
    group.add(Color(*palette.ground))
    corners = [0, 0, radius, radius]
    group.add(RoundedRectangle(pos=(tab.x, tab.y), size=(tab.width, tab.height), radius=corners))
    group.add(Color(*palette.line))
    group.add(_open_outline(tab, radius))
    if ringed:
        _draw_ring(group, tab)
    pad = dp(9 if ringed else 6)
    box = Rect(tab.x + pad, tab.y + dp(3), tab.width - 2 * pad, tab.height - dp(5))
    if face.unseen:
        unseen = f"– {face.unseen}"
        wide = draw(group, unseen, box.right, box.y + box.height / 2, sp(15), palette.soft, anchor="right")
        box = Rect(box.x, box.y, box.width - wide - dp(4), box.height)
    draw_label(group, box, Label(face.number, face.name, face.brief), palette.ink)


def _draw_gone(group: InstructionGroup, rect: Rect, face: Face) -> None:
    palette = theme.palette
    group.add(Color(*palette.line))
    group.add(outline(rect, dp(1)))
    label = Label(face.number, face.name, face.brief, face.caption)
    draw_upright(group, rect.inset(dp(8)), label, palette.soft, palette.soft)


def draw_button(group: InstructionGroup, button: Rect, face: ButtonFace) -> None:
    """Draw a button: a number over or beside a title, and a small line."""
    palette, rect = theme.palette, button.inset(dp(GAP) / 2).on_pixels()
    _fill(group, rect, palette.fill if face.chosen else palette.ground)
    group.add(Color(*(palette.fill if face.chosen else palette.soft)))
    group.add(outline(rect, dp(1.2)))
    inks = (palette.on_fill, palette.on_fill) if face.chosen else (palette.ink, palette.soft)
    label = Label(face.number, face.title, face.brief, ", ".join(filter(None, (face.small, face.limit))))
    room = button.inset(dp(GAP) / 2)  # not on pixels: keys of one size that differ by one look alike
    if face.number and round(room.width / room.height, 3) > _FLAT:
        draw_flat(group, rect.inset(dp(6)), label, *inks)
    else:
        draw_upright(group, rect.inset(dp(6)), label, *inks)


def draw_focus(group: InstructionGroup, cell: Rect) -> None:
    """Mark the cell that the keyboard acts on."""
    group.add(Color(*theme.palette.ink))
    # within the cell: at the edge of the window there is nothing to draw on
    group.add(outline(cell.inset(dp(_FOCUS + 1)).on_pixels(), dp(_FOCUS)))


def _draw_ring(group: InstructionGroup, part: Rect) -> None:
    group.add(Color(*theme.palette.ring))
    group.add(outline(part.inset(dp(3)), dp(3)))


def _fill(group: InstructionGroup, rect: Rect, tint) -> None:
    group.add(Color(*tint))
    group.add(RoundedRectangle(pos=(rect.x, rect.y), size=(rect.width, rect.height), radius=[dp(_RADIUS)]))


def outline(rect: Rect, width: float) -> Line:
    """Return the rounded outline of a rectangle, half a pixel up, where GL draws it on the fill's edges."""
    return rounded(rect.x, rect.y + 0.5, rect.width, rect.height, dp(_RADIUS), width)


def _open_outline(tab: Rect, radius: float) -> Line:
    """Return the outline of a tab: it hangs from the tile's upper edge."""
    bend = radius * 0.29  # of a corner, at its middle
    left = (tab.x, tab.top, tab.x, tab.y + radius, tab.x + bend, tab.y + bend, tab.x + radius, tab.y)
    right = (tab.right - radius, tab.y, tab.right - bend, tab.y + bend, tab.right, tab.y + radius)
    return Line(points=(*left, *right, tab.right, tab.top), width=dp(1))
