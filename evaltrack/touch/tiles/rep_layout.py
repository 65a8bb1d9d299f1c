"""Where the slots of a rep stand on the board. Pure arithmetic.

Each slot is a plate that says who is in it, and beside it a tile for each skill worth watching there. They
stand from the upper left to the lower right as they do on the ice, from the net to the far end. Below them is
a row for who comes next.
"""

from collections.abc import Sequence
from itertools import combinations, pairwise

from evaltrack.rink.board_grid import Rect, lay_out
from evaltrack.touch.tiles.placement import Part, Placement, stacked

# shares of a tile on a board for twenty: on a ten-inch tablet that is 43 by 26 mm
_TILE, _PLATE, _PLATE_AT_MOST = 0.88, 0.29, 0.55
_BUTTON_WIDTH, _BUTTON_HEIGHT = 0.45, 0.45

Rows = list[tuple[float, list[Part]]]


def rep_rows(slots: Sequence[int], starters: int, area: Rect) -> Rows:
    """Return the rows for slots with so many tiles each, and for the tiles of who comes next.

    Button ``i`` is the plate of slot ``i``, the button behind them begins the next rep. The tiles of the
    slots come first, then those of who comes next, as many as there is room for: none, where the tiles would
    become smaller than on a board for twenty.
    """
    width, height = lay_out(20, area).tile_size
    tile, plate = _TILE * width, _PLATE * width
    blocks = _even_rows([plate + tiles * tile for tiles in slots], area.width)
    room = int((area.width - plate) / tile)
    following = min(starters, room) if (len(blocks) + 1) * height <= area.height * 1.001 else 0
    loads = [(len(row), sum(slots[i] for i in row)) for row in blocks] + [(1, following)] * bool(following)
    spare = min(((area.width - tiles * tile) / plates for plates, tiles in loads), default=plate)
    plate = max(plate, min(_PLATE_AT_MOST * width, spare))
    first = [sum(slots[:i]) for i in range(len(slots) + 1)]
    rows: Rows = []
    for row in blocks:
        parts = [(i, range(first[i], first[i + 1])) for i in row]
        rows.append((1, _row(parts, plate, area.width)))
    if following:
        rows.append((1, _row([(len(slots), range(first[-1], first[-1] + following))], plate, area.width)))
    return rows


def _row(parts: Sequence[tuple[int, range]], plate: float, width: float) -> list[Part]:
    tiles = sum(len(places) for _, places in parts)
    tile = (width - len(parts) * plate) / max(tiles, 1)
    row = []
    for button, places in parts:
        row += [Part(plate, button=button), *(Part(tile, tile=place) for place in places)]
    return row


def _even_rows(widths: Sequence[float], room: float) -> list[list[int]]:
    """Return the slots in as few rows as hold them, in order, the rows as equal as they can be.

    The first one, who stands in the net, comes last where that saves a row: with two nets either end
    is theirs.
    """
    order = list(range(len(widths)))
    for rows in range(1, len(order) + 1):
        for turned in (order, [*order[1:], *order[:1]]):
            cuts = _cuts([widths[i] for i in turned], rows, room if rows < len(order) else float("inf"))
            if cuts:
                return [turned[a:b] for a, b in pairwise(cuts)]
    return []


def _cuts(widths: Sequence[float], rows: int, room: float) -> tuple[int, ...] | None:
    """Return where to cut a sequence into rows that fit, as equal as they can be, or None."""
    count = len(widths)
    cuts = [(0, *inner, count) for inner in combinations(range(1, count), rows - 1)]
    loads = {cut: [sum(widths[a:b]) for a, b in pairwise(cut)] for cut in cuts}
    fitting = [cut for cut in cuts if max(loads[cut]) <= room]
    return min(fitting, key=lambda cut: sum(load * load for load in loads[cut]), default=None)


def buttons_under(buttons: int, first: int, area: Rect) -> Rows:
    """Return rows for buttons numbered from ``first``, each row with its share of the area's height."""
    width, height = lay_out(20, area).tile_size
    rows = -(-buttons // int(area.width / (_BUTTON_WIDTH * width)))
    columns = -(-buttons // rows)
    share = _BUTTON_HEIGHT * height / area.height
    numbers = [range(first + i * columns, first + min((i + 1) * columns, buttons)) for i in range(rows)]
    return [
        (share, [*(Part(1, button=n) for n in row), *[Part(1)] * (columns - len(row))]) for row in numbers
    ]


def with_choice(base: Placement, buttons: int, first: int) -> Placement:
    """Return a placement whose lowest rows have given way to buttons; what stays has not moved."""
    rows = buttons_under(buttons, first, base.area)
    wanted = sum(share for share, _ in rows) * base.area.height
    kept = [row for row in base.rows if row[0].rect.y - base.area.y >= wanted * 0.999]
    top = kept[-1][0].rect.y if kept else base.area.top
    below = stacked(Rect(base.area.x, base.area.y, base.area.width, top - base.area.y), rows)
    return Placement(base.area, [*kept, *below.rows])
