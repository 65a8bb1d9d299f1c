"""Small charts for paper: a share over the season, with its bands and what was seen.

The only module that draws with matplotlib. The same numbers give the same SVG text. There are no words in
the picture: the row beside it has them.

The scale is 0 to 10 for every skill and every player. Bands in two shades, and hollow dots for single
practices, so that nobody takes the narrow band of the average for the spread of a single day.
"""

import io
import logging
from collections.abc import Sequence

logging.getLogger("matplotlib").setLevel(logging.ERROR)  # before it is imported: it speaks while loading

import matplotlib  # noqa: E402
from matplotlib.backends.backend_svg import FigureCanvasSVG  # noqa: E402
from matplotlib.collections import PathCollection  # noqa: E402
from matplotlib.figure import Figure  # noqa: E402
from matplotlib.lines import Line2D  # noqa: E402
from matplotlib.patches import Polygon  # noqa: E402
from matplotlib.path import Path  # noqa: E402
from matplotlib.transforms import Affine2D  # noqa: E402

from evaltrack.analysis.standings.standing import PathPoint, Seen  # noqa: E402
from evaltrack.paper.palette import BAND_50, BAND_90, FILL, HAIRLINE, LINES, SOFT, WHITE  # noqa: E402
from evaltrack.words.date_axis import DateAxis  # noqa: E402

WIDTH = 140.0
TALL, MIDDLE, LOW = 44.0, 34.0, 27.0
_SIDE, _EDGE = 4.0, 3.0
_POINT = 72
_STYLE = {"svg.hashsalt": "evaltrack", "svg.fonttype": "none", "path.simplify": False}


def chart_height(rows: int) -> float:
    """Return the height in points of each chart on a page with so many rows."""
    return TALL if rows <= 4 else MIDDLE if rows <= 8 else LOW


class SkillCharts:
    """Draws the charts of one page after the other on one figure.

    Parameters
    ----------
    axis : the dates from left to right, the same for every chart.
    height : points from top to bottom of the picture.
    """

    def __init__(self, axis: DateAxis, height: float = MIDDLE):
        self._axis, self._height = axis, height
        self._figure = Figure(figsize=(WIDTH / _POINT, height / _POINT), dpi=_POINT)
        FigureCanvasSVG(self._figure)
        self._points = Affine2D().scale(1 / _POINT) + self._figure.dpi_scale_trans
        self._drawn: list = []
        self._frame()

    def svg(self, path: Sequence[PathPoint], seen: Sequence[Seen]) -> str:
        """Return the chart of one skill: the share day by day, and each practice at which it was seen."""
        with matplotlib.rc_context(_STYLE):
            self._wipe()
            self._bands(path)
            self._dots(seen)
            self._line(path)
            text = io.StringIO()
            self._figure.savefig(
                text, format="svg", transparent=True, metadata={"Date": None, "Creator": None}
            )
        return text.getvalue()

    def _frame(self) -> None:
        """Draw what all charts of the page share: the scale at 0, 5 and 10, and where the months begin."""
        for _, place in self._axis.months():
            if place:
                self._add_line([(place, 0), (place, 1)], HAIRLINE, 0.4, zorder=0)
        for share, dashes in ((0, "-"), (0.5, (0, (1.5, 2.5))), (1, "-")):
            self._add_line([(0, share), (1, share)], LINES, 0.6, linestyle=dashes, zorder=0)
        self._drawn.clear()

    def _wipe(self) -> None:
        """Take away the last chart and leave the frame."""
        for artist in self._drawn:
            artist.remove()
        self._drawn.clear()

    def _bands(self, path: Sequence[PathPoint]) -> None:
        days = [self._axis.place(point.on) for point in path]
        for colour, lows, highs in (
            (BAND_90, [p.low for p in path], [p.high for p in path]),
            (BAND_50, [p.low50 for p in path], [p.high50 for p in path]),
        ):
            outline = self._at([*zip(days, lows, strict=True), *zip(days[::-1], highs[::-1], strict=True)])
            self._add(Polygon(outline, facecolor=colour, edgecolor="none", transform=self._points, zorder=1))

    def _dots(self, seen: Sequence[Seen]) -> None:
        shown = [one for one in seen if one.tries]
        where = self._at([(self._axis.place(one.on), one.done / one.tries) for one in shown])
        dots = PathCollection(
            [Path.unit_circle()],
            sizes=[_dot_size(one.tries) for one in shown],
            offsets=where,
            offset_transform=self._points,
            facecolors=WHITE,
            edgecolors=SOFT,
            linewidths=0.5,
            zorder=2,
        )
        dots.set_transform(Affine2D())
        self._add(dots)

    def _line(self, path: Sequence[PathPoint]) -> None:
        places = [(self._axis.place(point.on), point.share) for point in path]
        self._add_line(places, FILL, 1.2, solid_capstyle="round", zorder=3)
        self._add_line(places[-1:], FILL, 0, marker="o", markersize=4.0, markeredgewidth=0, zorder=3)

    def _add_line(self, places, colour: str, width: float, **style) -> None:
        x, y = zip(*self._at(places), strict=True)
        self._add(Line2D(x, y, color=colour, linewidth=width, transform=self._points, **style))

    def _add(self, artist) -> None:
        self._drawn.append(self._figure.add_artist(artist))

    def _at(self, places) -> list[tuple[float, float]]:
        """Return points of the picture for (place on the date axis, share)."""
        across, up = WIDTH - 2 * _SIDE, self._height - 2 * _EDGE
        return [(_SIDE + place * across, _EDGE + share * up) for place, share in places]


def _dot_size(tries: int) -> float:
    """Return a dot's squared radius: its area grows with the tries, and the largest just fits the edge."""
    return min(1.3 + 0.7 * tries, (_EDGE - 0.4) ** 2)
