"""The charts of a family's page: one scale, whole rings, words where they stand alone."""

import re
from xml.etree import ElementTree

import pytest
from contrast import contrast
from lantern_pages import DAYS, standing

from evaltrack.analysis.standings.standing import Seen
from evaltrack.paper import palette
from evaltrack.paper.note.chart import LOW, WIDTH, chart_height, chart_svg, key_svg
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.family import page_frame

_AXIS = DateAxis(DAYS[0], DAYS[-1])
_MADE = standing("stop", [(3, 1), (5, 5), (2, 0), (1, 1)], share=0.6)


def _rings(svg: str) -> list[list[float]]:
    found = re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)" fill="#FFFFFF"', svg)
    return [[float(value) for value in ring] for ring in found]


def test_a_chart_has_two_bands_a_line_and_a_ring_for_each_practice():
    """Everything that the key names is there, once for each practice seen; one without a try has none."""
    svg = chart_svg(_AXIS, _MADE.path, [*_MADE.seen, Seen(DAYS[9], 0, 0)])
    assert svg.count(palette.BAND_90) == svg.count(palette.BAND_50) == 1
    assert len(_rings(svg)) == len(_MADE.seen)
    assert svg == chart_svg(_AXIS, _MADE.path, [*_MADE.seen, Seen(DAYS[9], 0, 0)])


@pytest.mark.parametrize("done", [0, 1])
def test_the_largest_ring_is_whole(done):
    """A ring at 0 or 10, on the first or the last day, is not cut by the edge of the picture."""
    seen = [Seen(day, 60, 60 * done) for day in (DAYS[0], DAYS[-1])]
    rings = _rings(chart_svg(_AXIS, _MADE.path, seen, LOW))
    assert len(rings) == 2
    for across, down, radius in rings:
        assert radius + 0.4 <= min(across, WIDTH - across, down, LOW - down)


def test_the_scale_is_the_same_on_every_chart():
    """The lines for 0, 5 and 10 do not move with the numbers."""
    low, high = (standing("stop", [(5, done)], share=share) for done, share in ((0, 0.05), (5, 0.95)))
    frames = [
        re.findall(r'd="(M6 [\d.]+H[\d.]+)"', chart_svg(_AXIS, one.path[:2], one.seen)) for one in (low, high)
    ]
    assert len(frames[0]) == 3
    assert frames[0] == frames[1]


def test_few_rows_have_taller_charts():
    """A page with room uses it."""
    assert chart_height(1) > chart_height(6) > chart_height(14)


def test_a_chart_that_stands_alone_has_its_scale_its_months_and_its_words():
    """The words come through however they are spelt; without them no letter is in the picture."""
    root = ElementTree.fromstring(chart_svg(_AXIS, _MADE.path, _MADE.seen, told='"5 of 9" <&>'))
    words = [node.text for node in root if node.tag.endswith("text")]
    assert root.get("aria-label") == '"5 of 9" <&>'
    assert {"10 of 10", "0 of 10", "Oct", "Jan"} <= set(words)
    assert "<text" not in chart_svg(_AXIS, _MADE.path, _MADE.seen) + key_svg()
    assert page_frame.RING in key_svg("told")


@pytest.mark.parametrize(
    ("front", "back", "least"),
    [
        (palette.FILL, palette.BAND_50, 3),
        (palette.FILL, palette.BAND_90, 4.5),
        (palette.SOFT, palette.BAND_50, 3),
        (palette.BAND_50, palette.BAND_90, 1.4),
    ],
)
def test_charts_are_readable_in_grey(front, back, least):
    """Contrast by luminance alone, as a grey print has it: 3 for graphic parts (WCAG 2.2, 1.4.11).

    That the two bands differ by 1.4 is our own choice: enough to be told apart on a grey print.
    """
    assert (
        contrast(*([int(code[at : at + 2], 16) / 255 for at in (1, 3, 5)] for code in (front, back))) >= least
    )
