"""What is printed stands out from the paper."""

import pytest
from contrast import contrast

from evaltrack.paper import palette


@pytest.mark.parametrize(
    ("words", "under"),
    [
        (palette.INK, palette.WHITE),
        (palette.INK, palette.PALE),
        (palette.INK, palette.BAND_90),
        (palette.SOFT, palette.WHITE),
        (palette.SOFT, palette.PALE),
        (palette.FILL, palette.WHITE),
    ],
)
def test_words_on_paper_reach_seven_to_one(words, under):
    """WCAG 2.2, 1.4.6 asks 7:1 of text, on white paper and on the tinted boxes of a note."""
    assert contrast(_parts(words), _parts(under)) >= 7


def _parts(code: str) -> list[float]:
    return [int(code[at : at + 2], 16) / 255 for at in (1, 3, 5)]
