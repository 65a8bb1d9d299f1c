"""Where a finger lands that is aimed at a half of a tile, from the geometry of the board itself."""

from dataclasses import dataclass
from statistics import NormalDist

from evaltrack.rink.board_grid import Rect, aim_of, half_of, tab_of
from evaltrack.rink.tally import Outcome

WIDE = (1280, 800, 217 / 1280)  # a ten-inch panel of 16:10, 217 by 136 mm: pixels and millimetres of one
UPRIGHT = (800, 1280, 217 / 1280)
HALVES = (Outcome.DONE, Outcome.MISSED)


@dataclass(frozen=True)
class Landing:
    """Shares of fingers aimed at a half: in it, in the other one, on other tiles, on the tab, elsewhere."""

    right: float
    wrong_half: float
    wrong_tile: float
    tab: float
    elsewhere: float

    @property
    def wrong(self) -> float:
        """Return the share that counts for the wrong half or player, so that the season is wrong by it."""
        return self.wrong_half + self.wrong_tile


def landing(layout, place: int, outcome: Outcome, spread: float) -> Landing:
    """Return where fingers land that aim at the mark of a half, normal in both directions with this spread.

    ``layout`` is a placement of tiles, ``spread`` the standard deviation in its pixels.
    """
    tile = layout.tile(place)
    aim = aim_of(tile, outcome)
    in_part = {part: _share(half_of(tile, part), aim, spread) for part in HALVES}
    tab = tab_of(tile)
    left, right = (
        Rect(tab.x, tab.y, tab.width / 2, tab.height),
        Rect(tab.x + tab.width / 2, tab.y, tab.width / 2, tab.height),
    )
    in_part[Outcome.MISSED] -= _share(left, aim, spread)
    in_part[Outcome.DONE] -= _share(right, aim, spread)
    on_tab = _share(tab, aim, spread)
    others = sum(_share(rect, aim, spread) for other, rect in layout.tiles.items() if other != place)
    (other_half,) = (part for part in HALVES if part is not outcome)
    elsewhere = 1 - sum(in_part.values()) - on_tab - others
    return Landing(in_part[outcome], in_part[other_half], others, on_tab, elsewhere)


def mean_landing(layout, places, spread: float) -> Landing:
    """Return the mean over both halves of these tiles."""
    all_of_them = [landing(layout, place, outcome, spread) for place in places for outcome in HALVES]
    return Landing(*(sum(values) / len(values) for values in zip(*map(_values, all_of_them), strict=True)))


def _values(landed: Landing) -> tuple[float, ...]:
    return landed.right, landed.wrong_half, landed.wrong_tile, landed.tab, landed.elsewhere


def _share(rect: Rect, aim: tuple[float, float], spread: float) -> float:
    across, up = NormalDist(aim[0], spread), NormalDist(aim[1], spread)
    return (across.cdf(rect.right) - across.cdf(rect.x)) * (up.cdf(rect.top) - up.cdf(rect.y))
