"""The chart of one skill on a family's page: a share over the season with its bands, and what was seen.

Drawn as SVG text by hand: no identifier in it, so that several stand in one HTML page, and the same numbers
give the same text. The scale is 0 to 10 for every skill and every player. Bands in two shades, and hollow
rings for single practices, so that nobody takes the narrow band for the spread of a single day.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from html import escape

from evaltrack.analysis.standings.standing import PathPoint, Seen
from evaltrack.language import tr
from evaltrack.paper.palette import BAND_50, BAND_90, FILL, HAIRLINE, LINES, SOFT, WHITE
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.family import page_frame

WIDTH = 190.0
TALL, MIDDLE, LOW = 56.0, 44.0, 32.0
SIDE, EDGE = 6.0, 5.0  # the room beside the plot for a ring that is cut by no edge
TICKS_WIDE, MONTHS_HIGH = 42.0, 12.0
KEY_WIDTH, KEY_HEIGHT = 70.0, 38.0
_KEY_PLACES = (1 / 6, 1 / 2, 5 / 6)  # where the three words of the key stand, from the top
_LEAD = 22.0
_LETTERS = 9.0
_FONT = 'font-family="IBM Plex Sans, DejaVu Sans, Arial, sans-serif" font-stretch="condensed"'


def chart_height(rows: int) -> float:
    """Return the height in points of each chart on a page with so many rows."""
    return TALL if rows <= 4 else MIDDLE if rows <= 6 else LOW


def chart_svg(
    axis: DateAxis, path: Sequence[PathPoint], seen: Sequence[Seen], height: float = MIDDLE, told: str = ""
) -> str:
    """Return the chart of one skill.

    Parameters
    ----------
    axis : the days from left to right, the same for every chart of a page.
    height : of the picture in points, without words; it is ``WIDTH`` wide.
    told : the chart in words. With it the picture can stand alone: it has its scale, the names of the
        months, and these words for those who do not see it. Without it no letter is in it.
    """
    plot = _Plot(axis, WIDTH, height)
    drawn = [*plot.frame(), *plot.bands(path), *plot.rings(seen), *plot.line(path)]
    if not told:
        return _picture(drawn, 0, WIDTH, height)
    words = [*_ticks(plot), *_months(axis, plot, height)]
    return _picture([*drawn, *words], -TICKS_WIDE, WIDTH + TICKS_WIDE, height + MONTHS_HIGH, told)


def key_svg(told: str = "") -> str:
    """Return a small invented chart from whose parts lines lead to the right, to where their words stand.

    With ``told`` the words are in the picture and it can stand alone.
    """
    first = date(2025, 9, 1)
    days = [first + timedelta(days=7 * week) for week in range(11)]
    axis = DateAxis(days[0], days[-1])
    path = [PathPoint(day, s, s - 0.26, s + 0.26, s - 0.11, s + 0.11) for day, s in _rise(days)]
    seen = [Seen(days[1], 3, 1), Seen(days[4], 4, 3), Seen(days[8], 6, 5)]
    plot = _Plot(axis, KEY_WIDTH, KEY_HEIGHT)
    drawn = [
        *plot.frame(),
        *plot.bands(path),
        *plot.rings(seen),
        *plot.line(path),
        *_leaders(plot, path, seen),
    ]
    if not told:
        return _picture(drawn, 0, KEY_WIDTH + _LEAD, KEY_HEIGHT)
    labels = zip(_KEY_PLACES, (tr(page_frame.RING), tr(page_frame.LINE), tr(page_frame.SHADE)), strict=True)
    words = [_words(KEY_WIDTH + _LEAD + 3, up * KEY_HEIGHT + 3, text) for up, text in labels]
    return _picture([*drawn, *words], 0, KEY_WIDTH + _LEAD + 330, KEY_HEIGHT, told)


def _rise(days: Sequence[date]) -> list[tuple[date, float]]:
    return [(day, 0.4 + 0.018 * place) for place, day in enumerate(days)]


def _leaders(plot: "_Plot", path: Sequence[PathPoint], seen: Sequence[Seen]) -> list[str]:
    ring, end = seen[-1], path[-1]
    right, at = KEY_WIDTH + _LEAD, [up * KEY_HEIGHT for up in _KEY_PLACES]
    starts = [
        (plot.x(ring.on) + _radius(ring.tries), plot.y(ring.done / ring.tries)),
        (plot.x(end.on) + 2.6, plot.y(end.share)),
        (plot.x(end.on) - 8, plot.y(end.low + 0.06)),
    ]
    return [
        f'<path d="M{_n(x)} {_n(y)}L{_n(KEY_WIDTH + 4)} {_n(down)}H{_n(right)}" fill="none" '
        f'stroke="{SOFT}" stroke-width=".7"/>'
        for (x, y), down in zip(starts, at, strict=True)
    ]


class _Plot:
    """Points of the picture for days and shares, and what is drawn there."""

    def __init__(self, axis: DateAxis, width: float, height: float):
        self.axis, self.width, self.height = axis, width, height

    def x(self, day: date) -> float:
        return self.across(self.axis.place(day))

    def across(self, place: float) -> float:
        return SIDE + place * (self.width - 2 * SIDE)

    def y(self, share: float) -> float:
        return self.height - EDGE - share * (self.height - 2 * EDGE)

    def frame(self) -> list[str]:
        """Return the lines at 0, 5 and 10, and where the months begin."""
        left, right, low, high = self.across(0), self.across(1), self.y(0), self.y(1)
        starts = [self.across(place) for _, place in self.axis.months() if place]
        months = [_stroke(f"M{_n(x)} {_n(low)}V{_n(high)}", HAIRLINE, 0.5) for x in starts]
        scale = [
            _stroke(f"M{_n(left)} {_n(self.y(share))}H{_n(right)}", LINES, 0.8, dashes)
            for share, dashes in ((0, ""), (0.5, "2 3"), (1, ""))
        ]
        return months + scale

    def bands(self, path: Sequence[PathPoint]) -> list[str]:
        wide = [(p.on, p.low, p.high) for p in path]
        narrow = [(p.on, p.low50, p.high50) for p in path]
        return [self._band(BAND_90, wide), self._band(BAND_50, narrow)] if path else []

    def _band(self, colour: str, edges: Sequence[tuple[date, float, float]]) -> str:
        upper = [(self.x(on), self.y(high)) for on, _, high in edges]
        lower = [(self.x(on), self.y(low)) for on, low, _ in reversed(edges)]
        return f'<path d="{_through(upper + lower)}Z" fill="{colour}"/>'

    def rings(self, seen: Sequence[Seen]) -> list[str]:
        return [
            f'<circle cx="{_n(self.x(one.on))}" cy="{_n(self.y(one.done / one.tries))}" '
            f'r="{_n(_radius(one.tries))}" fill="{WHITE}" stroke="{SOFT}" stroke-width=".8"/>'
            for one in seen
            if one.tries
        ]

    def line(self, path: Sequence[PathPoint]) -> list[str]:
        if not path:
            return []
        places = [(self.x(point.on), self.y(point.share)) for point in path]
        across, up = places[-1]
        end = f'<circle cx="{_n(across)}" cy="{_n(up)}" r="2.8" fill="{FILL}"/>'
        return [_stroke(_through(places), FILL, 1.9), end]


def _ticks(plot: _Plot) -> list[str]:
    return [
        _words(-2, plot.y(share) + 3, text, "end")
        for share, text in zip((1, 0.5, 0), map(tr, page_frame.TICKS), strict=True)
        if share != 0.5 or plot.height >= MIDDLE
    ]


def _months(axis: DateAxis, plot: _Plot, height: float) -> list[str]:
    return [_words(plot.across(place), height + _LETTERS, name) for name, place in axis.months()]


def _words(x: float, y: float, text: str, anchor: str = "start") -> str:
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(_LETTERS)}" {_FONT} fill="{SOFT}" '
        f'text-anchor="{anchor}">{escape(text)}</text>'
    )


def _picture(drawn: Sequence[str], left: float, width: float, height: float, told: str = "") -> str:
    spoken = f' role="img" aria-label="{escape(told)}"' if told else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{_n(left)} 0 {_n(width)} {_n(height)}" '
        f'width="{_n(width)}pt" height="{_n(height)}pt"{spoken}>{"".join(drawn)}</svg>'
    )


def _stroke(course: str, colour: str, width: float, dashes: str = "") -> str:
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path d="{course}" fill="none" stroke="{colour}" stroke-width="{_n(width)}"{dashed} '
        'stroke-linecap="round"/>'
    )


def _through(places: Sequence[tuple[float, float]]) -> str:
    first, *others = (f"{_n(x)} {_n(y)}" for x, y in places)
    return f"M{first}" + "".join(f"L{one}" for one in others)


def _radius(tries: int) -> float:
    """Return a ring's radius: its area grows with the tries, and the largest just fits the edge."""
    return min((1.8 + 1.1 * tries) ** 0.5, EDGE - 0.6)


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
