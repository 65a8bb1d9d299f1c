"""The small charts: always the same bytes, one scale, readable in grey."""

import re
import subprocess
import sys

import pytest
from lantern_pages import DAYS, standing

from evaltrack.analysis.standings.standing import Seen
from evaltrack.paper import palette
from evaltrack.paper.charts import LOW, WIDTH, SkillCharts, chart_height
from evaltrack.words.date_axis import DateAxis

_AXIS = DateAxis(DAYS[0], DAYS[-1])
_MADE = standing("stop", [(3, 1), (5, 5), (2, 0), (1, 1)], share=0.6)


def _fills(svg, colour):
    return len(re.findall(f"fill: {colour.lower()}", svg))


def test_the_same_numbers_draw_the_same_bytes():
    """One figure is used again and again, and leaves nothing of the last chart behind."""
    charts = SkillCharts(_AXIS)
    first = charts.svg(_MADE.path, _MADE.seen)
    charts.svg(_MADE.path[:2], _MADE.seen[:1])
    assert charts.svg(_MADE.path, _MADE.seen) == first == SkillCharts(_AXIS).svg(_MADE.path, _MADE.seen)
    assert "dc:date" not in first


def test_a_chart_has_two_bands_a_line_and_a_dot_for_each_practice():
    """Everything that the key names is there, once for each practice seen."""
    svg = SkillCharts(_AXIS).svg(_MADE.path, _MADE.seen)
    assert _fills(svg, palette.BAND_90) == _fills(svg, palette.BAND_50) == 1
    assert _fills(svg, "#ffffff") == len(_MADE.seen)


@pytest.mark.parametrize("done", [0, 1])
def test_the_largest_dot_is_whole(done):
    """A dot at 0 or 10, on the first or the last day, is not cut by the edge of the picture."""
    seen = [Seen(day, 60, 60 * done) for day in (DAYS[0], DAYS[-1])]
    svg = SkillCharts(_AXIS, LOW).svg(_MADE.path, seen)
    dots = re.findall(r'd="([^"]*)" style="fill: #ffffff', svg)
    across, down = ([float(n) for n in re.findall(r"-?[\d.]+", " ".join(dots))][i::2] for i in (0, 1))
    assert len(dots) == 2
    assert min(across) > 0.2
    assert max(across) < WIDTH - 0.2
    assert min(down) > 0.2
    assert max(down) < LOW - 0.2


def test_the_scale_is_the_same_on_every_chart():
    """The lines for 0 and 10 do not move with the numbers."""
    low, high = (standing("stop", [(5, done)], share=share) for done, share in ((0, 0.05), (5, 0.95)))
    frames = [
        re.findall(r'd="(M 4 [^"]*L 136 [^"]*)"', SkillCharts(_AXIS).svg(one.path[:2], one.seen))
        for one in (low, high)
    ]
    assert len(frames[0]) == 3
    assert frames[0] == frames[1]


def test_few_rows_have_taller_charts():
    """A page with room uses it."""
    assert chart_height(1) > chart_height(6) > chart_height(14)


def test_drawing_needs_no_plotting_state_and_no_window():
    """The charts work in a process that never loads pyplot, and matplotlib writes nothing while they do."""
    code = (
        "import sys; from datetime import date; from evaltrack.words.date_axis import DateAxis;"
        "from evaltrack.paper.charts import SkillCharts;"
        "from evaltrack.analysis.standings.standing import PathPoint, Seen;"
        "day = date(2025, 10, 2); point = PathPoint(day, 0.5, 0.3, 0.7, 0.4, 0.6);"
        "SkillCharts(DateAxis(day, date(2026, 1, 12))).svg([point], [Seen(day, 4, 2)]);"
        "sys.exit('matplotlib.pyplot' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


def _luminance(colour):
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(one, other):
    high, low = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(
    ("front", "back", "least"),
    [
        (palette.INK, palette.WHITE, 7),
        (palette.INK, palette.PALE, 7),
        (palette.FILL, palette.WHITE, 7),
        (palette.SOFT, palette.WHITE, 7),
        (palette.FILL, palette.BAND_50, 3),
        (palette.FILL, palette.BAND_90, 4.5),
        (palette.SOFT, palette.BAND_50, 3),
        (palette.BAND_50, palette.BAND_90, 1.4),
    ],
)
def test_paper_is_readable_in_grey(front, back, least):
    """Contrast by the luminance formula of WCAG 2.2, quoted from memory: 7 for text, 3 for graphic parts.

    That the two bands differ by 1.4 is our own choice: enough to be told apart on a grey print.
    """
    assert _contrast(front, back) >= least
