"""The paper twin of the whole-group board, as plain data: who stands where, and the boxes to tick.

Lengths are in millimetres. The template decides nothing but the type.
"""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass

from evaltrack.language import mark, tr
from evaltrack.paper.clipboard.occasion import Occasion, Paper
from evaltrack.rink.board_grid import BoardLayout, Rect, lay_out, places_for
from evaltrack.rink.player import Player, likely_present
from evaltrack.rink.short_names import short_names
from evaltrack.rink.skill import Skill

TABLET_BOARD = Rect(0, 0, 1272, 596)  # the board's part of a 10-inch screen that is held on its side
GAP = 1.2  # between two tiles
LABEL = 4.4  # the strip that says missed or done
_PAD = 1.1  # around the boxes of a half
_SPACE = 0.5  # between two boxes
_BETWEEN_FIVES = 1.4
_SMALLEST, _LARGEST = 3.8, 5.4  # a box, where there is a choice: a pencil in a glove needs as much
_MOST_ROWS = 4

HOW_TO_MARK = mark(
    "Tick a box for each try: in the shaded row when it was under pressure. When the boxes "
    "are full, put strokes in fives where there is room. If you looked away, tick nothing."
)


@dataclass(frozen=True, slots=True)
class Place:
    """Who stands at a place of the board, and whether they are here now."""

    player: Player
    here: bool


@dataclass(frozen=True, slots=True)
class Boxes:
    """The boxes of one half: ``rows`` white ones and one that is shaded, each of ``fives`` times five."""

    side: float
    fives: int
    rows: int


@dataclass(frozen=True, slots=True)
class Tile:
    """A player's part of the sheet; ``x`` and ``y`` are its upper left corner from that of the sheet.

    ``watched`` is False for a player who is not usually watched in this skill.
    """

    number: str
    name: str
    watched: bool
    here: bool
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class BoardSheet:
    """One page: one skill and every player. All tiles are alike, and ``head`` is the part for the name."""

    paper: Paper
    occasion: Occasion
    skill: Skill
    tiles: tuple[Tile, ...]
    width: float
    height: float
    head: float
    boxes: Boxes


def read_places(season) -> list[Place]:
    """Return who stands where: as in the practice that runs, or as one that starts now would begin."""
    roster = season.people.players()
    running = season.practices.running()
    if not running:
        return [Place(player, True) for player in likely_present(roster)]
    known = {player.id: player for player in season.people.everyone()}
    return [Place(known[mark.player], mark.here) for mark in season.practices.attendance(running.key)]


def make_board(
    occasion: Occasion, skill: Skill, places: Sequence[Place], roster: Iterable[Player], paper: Paper
) -> BoardSheet:
    """Return the sheet of one skill.

    Parameters
    ----------
    places : in the order of the board.
    roster : everyone on the team; names are as long as it takes to tell them apart, as on screen, and who
        may come late has an empty place at the end.
    """
    roster = list(roster)
    layout = on_paper(places_for(len(places), len(roster)), paper)
    names = short_names({at.id: at for at in (*roster, *(place.player for place in places))}.values())
    spots = [layout.tile(place).inset(GAP / 2) for place in range(len(places))]
    width, height = (side - GAP for side in layout.tile_size)
    head = min(9.0, 0.27 * height)
    return BoardSheet(
        paper=paper,
        occasion=occasion,
        skill=skill,
        tiles=tuple(
            _tile(at, names[at.player.id], skill, spot, paper) for at, spot in zip(places, spots, strict=True)
        ),
        width=width,
        height=height,
        head=head,
        boxes=boxes_in(width / 2, height - head - LABEL),
    )


def on_paper(tiles: int, paper: Paper) -> BoardLayout:
    """Return the grid in which the tiles stand on the tablet, stretched over the paper's own part."""
    grid = lay_out(tiles, TABLET_BOARD)
    return BoardLayout(
        paper.board.inset(-GAP / 2), grid.columns, grid.rows
    )  # the outer edges are the paper's


def boxes_in(width: float, height: float) -> Boxes:
    """Return the boxes that fit below the label of a half: as many fives in a row as boxes stay large."""
    inside = width - 2 * _PAD

    def side(fives: int) -> float:
        return (inside - (fives - 1) * _BETWEEN_FIVES - 4 * fives * _SPACE) / (5 * fives)

    fives = max((n for n in (1, 2, 3) if side(n) >= _SMALLEST), default=1)
    large = min(side(fives), _LARGEST)
    shaded = large + 2 * _PAD
    rows = int((height - shaded - _PAD) / (large + _SPACE))
    return Boxes(large, fives, max(1, min(rows, _MOST_ROWS)))


def _tile(at: Place, name: str, skill: Skill, spot: Rect, paper: Paper) -> Tile:
    watched = skill.suits(*at.player.positions)
    return Tile(at.player.number, name, watched, at.here, spot.x, paper.height - spot.y - spot.height)


def board_words(sheets: Sequence[BoardSheet]) -> dict:
    """Return the pages of one file as the template takes them."""
    first = sheets[0]
    pages = [_page_words(sheet, number, len(sheets)) for number, sheet in enumerate(sheets, start=1)]
    return first.occasion.words(first.paper, tr("Board")) | {
        "marking": tr(HOW_TO_MARK),
        "missed": tr("missed"),
        "done": tr("done"),
        "label": LABEL,
        "pad": _PAD,
        "space": _SPACE,
        "between": _BETWEEN_FIVES,
        "pages": pages,
    }


def _page_words(sheet: BoardSheet, number: int, pages: int) -> dict:
    said = sheet.skill.definition
    parts = {
        tr("A try starts"): said.starts,
        tr("Done"): said.done,
        tr("Missed"): said.missed,
        tr("Not counted"): said.not_counted,
    }
    return sheet.occasion.page_words(number, pages) | {
        "name": sheet.skill.name,
        "caption": sheet.skill.caption,
        "definition": [{"lead": lead, "text": text} for lead, text in parts.items()],
        "tiles": [_tile_words(tile) for tile in sheet.tiles],
        "width": sheet.width,
        "height": sheet.height,
        "head": sheet.head,
        "boxes": asdict(sheet.boxes),
    }


def _tile_words(tile: Tile) -> dict:
    told = tile.name if tile.here else tr("{name}, not here", name=tile.name)
    return asdict(tile) | {"name": told}
