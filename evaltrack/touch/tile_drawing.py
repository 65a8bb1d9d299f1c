"""How a tile and a key of a board are drawn: instructions for one canvas, from what they show."""

from kivy.graphics import Color, InstructionGroup, Line, RoundedRectangle
from kivy.metrics import dp

from evaltrack.rink.board_grid import AIM, Rect, half_of, tab_of
from evaltrack.rink.tally import Outcome
from evaltrack.touch import fonts
from evaltrack.touch.faces import Face, KeyFace
from evaltrack.touch.glyphs import add_texture, draw, fitting
from evaltrack.touch.marks import MARKS
from evaltrack.touch.theme import theme

GAP = 8  # between two tiles, in dp; drawn only, the touch area has no gap
_RADIUS = 9


def draw_tile(group: InstructionGroup, tile: Rect, face: Face, ringed: Outcome | None) -> None:
    """Draw a tile: two halves, a ring round the part that was tallied last, and the tab above them."""
    rect = tile.inset(dp(GAP) / 2)
    if not face.here:
        _draw_gone(group, rect, face)
        return
    band = max(dp(20), rect.height * 0.12) if face.caption else 0
    _draw_ground(group, Rect(rect.x, rect.y, rect.width, rect.height), band, face)
    if ringed in (Outcome.DONE, Outcome.MISSED):
        _draw_ring(group, half_of(rect, ringed))
    ink, look = theme.palette.ink, theme.palette
    _draw_half(group, rect, band, face, Outcome.MISSED, ink)
    _draw_half(group, rect, band, face, Outcome.DONE, look.on_fill if face.watched else ink)
    tab = tab_of(tile)
    _draw_tab(group, Rect(tab.x, tab.y, tab.width, rect.top - tab.y), face, ringed is Outcome.UNSEEN)


def _draw_ground(group: InstructionGroup, rect: Rect, band: float, face: Face) -> None:
    look, radius, half = theme.palette, dp(_RADIUS), rect.width / 2
    _fill(group, rect, look.tile)
    group.add(Color(*(look.fill if face.watched else look.dim)))
    corners = [0, radius, 0 if band else radius, 0]
    right = {"pos": (rect.x + half, rect.y + band), "size": (half, rect.height - band)}
    group.add(RoundedRectangle(radius=corners, **right))
    if band:
        x, y, width = rect.x + half, rect.y + band * 0.5, rect.width - dp(16)
        draw(group, face.caption, x, y, min(band * 0.68, dp(18)), look.soft, anchor="center", width=width)
    group.add(Color(*look.line))
    group.add(outline(rect, dp(1)))


def _draw_half(group: InstructionGroup, rect: Rect, band: float, face: Face, outcome: Outcome, tint) -> None:
    half = half_of(rect, outcome)
    size = min(half.height * 0.3, half.width * 0.36)
    middle, right = half.y + AIM * half.height, half.x + half.width
    group.add(Color(*tint))
    MARKS[outcome](group, right - half.width * 0.66, middle, size * 0.34)
    x = right - half.width * 0.28
    draw(group, str(face.count(outcome)), x, middle, size, tint, fonts.SEMIBOLD, "center")
    word = max(dp(14), min(half.height * 0.11, dp(22)))
    low = half.y + band
    y = low + (middle - size * 0.5 - low) * 0.5
    draw(group, str(outcome), half.x + half.width / 2, y, word, tint, anchor="center")


def _draw_tab(group: InstructionGroup, tab: Rect, face: Face, ringed: bool) -> None:
    look, radius = theme.palette, dp(_RADIUS)
    corners = [0, 0, radius, radius]
    group.add(Color(*look.ground))
    group.add(RoundedRectangle(pos=(tab.x, tab.y), size=(tab.width, tab.height), radius=corners))
    group.add(Color(*look.line))
    group.add(_open_outline(tab, radius))
    if ringed:
        _draw_ring(group, tab)
    inner = tab.inset(dp(6))
    if face.unseen:
        width = draw(
            group, f"–{face.unseen}", inner.right, tab.y + tab.height / 2, dp(15), look.soft, anchor="right"
        )
        inner = Rect(inner.x, inner.y, inner.width - width - dp(4), inner.height)
    _draw_label(group, inner, face.number, face.name, look.ink)


def _draw_label(group: InstructionGroup, box: Rect, number: str, name: str, tint) -> None:
    """Draw a number and a name side by side in the middle of a box; a name alone may have two lines."""
    middle, left = box.y + box.height / 2, box.x
    if number:
        size = min(box.height * 1.08, box.width * 0.36)
        drawn = fitting(
            name, fonts.SEMIBOLD, box.width - size * 0.62 * len(number) - dp(6), box.height, _NAME_SIZES
        )
        left += max(0, (box.width - size * 0.52 * len(number) - dp(7) - drawn.width) / 2)
        left += draw(group, number, left, middle, size, tint, fonts.BOLD) + dp(7)
    else:
        drawn = fitting(name, fonts.SEMIBOLD, box.width, box.height, _NAME_SIZES)
        left += (box.width - drawn.width) / 2
    add_texture(group, drawn, left, middle - drawn.height / 2, tint)


_NAME_SIZES = (26, 22, 19, 17, 15, 13)


def draw_key(group: InstructionGroup, key: Rect, face: KeyFace) -> None:
    """Draw a key: a number over or beside a title, and a small line."""
    look, rect = theme.palette, key.inset(dp(GAP) / 2)
    _fill(group, rect, look.fill if face.chosen else look.ground)
    group.add(Color(*(look.fill if face.chosen else look.soft)))
    group.add(outline(rect, dp(1.2)))
    ink = look.on_fill if face.chosen else look.ink
    soft = look.on_fill if face.chosen else look.soft
    inner = rect.inset(dp(6))
    if rect.width > 1.5 * rect.height:
        small = dp(15) * 1.25 if face.small else 0
        _draw_label(
            group,
            Rect(inner.x, inner.y + small, inner.width, inner.height - small),
            face.number,
            face.title,
            ink,
        )
        if small:
            draw(
                group,
                face.small,
                inner.x + inner.width / 2,
                inner.y + small / 2,
                dp(15),
                soft,
                anchor="center",
                width=inner.width,
            )
        return
    _draw_upright(group, inner, face, ink, soft)


def _draw_upright(group: InstructionGroup, box: Rect, face: KeyFace, ink, soft) -> None:
    lines = [fitting(face.title, fonts.SEMIBOLD, box.width, box.height * 0.5, _NAME_SIZES)]
    tints = [ink]
    if face.number:
        size = min(box.height * 0.42, box.width * 0.62)
        lines.insert(0, fitting(face.number, fonts.BOLD, box.width, size * 1.5, (size / dp(1),)))
        tints.insert(0, ink)
    if face.small:
        lines.append(fitting(face.small, fonts.PLAIN, box.width, box.height * 0.3, (16, 14, 13)))
        tints.append(soft)
    y = box.y + (box.height + sum(line.height for line in lines)) / 2
    for drawn, tint in zip(lines, tints, strict=True):
        y -= drawn.height
        add_texture(group, drawn, box.x + (box.width - drawn.width) / 2, y, tint)


def _draw_gone(group: InstructionGroup, rect: Rect, face: Face) -> None:
    look, middle = theme.palette, rect.x + rect.width / 2
    group.add(Color(*look.line))
    group.add(outline(rect, dp(1)))
    y, width = rect.y + rect.height / 2, rect.width - dp(16)
    name = f"{face.number}  {face.name}".strip()
    draw(group, name, middle, y + dp(10), dp(18), look.soft, fonts.SEMIBOLD, "center", width)
    draw(group, face.caption, middle, y - dp(14), dp(15), look.soft, anchor="center", width=width)


def draw_focus(group: InstructionGroup, cell: Rect) -> None:
    """Mark the cell that the keyboard acts on."""
    group.add(Color(*theme.palette.ink))
    group.add(outline(cell.inset(dp(1)), dp(2.2)))


def _draw_ring(group: InstructionGroup, part: Rect) -> None:
    group.add(Color(*theme.palette.ring))
    group.add(outline(part.inset(dp(3)), dp(3)))


def _fill(group: InstructionGroup, rect: Rect, tint) -> None:
    group.add(Color(*tint))
    group.add(RoundedRectangle(pos=(rect.x, rect.y), size=(rect.width, rect.height), radius=[dp(_RADIUS)]))


def outline(rect: Rect, width: float) -> Line:
    """Return the rounded outline of a rectangle."""
    return Line(rounded_rectangle=(rect.x, rect.y, rect.width, rect.height, dp(_RADIUS)), width=width)


def _open_outline(tab: Rect, radius: float) -> Line:
    """Return the outline of a tab: it hangs from the tile's upper edge."""
    x, y = tab.x, tab.y
    points = (x, tab.top, x, y + radius, x + radius, y, tab.right - radius, y, tab.right, y + radius)
    return Line(points=(*points, tab.right, tab.top), width=dp(1))
