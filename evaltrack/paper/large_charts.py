"""Charts that stand alone as pictures: with title, words and axes, in PNG or SVG.

Beside `charts`, the only module that draws with matplotlib. The same numbers give the same bytes. Nothing is
told by colour alone: what differs has another form and its name beside it, and a description in words goes
into the file.
"""

import io
import logging
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from xml.sax.saxutils import escape

logging.getLogger("matplotlib").setLevel(logging.ERROR)  # before it is imported: it speaks while loading

import matplotlib  # noqa: E402
from matplotlib.axes import Axes  # noqa: E402
from matplotlib.backends.backend_agg import FigureCanvasAgg  # noqa: E402
from matplotlib.backends.backend_svg import FigureCanvasSVG  # noqa: E402
from matplotlib.figure import Figure  # noqa: E402
from matplotlib.font_manager import fontManager  # noqa: E402

from evaltrack.analysis.standings.standing import PathPoint, Seen  # noqa: E402
from evaltrack.language import decimal, tr  # noqa: E402
from evaltrack.paper.palette import BAND_50, BAND_90, FILL, INK, LINES, SOFT, WHITE  # noqa: E402
from evaltrack.places import assets  # noqa: E402
from evaltrack.words.date_axis import DateAxis  # noqa: E402

WIDE = 9.0  # inches
_DOTS = 150  # an inch of a PNG
_FONT, _FALLBACK = "IBM Plex Sans Condensed", "DejaVu Sans"
_STYLE = {
    "svg.hashsalt": "evaltrack",
    "svg.fonttype": "path",  # so that it looks alike where our font is not
    "font.family": [_FONT, _FALLBACK],
    "font.size": 11,
    "axes.edgecolor": LINES,
    "text.color": INK,
    "xtick.color": SOFT,
    "ytick.color": SOFT,
    "axes.labelcolor": SOFT,
    "xtick.major.pad": 7,
}


@dataclass(frozen=True)
class Words:
    """What stands above a chart, below it, and in the file for those who do not see it."""

    title: str
    under: str
    legend: str
    description: str


@dataclass(frozen=True)
class Interval:
    """A row of `intervals`: what it is of, where it lies, the same in words; ``hollow`` as an outline."""

    label: str
    low: float
    middle: float
    high: float
    words: str
    hollow: bool = False


def share_chart(
    words: Words, axis: DateAxis, path: Sequence[PathPoint], seen: Sequence[Seen], target: float, form: str
) -> bytes:
    """Return a share over the season: bands, practices, line, and the target, on a scale of 0 to 10."""

    def draw(plot: Axes) -> None:
        days = [axis.place(point.on) for point in path]
        for low, high, colour in (("low", "high", BAND_90), ("low50", "high50", BAND_50)):
            bounds = ([10 * getattr(point, end) for point in path] for end in (low, high))
            plot.fill_between(days, *bounds, color=colour, linewidth=0)
        plot.axhline(10 * target, color=INK, linewidth=1, dashes=(5, 4))
        plot.text(1.01, 10 * target, tr("target"), va="center", color=INK)
        shown = [one for one in seen if one.tries]
        plot.scatter(
            [axis.place(one.on) for one in shown],
            [10 * one.done / one.tries for one in shown],
            s=[min(12 + 6 * one.tries, 150) for one in shown],
            facecolors=WHITE, edgecolors=INK, linewidths=1, zorder=3, clip_on=False,
        )  # fmt: skip
        plot.plot(days, [10 * point.share for point in path], color=FILL, linewidth=2, zorder=4)
        plot.plot(days[-1:], [10 * path[-1].share], "o", color=FILL, markersize=7, zorder=4, clip_on=False)
        plot.set(xlim=(0, 1), ylim=(0, 10), yticks=[0, 5, 10], ylabel=tr("how many of 10 come off"))
        months = axis.months()
        plot.set_xticks([place for _, place in months], [name for name, _ in months], ha="left")
        plot.grid(axis="y", color=LINES, linewidth=0.6)

    return _pictured(words, [draw], 4.6, form)


def intervals(
    words: Words, rows: Sequence[Interval], scale: tuple[float, float], ticks, across: str, form: str
) -> bytes:
    """Return intervals one below the other on one scale, each with its name and its words beside it."""

    def draw(plot: Axes) -> None:
        for place, row in enumerate(rows):
            look = {"facecolor": WHITE, "edgecolor": INK} if row.hollow else {"color": BAND_50}
            plot.barh(place, row.high - row.low, left=row.low, height=0.36, **look)
            plot.plot([row.middle] * 2, [place - 0.32, place + 0.32], color=INK, linewidth=2.4)
            _behind(plot, place, row.words)
        plot.set(xlim=scale, ylim=(len(rows) - 0.4, -0.6), xlabel=across)
        plot.set_xticks([value for value, _ in ticks], [name for _, name in ticks])
        plot.set_yticks(range(len(rows)), [row.label for row in rows], color=INK)
        plot.grid(axis="x", color=LINES, linewidth=0.6)

    return _pictured(words, [draw], 1.9 + 0.3 * len(rows), form)


def presence(
    words: Words,
    rows: Sequence[tuple[str, Sequence[bool], str]],
    months: Sequence[tuple[str, int]],
    form: str,
) -> bytes:
    """Return a row of squares and dashes for each player, with the name before it and the sum behind it."""

    def draw(plot: Axes) -> None:
        practices = len(rows[0][1]) if rows else 0
        for mark, size, wanted in (("s", min(60, 2600 / max(practices, 1)), True), ("_", 24, False)):
            cells = ((x, y, one) for y, row in enumerate(rows) for x, one in enumerate(row[1]))
            at = [(x, y) for x, y, one in cells if one is wanted]
            plot.scatter(*(zip(*at, strict=True) if at else ([], [])), s=size, marker=mark,
                         color=FILL if wanted else SOFT, linewidths=1)  # fmt: skip
        for y, (_, _, told) in enumerate(rows):
            _behind(plot, y, told)
        plot.set(xlim=(-0.7, practices - 0.3), ylim=(len(rows) - 0.4, -0.7))
        plot.set_yticks(range(len(rows)), [name for name, _, _ in rows], color=INK)
        _months_below(plot, months, -0.5)

    return _pictured(words, [draw], 1.9 + 0.24 * len(rows), form)


def bars(
    words: Words, panels: Sequence[tuple[str, Sequence[int]]], months: Sequence[tuple[str, int]], form: str
) -> bytes:
    """Return a panel of bars for each name, all on one scale, with the figure over each bar."""
    most = max((max(counts, default=0) for _, counts in panels), default=0)

    def drawn(name: str, counts: Sequence[int]) -> Callable[[Axes], None]:
        def draw(plot: Axes) -> None:
            plot.bar(range(len(counts)), counts, color=FILL, width=0.8)
            every = len(counts) <= 30
            for x, count in enumerate(counts):
                if every or count == max(counts):
                    plot.text(x, count + 0.02 * most, decimal(count, 0), ha="center", fontsize=8, color=SOFT)
            plot.set(xlim=(-0.6, len(counts) - 0.4), ylim=(0, 1.15 * max(most, 1)), yticks=[0, most])
            plot.set_title(name, loc="left", fontsize=11, color=INK)
            _months_below(plot, months, -0.5)

        return draw

    return _pictured(words, [drawn(*panel) for panel in panels], 1.6 + 1.5 * len(panels), form)


def _behind(plot: Axes, y: float, words: str) -> None:
    """Write words behind the right end of a row."""
    place = {"xycoords": ("axes fraction", "data"), "annotation_clip": False}
    plot.annotate(words, (1.01, y), va="center", **place)


def _months_below(plot: Axes, months: Sequence[tuple[str, int]], shift: float) -> None:
    plot.set_xticks([at + shift for _, at in months], [name for name, _ in months], ha="left")


def _pictured(words: Words, draws: Sequence[Callable[[Axes], None]], high: float, form: str) -> bytes:
    """Return the picture of some charts one below the other, with its words above and below."""
    with matplotlib.rc_context(_STYLE | {"font.family": _fonts()}):
        figure = Figure(figsize=(WIDE, high), dpi=_DOTS, facecolor=WHITE, layout="constrained")
        (FigureCanvasSVG if form == "svg" else FigureCanvasAgg)(figure)
        room = "\n" if words.under else ""
        figure.suptitle(f"{words.title}{room}", x=0.01, ha="left", fontsize=15, fontweight="semibold")
        figure.supxlabel(words.legend, x=0.01, ha="left", fontsize=9, color=SOFT, wrap=True)
        plots = figure.subplots(len(draws), 1, squeeze=False)[:, 0]
        for plot, draw in zip(plots, draws, strict=True):
            plot.spines[["top", "right"]].set_visible(False)
            plot.tick_params(length=0)
            draw(plot)
        figure.text(0.012, 1 - 0.44 / high, words.under, va="top", fontsize=11, color=SOFT)
        return _saved(figure, words, form)


def _saved(figure: Figure, words: Words, form: str) -> bytes:
    out = io.BytesIO()
    meta = {"Title": words.title, "Description": words.description}
    if form == "png":
        figure.savefig(out, format="png", metadata=meta | {"Software": None})
        return out.getvalue()
    figure.savefig(out, format="svg", metadata=meta | {"Date": None, "Creator": None})
    return _accessible(out.getvalue().decode(), words).encode()


def _accessible(svg: str, words: Words) -> str:
    """Return an SVG whose title and description a screen reader finds."""
    title, description = escape(words.title), escape(words.description)
    named = f'<title id="title">{title}</title>\n <desc id="desc">{description}</desc>'
    svg = svg.replace("<svg ", '<svg role="img" aria-labelledby="title desc" ', 1)
    return svg.replace(f"<title>{title}</title>", named, 1)


@cache
def _fonts() -> list[str]:
    """Make our fonts known to matplotlib, and return their names."""
    for file in sorted((assets() / "fonts").glob("*.ttf")):
        fontManager.addfont(file)
    return [_FONT, _FALLBACK]
